#pragma once
#include <optional>
#include <string>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// What identifies a sheet on its own (fields after ISO 7200:2004, from memory).
struct TitleBlock {
  std::string name;             ///< of what is drawn
  std::string drawing;          ///< what the sheet shows of it
  std::string revision;         ///< running number
  std::string hash;             ///< of the revision, all of it: a sheet in the hand can be held against the file
  std::string date;             ///< as it is to be read
  std::optional<double> scale;  ///< 50 for 1:50; none for what has no scale
  int number = 1, count = 1;    ///< sheet n of m
};

/// The title block in the lower right corner of a frame, at most 180 mm wide (ISO 7200) and as high as its texts need:
/// what is long takes more lines, nothing is cut.
struct TitleBlockDrawn {
  Group group;
  Box box;  ///< what it takes
};
TitleBlockDrawn title_block(const Ruler& ruler, const TitleBlock& block, const Box& frame);

}  // namespace zoneproof::drawing
