#include "paper/text_strips.hpp"

namespace zoneproof::paper {

std::vector<Strip> text_strips(const drawing::Ruler& ruler, const std::string& says, const TextLook& look,
                               double left_mm, double right_mm) {
  std::vector<Strip> strips;
  const SetText text = set_text(ruler, says, look.face, look.size_mm, right_mm - left_mm);
  const std::size_t count = text.lines.size();
  for (std::size_t i = 0; i < count; ++i) {
    const SetText line = part_of(text, i, 1);
    Strip strip;
    strip.height_mm = line.height_mm;
    add_text(strip.group, line, {left_mm, right_mm, 0.0}, look.ink, look.link);
    const bool first = i == 0, before_last = i + 2 == count;
    strip.stays_with_next = count > 1 && (first || before_last);
    strips.push_back(std::move(strip));
  }
  return strips;
}

}  // namespace zoneproof::paper
