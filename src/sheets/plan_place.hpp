#pragma once
#include <optional>
#include <string>
#include <vector>

#include "drawing/shapes.hpp"
#include "drawing/sheet.hpp"
#include "plane/point.hpp"
#include "sight/zone_view.hpp"

/// Where places of a level lie on paper, and which paper holds them.
namespace zoneproof::sheets {

/// North is above. Metres of the site to millimetres of the sheet and back to none.
struct PlanPlace {
  double scale = 100.0;   ///< 100 for 1:100
  plane::Box extent;      ///< what is drawn, metres
  drawing::Point corner;  ///< of its lower left corner on the sheet

  double mm(double metres) const;
  drawing::Point at(plane::Point place) const;
  drawing::Points at(const std::vector<plane::Point>& places) const;
  std::vector<drawing::Subpath> rings(const sight::Outlines& outlines) const;
};

/// Everything that stands, looks, is detected or is asked for on a level; nothing where it holds none of it. Places
/// that are not known are left out.
std::optional<plane::Box> extent_of_level(const sight::Scene& scene, const std::vector<sight::ZoneView>& views,
                                          const std::string& level);

/// The largest of the scales 1:20, 1:25, 1:50, 1:75, 1:100, 1:125, 1:200 and so on at which an extent fits a room.
/// (Those with 1, 2 and 5 after ISO 5455; 1:25, 1:75, 1:125 and their powers are on scale rulers: common practice, no
/// source.)
double scale_that_fits(const plane::Box& extent, double width_mm, double height_mm);

}  // namespace zoneproof::sheets
