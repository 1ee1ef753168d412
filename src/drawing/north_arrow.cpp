#include "drawing/north_arrow.hpp"

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/drawing.hpp"

namespace zoneproof::drawing {

Group north_arrow(const Ruler& ruler, Point centre, double radius_mm, double north_deg) {
  const double up = north_deg - 90.0;  // as at_angle counts
  constexpr double to_heel = 142.0;    // from the tip to either heel of the arrow
  const Point tip = at_angle(centre, radius_mm, up), notch = at_angle(centre, radius_mm * 0.35, up + 180.0);
  const Point west = at_angle(centre, radius_mm, up - to_heel), east = at_angle(centre, radius_mm, up + to_heel);
  Group group;
  group.name.id = "north-arrow";
  group.items.push_back({stroked({}, {circle(centre, radius_mm)}, {Ink::line, kFine_mm})});
  group.items.push_back({filled({}, {ring(Points{tip, west, notch})}, Ink::line)});
  group.items.push_back(
      {stroked({}, {ring(Points{tip, west, notch, east})}, {Ink::line, kFine_mm, {}, Cap::butt, Join::round})});
  const double size = radius_mm * 0.55;
  TextLine letter = text_line(ruler, "north-letter", text(say::drawing_north()), {Role::label, true}, size, Ink::text,
                              {}, Align::middle);
  const Box box = letter.extent.box;
  const Point middle = at_angle(centre, radius_mm * 1.33, up);
  letter.at = {middle.x, middle.y - (box.top + box.bottom) / 2};
  group.items.push_back({std::move(letter)});
  return group;
}

}  // namespace zoneproof::drawing
