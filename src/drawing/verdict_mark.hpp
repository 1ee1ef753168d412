#pragma once
#include <string>
#include <string_view>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

enum class VerdictMark { proven, thin, broken, unanswered };

Ink ink_of(VerdictMark mark);

/// Two long links of a chain and the word, which is never left out: closed into each other (proven), the second no more
/// than a hairline (thin), apart (broken), the second dotted (unanswered). The shape tells without colour. `at` is the
/// left end of the links, on the baseline of the word; `size_mm` is the em of the word. What a screen reader says is
/// the word.
struct VerdictMarkDrawn {
  Group group;
  Box box;
};
VerdictMarkDrawn verdict_mark(const Ruler& ruler, const std::string& id, VerdictMark mark, std::string_view word,
                              Point at, double size_mm);

}  // namespace zoneproof::drawing
