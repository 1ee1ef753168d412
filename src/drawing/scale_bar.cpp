#include "drawing/scale_bar.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <stdexcept>

#include "base/language.hpp"
#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/drawing.hpp"

namespace zoneproof::drawing {

namespace {

constexpr int kParts = 4;
constexpr double kHeight_mm = 1.4, kGap_mm = 1.0, kPerMetre_mm = 1000.0;
constexpr Face kFace{Role::label, false};

std::string figure(int part, double part_m) {
  const std::string number = with_decimal_sign(fmt::format("{:.6g}", part * part_m));
  return part == kParts ? text(say::drawing_metres(number)) : number;
}

/// Half of what the figures reach out of the bar, and the widest of them.
struct Figures {
  double first = 0.0, last = 0.0, widest = 0.0;
};
Figures measured(const Ruler& ruler, double part_m) {
  Figures figures;
  for (int part = 0; part <= kParts; ++part) {
    const double width = ruler.measure(figure(part, part_m), kFace, kCaption_mm).box.width();
    if (part == 0) figures.first = width;
    if (part == kParts) figures.last = width;
    figures.widest = std::max(figures.widest, width);
  }
  return figures;
}

/// Metres of one part: from fine to coarse as long as it fits.
double longest_part(const Ruler& ruler, double scale, double width_mm) {
  double best = 0.0;
  for (int power = -3; power <= 4; ++power) {
    for (const double digit : {1.0, 2.0, 5.0}) {
      const double part_m = digit * std::pow(10.0, power), part_mm = part_m * kPerMetre_mm / scale;
      const Figures figures = measured(ruler, part_m);
      const bool fits = kParts * part_mm + (figures.first + figures.last) / 2 <= width_mm;
      if (fits && part_mm >= figures.widest + kGap_mm) best = part_m;
    }
  }
  return best;
}

}  // namespace

ScaleBar scale_bar(const Ruler& ruler, double scale, Point at, double width_mm) {
  if (!(scale > 0)) throw std::logic_error("a scale is above 0");
  ScaleBar bar;
  bar.group.name.id = "scale-bar";
  bar.part_m = longest_part(ruler, scale, width_mm);
  bar.box = {at.x, at.y, at.x, at.y};
  if (bar.part_m == 0.0) return bar;  // no room for any
  const double part_mm = bar.part_m * kPerMetre_mm / scale;
  const double left = at.x + measured(ruler, bar.part_m).first / 2;
  const double ascent = -ruler.measure("0", kFace, kCaption_mm).box.top;
  const double top = at.y + ascent + kGap_mm, bottom = top + kHeight_mm;
  std::vector<Subpath> dark;
  for (int part = 0; part <= kParts; ++part) {
    const double x = left + part * part_mm;
    if (part < kParts && part % 2 == 0) dark.push_back(ring(Box{x, top, x + part_mm, bottom}));
    bar.group.items.push_back({text_line(ruler, fmt::format("scale-bar-{}", part), figure(part, bar.part_m), kFace,
                                         kCaption_mm, Ink::text, {x, at.y + ascent}, Align::middle)});
    bar.box = united(bar.box, std::get<TextLine>(bar.group.items.back().what).box());
  }
  const Box outline{left, top, left + kParts * part_mm, bottom};
  bar.group.items.push_back({filled({}, std::move(dark), Ink::line)});
  bar.group.items.push_back({stroked({}, {ring(outline)}, {Ink::line, kFine_mm})});
  bar.box = united(bar.box, grown(outline, kFine_mm / 2));
  return bar;
}

}  // namespace zoneproof::drawing
