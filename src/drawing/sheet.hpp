#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// Paper, in millimetres.
struct Format {
  double width_mm = 0.0, height_mm = 0.0;
};
inline constexpr Format kA4{210.0, 297.0}, kA3{297.0, 420.0};  ///< ISO 216, upright
inline constexpr Format kLetter{215.9, 279.4};                 ///< ANSI/ASME Y14.1, size A, upright
inline Format landscape(Format upright) { return {upright.height_mm, upright.width_mm}; }

struct Margins {
  double left_mm = 20.0, top_mm = 10.0, right_mm = 10.0,
         bottom_mm = 10.0;  ///< ISO 5457: 20 mm for filing (from memory)
};

/// One page. Its title is told by screen readers, its description says in a sentence what it shows.
struct Sheet {
  Format format;
  Margins margins;
  Name name;
  std::string description;
  Group content;
  bool in_outline = true;  ///< its title is an entry of a PDF's outline; false: of a page of a longer text

  Box paper() const { return {0.0, 0.0, format.width_mm, format.height_mm}; }
  Box frame() const;  ///< inside of the margins: nothing that is drawn leaves it
};

/// What a file is made of. The writers take neither clock nor user from the machine.
struct Document {
  std::vector<Sheet> sheets;
  std::string title, subject, keywords;
  std::string created;  ///< "2026-03-01T12:00:00Z" (RFC 3339, in UTC): of the revision that is drawn; empty: not known
};

/// The line about the frame.
Shape frame_line(const Sheet& sheet);

}  // namespace zoneproof::drawing
