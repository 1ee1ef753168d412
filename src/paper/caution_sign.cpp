#include "paper/caution_sign.hpp"

#include <cmath>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::paper {

double caution_sign_height(double side_mm) { return side_mm * std::sqrt(3.0) / 2; }

drawing::Group caution_sign(drawing::Point upper_left, double side_mm) {
  const double height = caution_sign_height(side_mm);
  const double left = upper_left.x, middle = left + side_mm / 2, bottom = upper_left.y + height;
  drawing::Group group;
  group.items.push_back({drawing::stroked(
      {}, {drawing::ring(drawing::Points{{middle, upper_left.y}, {left + side_mm, bottom}, {left, bottom}})},
      {drawing::Ink::text, drawing::kThick_mm, {}, drawing::Cap::round, drawing::Join::round})});
  const double width = 0.36 * side_mm, thickness = 0.16 * side_mm, centre = upper_left.y + 0.68 * height;
  group.items.push_back({drawing::stroked(
      {}, {drawing::slot({middle - width / 2, centre - thickness / 2, middle + width / 2, centre + thickness / 2})},
      {drawing::Ink::text, drawing::kThick_mm})});
  return group;
}

}  // namespace zoneproof::paper
