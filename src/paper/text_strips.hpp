#pragma once
#include <string>
#include <vector>

#include "paper/set_text.hpp"
#include "paper/strip.hpp"

namespace zoneproof::paper {

inline constexpr drawing::Face kPlain{drawing::Role::reading, false}, kBold{drawing::Role::reading, true};

struct TextLook {
  drawing::Face face;
  double size_mm = 0.0;
  drawing::Ink ink = drawing::Ink::text;
  std::string link = {};
};

/// A text as strips, one a line, so that it may go on on the next page. Neither its first nor its last line stands
/// alone on a page. Nothing where there are no words.
std::vector<Strip> text_strips(const drawing::Ruler& ruler, const std::string& says, const TextLook& look,
                               double left_mm, double right_mm);

}  // namespace zoneproof::paper
