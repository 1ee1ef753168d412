#include "drawing/pango_ruler.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "drawing/fonts_inside.hpp"

namespace zoneproof::drawing {

namespace {

/// What every text takes of its line, in ems, whatever its letters: a "d" above the baseline, a little below, so that
/// texts side by side stand on one line.
constexpr double kAbove = 0.8, kBelow = 0.08;

double ems(int pango_units) { return pango_units / (kLayoutSize * PANGO_SCALE); }

Extent measured(const Fonts::Inside& inside, std::string_view text, Face face) {
  const Owned<PangoLayout> layout = inside.layout(text, face);
  PangoLayoutLine* line = pango_layout_get_line_readonly(layout.get(), 0);
  PangoRectangle ink, logical;
  pango_layout_line_get_extents(line, &ink, &logical);
  Extent extent;
  extent.width = ems(logical.width);
  extent.box = {0.0, -kAbove, extent.width, kBelow};
  if (ink.width > 0) {
    extent.box = united(extent.box, {ems(ink.x), ems(ink.y), ems(ink.x + ink.width), ems(ink.y + ink.height)});
  }
  extent.right_to_left = pango_layout_line_get_resolved_direction(line) == PANGO_DIRECTION_RTL;
  extent.fallback = inside.falls_back(text, face);
  extent.missing = static_cast<std::size_t>(pango_layout_get_unknown_glyphs_count(layout.get()));
  return extent;
}

/// Byte offsets after which `wanted` holds.
template <typename Wanted>
std::vector<std::size_t> offsets(std::string_view text, const Wanted& wanted) {
  const std::size_t letters = utf8_length(text);
  std::vector<PangoLogAttr> attributes(letters + 1);
  pango_get_log_attrs(text.data(), static_cast<int>(text.size()), -1, pango_language_from_string("en"),
                      attributes.data(), static_cast<int>(attributes.size()));
  std::vector<std::size_t> found;
  std::size_t at = 0;
  for (std::size_t i = 0; i <= letters; ++i) {
    if (i > 0 && (wanted(attributes[i]) || at == text.size())) found.push_back(at);
    if (at < text.size()) at += utf8_at(text, at).size;
  }
  return found;
}

}  // namespace

Extent PangoRuler::measure(std::string_view text, Face face, double size_mm) const {
  std::string key{face.role == Role::label ? 'l' : 'r', face.bold ? 'b' : 'n'};
  key += text;
  auto known = known_.find(key);
  if (known == known_.end()) known = known_.emplace(std::move(key), measured(fonts_.inside(), text, face)).first;
  Extent extent = known->second;
  extent.width *= size_mm;
  extent.box = {extent.box.left * size_mm, extent.box.top * size_mm, extent.box.right * size_mm,
                extent.box.bottom * size_mm};
  return extent;
}

std::vector<std::size_t> PangoRuler::line_ends(std::string_view text) const {
  return offsets(text, [](const PangoLogAttr& place) { return place.is_line_break != 0; });
}

std::vector<std::size_t> PangoRuler::letter_ends(std::string_view text) const {
  return offsets(text, [](const PangoLogAttr& place) { return place.is_cursor_position != 0; });
}

}  // namespace zoneproof::drawing
