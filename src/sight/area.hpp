#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sight/building.hpp"
#include "sight/obstacles.hpp"
#include "sight/pattern.hpp"
#include "sight/vector3.hpp"

/// Where somebody may stand who makes a zone alarm: the zone's detection area, before the building cuts it.
///
/// - A fan, curtain or disc: its pattern, cut by what stops its technology.
/// - A beam: a strip of a body's width along its line.
/// - A contact, a shock detector: the approach to its opening, on one side or the other: who comes through passes both,
///   so a picture of either shows the cause. A glass-break detector: the same for each of its panes.
/// - A floor mat, an outline that somebody drew, the region of a camera's analytics: as drawn.
namespace zoneproof::sight {

/// A part of a zone's area with what it comes from.
struct AreaSource {
  std::string id;       ///< of the detector, or of the trigger (analytics)
  std::string pointer;  ///< where it stands in the file
  std::string level;
  Outlines outlines;
  std::optional<Looking> looks;    ///< what must have a free line to a place; nothing: all of the outlines counts
  std::string opening;             ///< one of two approaches to it
  int side = 0;                    ///< which: 1 left of the wall's direction, 2 right
  std::vector<std::string> opens;  ///< openings that stand open (or broken) when it alarms
};

struct ZoneArea {
  std::vector<AreaSource> sources;
  std::vector<chain::Gap> gaps;  ///< what would have to be known; an area with gaps is not whole
};

/// Sizes of people, from the rulebook; absent entries are gaps of what uses them.
struct People {
  std::optional<double> tall_m;                      ///< person_m
  std::optional<double> sensed_from_m, sensed_to_m;  ///< sense_from_m, sense_to_m
  std::optional<double> approach_m;                  ///< approach_m: how far before an opening
  std::optional<double> body_m;                      ///< body_width_m
  std::vector<chain::Gap> gaps;
};
People people_of(const site::Site& site);

ZoneArea area_of_zone(const site::Site& site, const Building& building, const People& people, const std::string& zone,
                      Extent extent);

/// The approaches to an opening: two sources, one a side; empty with a gap where it is not known where it is.
std::vector<AreaSource> approaches(const site::Site& site, const Building& building, const People& people,
                                   const std::string& opening, std::vector<chain::Gap>& gaps);

/// Whether a glass-break detector hears a pane for sure: within the range that its sheet guarantees, to the farther end
/// of the pane, and with a clear line to the middle of it, so in the same room. `gaps`: what is not known of it, which
/// is no yes, and what is only assumed or has a range, which proves nothing.
bool hears(const site::Site& site, const Building& building, const std::string& detector, const std::string& pane,
           std::vector<chain::Gap>& gaps);

/// Both ends of an opening on the plan.
std::optional<std::pair<plane::Point, plane::Point>> ends_of_opening(const site::Site& site,
                                                                     const std::string& opening);

}  // namespace zoneproof::sight
