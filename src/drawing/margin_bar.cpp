#include "drawing/margin_bar.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kLow = -1.0, kHigh = 2.0;  ///< of the track, in margins asked for
constexpr double kHalf_mm = 0.8;            ///< of the bar's height
constexpr double kLimit_mm = 1.7;           ///< of the stroke at the limit, to either side
constexpr double kMark_mm = 0.6;            ///< of the mark at the margin asked for, outside of the bar
constexpr double kBesideFigure_mm = 1.6;

/// The bar itself, with a pointed end where it goes on beyond the track.
Subpath bar_to(double zero, double end, double y, bool beyond) {
  if (!beyond) return ring(Box{std::min(zero, end), y - kHalf_mm, std::max(zero, end), y + kHalf_mm});
  const double shoulder = end + (end > zero ? -kHalf_mm : kHalf_mm);
  return ring(
      Points{{zero, y - kHalf_mm}, {shoulder, y - kHalf_mm}, {end, y}, {shoulder, y + kHalf_mm}, {zero, y + kHalf_mm}});
}

}  // namespace

MarginBarDrawn margin_bar(const Ruler& ruler, const std::string& id, const MarginBar& bar, Point at, double width_mm) {
  const auto x_of = [&](double ratio) { return at.x + (ratio - kLow) / (kHigh - kLow) * width_mm; };
  const double zero = x_of(0.0), wanted = x_of(1.0);
  const bool known = bar.ratio && !std::isnan(*bar.ratio);
  MarginBarDrawn drawn;
  drawn.group.name = {id, bar.figure, {}};
  Stroke track{Ink::quiet, kFine_mm, {}, Cap::butt, Join::miter};
  if (!known) track = {Ink::quiet, kMedium_mm, {0.0, 1.1}, Cap::round, Join::round};
  drawn.group.items.push_back({stroked({}, {line_through({{at.x, at.y}, {at.x + width_mm, at.y}})}, track)});
  if (known) {
    const double shown = std::clamp(*bar.ratio, kLow, kHigh);
    drawn.group.items.push_back({filled({}, {bar_to(zero, x_of(shown), at.y, shown != *bar.ratio)}, bar.ink)});
  }
  const Subpath above = line_through({{wanted, at.y - kLimit_mm}, {wanted, at.y - kLimit_mm + kMark_mm}});
  const Subpath below = line_through({{wanted, at.y + kLimit_mm - kMark_mm}, {wanted, at.y + kLimit_mm}});
  drawn.group.items.push_back({stroked({}, {above, below}, {Ink::line, kThin_mm})});
  const Subpath limit = line_through({{zero, at.y - kLimit_mm}, {zero, at.y + kLimit_mm}});
  drawn.group.items.push_back({stroked({}, {limit}, {Ink::line, kMedium_mm})});
  TextLine figure = text_line(ruler, id.empty() ? id : id + "-figure", bar.figure, {Role::label, false}, kLabel_mm,
                              Ink::text, {at.x + width_mm + kBesideFigure_mm, at.y + 0.36 * kLabel_mm});
  drawn.box = united({at.x, at.y - kLimit_mm, at.x + width_mm, at.y + kLimit_mm}, figure.box());
  drawn.group.items.push_back({std::move(figure)});
  return drawn;
}

}  // namespace zoneproof::drawing
