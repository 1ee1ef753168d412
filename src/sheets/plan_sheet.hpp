#pragma once
#include <optional>
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "sheets/place_words.hpp"
#include "sight/zone_view.hpp"

/// The plan of a level: what the cameras do not see.
namespace zoneproof::sheets {

struct PlanOptions {
  std::string date;                       ///< as it is to be read; empty: the title block leaves it blank
  std::string camera;                     ///< the one whose frame is drawn; empty: none
  bool density = false;                   ///< with the chosen camera: numbered lines of equal pixel density
  std::optional<drawing::Format> format;  ///< paper, as it lies; nothing: chosen by the building's size
  PlaceWords called;                      ///< in what is said to be missing
};

/// The plan of a level to scale, north above: walls and what stands between them, openings with their state, detectors
/// with the numbers of their zones, detection areas as outlines, blind patches hatched and numbered with their causes
/// in a list, cameras with the way they look, protected places, privacy areas. The seen floor stays clean paper. No
/// text meets another or leaves the frame; a name that finds no room is told in the list.
///
/// `views` are the zones of the site in the order in which their patches are numbered: from 1, the same on the sheets
/// of all levels. Without a `format` paper is A4, lying, where the level fits it at 1:100 or larger and everything
/// finds its place; else A3. On a `format` that was asked for the scale is what fits; where the list beside it costs
/// scale or names, the list and the legend stand on the next sheet. Where the list is longer than its column it goes on
/// on further sheets, so there is one sheet or more; none where nothing stands on the level. Ids: "wall-ID",
/// "opening-ID", "block-ID", "stair-ID", "detector-ID", "camera-ID", "protected-ID", "privacy-ID" of the site;
/// "area-ZONE-N", "patch-N"; "row-N" in the list. Throws std::invalid_argument where the site has no such camera or
/// level. Cost: 10 to 300 ms, most of it names.
std::vector<drawing::Sheet> plan_of_level(const drawing::Ruler& ruler, const sight::Scene& scene,
                                          const std::vector<sight::ZoneView>& views, const std::string& level,
                                          const PlanOptions& options);

/// The plans of all levels that have something on them, by height of their floors, numbered through.
std::vector<drawing::Sheet> plans_of_levels(const drawing::Ruler& ruler, const sight::Scene& scene,
                                            const std::vector<sight::ZoneView>& views, const PlanOptions& options);

}  // namespace zoneproof::sheets
