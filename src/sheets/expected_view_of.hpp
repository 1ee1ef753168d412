#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sheets/expected_view_sheet.hpp"
#include "sight/picture.hpp"
#include "sight/zone_view.hpp"

namespace zoneproof::sheets {

/// All that the sheet of one camera is drawn from; the title's name, revision, hash and date are the caller's.
struct ViewOfCamera {
  sight::CameraModel camera;
  sight::ExpectedView view;
  ExpectedViewWords words;
};

/// What a camera of a site should show: the building, the detection areas of the zones among `zones` that it is to
/// witness, their blind patches with the numbers that all sheets give them (plan_numbers.hpp), and persons of the
/// height that the rule asks for: at the worst place that is shown, where that is this camera's (moved to where a body
/// finds room), and amid the area of each zone. Things with a name are named. Nothing where the camera's model is not
/// known; `scene.cameras()` tells why. The camera is one of the site.
/// `of_zone`: of this zone alone; empty: of all.
std::optional<ViewOfCamera> expected_view_of(const sight::Scene& scene, const std::vector<sight::ZoneView>& zones,
                                             const std::string& camera, const std::string& of_zone = {});

}  // namespace zoneproof::sheets
