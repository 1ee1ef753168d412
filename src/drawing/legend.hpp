#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// The room of a legend's sample; what is drawn in it has its upper left corner at (0, 0).
inline constexpr double kSampleWidth_mm = 10.0, kSampleHeight_mm = 4.0;

struct LegendEntry {
  std::vector<Item> sample;
  std::string says;
};

/// Samples with what they mean, under the word "Legend", in columns that are together at most `width_mm` wide, read
/// downwards, on clean paper within a fine line. Its upper left corner is at `at`.
struct Legend {
  Group group;
  Box box;
};
Legend legend(const Ruler& ruler, const std::vector<LegendEntry>& entries, Point at, double width_mm,
              std::size_t columns = 1);

}  // namespace zoneproof::drawing
