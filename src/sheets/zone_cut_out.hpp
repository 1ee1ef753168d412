#pragma once
#include <optional>
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "sight/zone_view.hpp"

namespace zoneproof::sheets {

/// A piece of a plan as a figure.
struct CutOut {
  drawing::Group group;
  drawing::Box box;  ///< what it takes of the room, at its top and left
  std::string level;
  double scale = 0.0;                ///< 50 for 1:50
  std::vector<std::string> nowhere;  ///< names without a place, as they would stand
  std::vector<std::string> unknown;  ///< pointers of what could not be drawn
};

/// The plan about one zone, as large as it gets in `room`: its detection area, its blind patches with the numbers that
/// they have on all sheets, its detectors and the cameras that witness it, the building close about them; scale and
/// north below. What is another zone's is left out, and so are the names of all that no cause of a blind patch names.
/// On the level where most of its area lies; without an area, where its detectors hang. Nothing where neither is known.
/// `views`: of all zones. Ids begin with `id`, as those of the plan itself would stand twice in a document. Cost: 10 to
/// 100 ms.
std::optional<CutOut> zone_cut_out(const drawing::Ruler& ruler, const sight::Scene& scene,
                                   const std::vector<sight::ZoneView>& views, const std::string& zone,
                                   const std::string& id, const drawing::Box& room);

}  // namespace zoneproof::sheets
