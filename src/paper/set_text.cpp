#include "paper/set_text.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "drawing/text_block.hpp"
#include "paper/grid.hpp"

namespace zoneproof::paper {

namespace {

constexpr double kLineStep = 1.35;  ///< as drawing::broken sets lines
constexpr double kSlack_mm = 1e-4;  ///< so that what asks for a width fits into it, whatever is added and taken off
constexpr double kBelow = 0.25;     ///< what stands below a baseline, in sizes: room is kept even where nothing does

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(' ');
  if (begin == std::string_view::npos) return {};
  return text.substr(begin, text.find_last_not_of(' ') - begin + 1);
}

std::string shown(std::string_view text) {
  const std::string_view inner = trimmed(text);
  return printable(inner, inner.size());
}

void settle(SetText& text) {
  const double step = on_grid(kLineStep * text.size_mm);
  double baseline = 0.0;
  for (std::size_t i = 0; i < text.lines.size(); ++i) {
    SetLine& line = text.lines[i];
    const double above = -line.extent.box.top;
    if (i == 0) {
      baseline = std::max(on_grid(text.size_mm), beyond_ink(above));
    } else {
      const double ink = text.lines[i - 1].extent.box.bottom + above;
      baseline += std::max(step, beyond_ink(ink));
    }
    line.baseline_mm = baseline;
  }
  if (text.lines.empty()) return;
  const double below = text.lines.back().extent.box.bottom;
  text.height_mm = std::max(on_grid(baseline + kBelow * text.size_mm), baseline + beyond_ink(below));
}

std::vector<std::string> broken_lines(const drawing::Ruler& ruler, const std::string& text, drawing::Face face,
                                      double size_mm, double width_mm) {
  if (ruler.measure(text, face, size_mm).box.width() <= width_mm) return {text};
  return drawing::broken(ruler, text, face, size_mm, width_mm).lines;
}

}  // namespace

SetText set_text(const drawing::Ruler& ruler, std::string_view text, drawing::Face face, double size_mm,
                 double width_mm) {
  SetText made{{}, face, size_mm, 0.0};
  const std::string says = shown(text);
  if (says.empty()) return made;
  constexpr int attempts = 8;  // a new size breaks lines elsewhere; each attempt is smaller
  for (int attempt = 0; attempt < attempts; ++attempt) {
    made.lines.clear();
    double widest = 0.0;
    for (std::string& line : broken_lines(ruler, says, face, made.size_mm, width_mm)) {
      const drawing::Extent extent = ruler.measure(line, face, made.size_mm);
      widest = std::max(widest, extent.box.width());
      made.lines.push_back({std::move(line), 0.0, extent});
    }
    if (widest <= width_mm) break;
    made.size_mm *= 0.999 * width_mm / widest;
  }
  settle(made);
  return made;
}

SetText part_of(const SetText& text, std::size_t first, std::size_t count) {
  SetText part{{}, text.face, text.size_mm, 0.0};
  const auto begin = text.lines.begin() + static_cast<std::ptrdiff_t>(std::min(first, text.lines.size()));
  const auto left = static_cast<std::size_t>(text.lines.end() - begin);
  part.lines.assign(begin, begin + static_cast<std::ptrdiff_t>(std::min(count, left)));
  settle(part);
  return part;
}

TextWidths widths_of(const drawing::Ruler& ruler, std::string_view text, drawing::Face face, double size_mm) {
  TextWidths widths;
  const std::string says = shown(text);
  if (says.empty()) return widths;
  widths.natural_mm = ruler.measure(says, face, size_mm).box.width() + kSlack_mm;
  std::size_t begin = 0;
  for (const std::size_t end : ruler.line_ends(says)) {
    const std::string_view word = trimmed(std::string_view(says).substr(begin, end - begin));
    if (!word.empty())
      widths.least_mm = std::max(widths.least_mm, ruler.measure(word, face, size_mm).box.width() + kSlack_mm);
    begin = end;
  }
  return widths;
}

void add_text(drawing::Group& group, const SetText& text, const TextPlace& place, drawing::Ink ink,
              const std::string& link) {
  for (const SetLine& line : text.lines) {
    const drawing::Box& box = line.extent.box;
    drawing::Align align = place.align;
    if (align == drawing::Align::left && line.extent.right_to_left) align = drawing::Align::right;
    double x = place.left_mm;
    if (align == drawing::Align::right) x = place.right_mm - line.extent.width;
    if (align == drawing::Align::middle) x = (place.left_mm + place.right_mm - line.extent.width) / 2;
    // Ink may reach beyond the ends of a line, as in italics and marks: it stays between the edges all the same.
    x = std::max(std::min(x, place.right_mm - box.right - kRounding_mm), place.left_mm - box.left + kRounding_mm);
    group.items.push_back({drawing::TextLine{{{}, {}, link},
                                             line.says,
                                             text.face,
                                             text.size_mm,
                                             ink,
                                             {x, place.top_mm + line.baseline_mm},
                                             drawing::Align::left,
                                             line.extent}});
  }
}

}  // namespace zoneproof::paper
