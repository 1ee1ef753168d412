#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "drawing/list.hpp"

namespace zoneproof::paper {

/// A line with its baseline, counted from the top of its text: a multiple of the grid.
struct SetLine {
  std::string says;
  double baseline_mm = 0.0;
  drawing::Extent extent;
};

/// Text broken into lines on the grid.
struct SetText {
  std::vector<SetLine> lines;
  drawing::Face face;
  double size_mm = 0.0;
  double height_mm = 0.0;  ///< a multiple of the grid; no ink leaves it
};

/// Lines of at most `width_mm`, whatever the text: a letter that is wider alone makes all of it smaller. Lines stand as
/// far apart as their size asks for, and farther where marks above and below would meet.
SetText set_text(const drawing::Ruler& ruler, std::string_view text, drawing::Face face, double size_mm,
                 double width_mm);

/// Some of its lines, as a text of their own.
SetText part_of(const SetText& text, std::size_t first, std::size_t count);

/// What a text asks for: `least` for its longest word, `natural` for one line.
struct TextWidths {
  double least_mm = 0.0, natural_mm = 0.0;
};
TextWidths widths_of(const drawing::Ruler& ruler, std::string_view text, drawing::Face face, double size_mm);

/// Where a text goes: between two edges, from `top_mm` on.
struct TextPlace {
  double left_mm = 0.0, right_mm = 0.0, top_mm = 0.0;
  drawing::Align align = drawing::Align::left;  ///< left: where its writing begins
};

/// Adds its lines to a group. No line's ink leaves the edges where the text was set for them.
void add_text(drawing::Group& group, const SetText& text, const TextPlace& place, drawing::Ink ink,
              const std::string& link = {});

}  // namespace zoneproof::paper
