#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// Text broken into lines of one width.
struct TextBlock {
  std::vector<std::string> lines;
  Face face;
  double size_mm = 0.0;
  double width_mm = 0.0;   ///< of the widest line's box
  double ascent_mm = 0.0;  ///< of the first line's box above its baseline
  double height_mm = 0.0;  ///< from the top of the first line's box to the bottom of the last one's
  double step_mm = 0.0;    ///< from baseline to baseline
};

/// The fewest lines of at most `width_mm` (above 0), and among those breakings the one whose lines are least uneven:
/// the sum of the squares of the room left over, without the last line's (Knuth and Plass, "Breaking paragraphs into
/// lines", Software: Practice and Experience 11 (1981), with rigid blanks). Lines end where Unicode Annex 14 allows it,
/// but never between a figure and its unit. A word that is wider than a line is cut between letters; nothing is left
/// out. Cost: quadratic in the number of words of a line.
TextBlock broken(const Ruler& ruler, std::string_view text, Face face, double size_mm, double width_mm);

/// The lines of a block as items, the top of the block at `top`, aligned about its x. Ids are `id`-1, `id`-2 and so on.
Group set(const Ruler& ruler, std::string id, const TextBlock& block, Ink ink, Point top, Align align = Align::left);

}  // namespace zoneproof::drawing
