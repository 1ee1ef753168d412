#pragma once
#include <string>
#include <unordered_map>

#include "drawing/fonts.hpp"
#include "drawing/ruler.hpp"

namespace zoneproof::drawing {

/// Measures with Pango 1.50 and the fonts of the program. Remembers what it measured; about 20 us for a new text. One
/// instance per thread; `fonts` must live longer.
class PangoRuler : public Ruler {
 public:
  explicit PangoRuler(const Fonts& fonts) : fonts_(fonts) {}
  Extent measure(std::string_view text, Face face, double size_mm) const override;
  std::vector<std::size_t> line_ends(std::string_view text) const override;
  std::vector<std::size_t> letter_ends(std::string_view text) const override;

 private:
  const Fonts& fonts_;
  mutable std::unordered_map<std::string, Extent> known_;  ///< for an em of 1 mm
};

}  // namespace zoneproof::drawing
