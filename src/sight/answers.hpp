#pragma once
#include <functional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "chain/evidence.hpp"
#include "sight/zone_view.hpp"
#include "site/model.hpp"

namespace zoneproof::sight {

/// Everything that can be said of what detectors and cameras see, as evidence:
///
/// - "witnessed" (view, of a zone): share of its largest plausible detection area that the cameras of its channels
/// show;
/// - "coverage" (sense, of a zone; its condition is the protected place): share of what the zone is there for that its
///   detectors reach for sure;
/// - "mount_height" (sense, of a detector): whether its pattern is given for its height;
/// - "privacy" (view, of a camera; its condition is the privacy area): whether it films it.
///
/// `zone` restricts the first two (empty: all). `progress` as in electric/answers.hpp. The same for any number of
/// threads. `kept`: views of variants of this site; may be null. Cost: sight/zone_view.hpp for each zone.
std::vector<chain::Evidence> sight_answers(const site::Site& site, const std::string& zone = "",
                                           const std::function<void(std::size_t, std::size_t)>& progress = {},
                                           KeptViews* kept = nullptr);

/// A share of an area as sentences and sheets tell it: "90 %"; "99.9 %" where anything at all is missing.
Measure percent(double value);

/// The evidence "witnessed" of one view.
chain::Evidence witnessed(const Scene& scene, const ZoneView& view);
/// The evidence "coverage" of a zone: one for each protected place.
std::vector<chain::Evidence> sensed(const Scene& scene, const std::string& zone);

/// How much of a privacy area a camera shows: places of which some height of a person, looked at from foot to head in
/// steps of a decimetre, is in its picture, unmasked and not hidden, at any size. 0 where the camera's model is not
/// known.
double filmed_m2(const Scene& scene, const Watching& watching, const site::PrivacyArea& area);

/// How much of it may be filmed all the same: a small patch (view_patch_m2) beside the rest of it, nothing of an area
/// that is no larger than one.
double filmed_limit_m2(const Scene& scene, const site::PrivacyArea& area);

}  // namespace zoneproof::sight
