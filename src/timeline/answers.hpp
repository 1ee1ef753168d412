#pragma once
#include <functional>
#include <string>
#include <vector>

#include "carriage/site_storm.hpp"
#include "chain/evidence.hpp"
#include "sight/kept_views.hpp"
#include "timeline/alarm_log.hpp"

namespace zoneproof::timeline {

/// How long the network takes for the clip of a trigger on a channel, every zone in alarm.
using Carrying = std::function<Carried(const std::string& trigger, const std::string& channel)>;

/// The logs of all clips of a zone: of each trigger and each channel that is kept. What is missing for knowing these is
/// a gap.
std::vector<AlarmLog> logs_of_zone(const site::Site& site, const std::string& zone, const Crossing& crossing,
                                   const Carrying& carrying, std::vector<chain::Gap>& gaps);

/// What `bounds` say of each clip; of one that is not among them nothing is known.
Carrying carrying_of(std::vector<carriage::ClipBound> bounds);

/// As timeline_answers, of a zone whose view is known.
std::vector<chain::Evidence> evidence_of_zone(const site::Site& site, const sight::ZoneView& view,
                                              const Carrying& carrying);

/// What the moments of its alarms say of every zone with a chain, or of one (its id):
///
/// - "cause_in_clip" (view): how long somebody who crosses the detection area, as fast and as slowly as the rulebook
///   asks, is in the clip for sure; the channel for which that is least;
/// - "first_picture" (deliver): longest time from the contact's alarm to the first picture on the operator's screen;
/// - "clip_complete" (deliver): longest time from there until the whole clip is at the station.
///
/// Cost: that of the views (sight/zone_view.hpp).
std::vector<chain::Evidence> timeline_answers(const site::Site& site, const std::string& zone, const Carrying& carrying,
                                              sight::KeptViews* kept = nullptr);

}  // namespace zoneproof::timeline
