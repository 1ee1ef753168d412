#pragma once
#include <cstddef>
#include <string_view>
#include <vector>

#include "drawing/geometry.hpp"

namespace zoneproof::drawing {

/// B612 for figures, labels and anything one looks up; Noto Sans for what is read.
enum class Role { label, reading };

struct Face {
  Role role = Role::reading;
  bool bold = false;
  bool operator==(const Face&) const = default;
};

/// What one line of text takes, in millimetres, from the left end of its baseline.
struct Extent {
  double width = 0.0;  ///< to where a following letter would stand
  Box box;             ///< all ink, and at least the height of a "d": what must not meet another text. top < 0 < bottom
  bool right_to_left = false;  ///< the direction of its first letter that has one (Unicode Annex 9, rules P2 and P3)
  bool fallback = false;       ///< a label with letters that B612 lacks: all of it is set in Noto Sans
  std::size_t missing = 0;     ///< letters that no font of ours has: they show as boxes
};

/// Measures text. Widths are proportional to the size: nothing is hinted or rounded to pixels.
class Ruler {
 public:
  virtual ~Ruler() = default;

  /// `text` is one line of printable UTF-8; `size_mm` is the size of the font's em square, above 0.
  virtual Extent measure(std::string_view text, Face face, double size_mm) const = 0;

  /// Byte offsets, ascending, at which a line may end (Unicode Annex 14), the end of the text included.
  virtual std::vector<std::size_t> line_ends(std::string_view text) const = 0;

  /// Byte offsets, ascending, at which a word that is too long may be cut: between two of what a reader calls letters.
  virtual std::vector<std::size_t> letter_ends(std::string_view text) const = 0;
};

}  // namespace zoneproof::drawing
