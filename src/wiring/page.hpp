#pragma once
#include <set>
#include <string>
#include <vector>

#include "drawing/sheet.hpp"
#include "schematic/layout.hpp"
#include "wiring/board.hpp"

namespace zoneproof::wiring {

/// A sheet before its number is known.
struct Page {
  std::string id;  ///< "wiring-supplies-1"
  std::string title, heading, description;
  drawing::Format format;
  drawing::Group content;  ///< from its upper left corner
  double width_mm = 0.0, height_mm = 0.0;
  std::vector<std::string> key;  ///< what its symbols mean
  std::set<std::string> things;  ///< drawn on it, as SheetBook names them
};

/// Papers to try: the one asked for, else A4 lying, then, lying, each twice as large as the one before: the larger ones
/// of ISO 216 or, for Letter, of ANSI/ASME Y14.1.
std::vector<drawing::Format> papers(const Options& options);

/// What a sheet has for its drawing: width, height.
struct Room {
  double width_mm = 0.0, height_mm = 0.0;
};
Room room_on(const Context& context, drawing::Format format, const std::string& title,
             const std::vector<std::string>& key);

/// With title block, key, frame; the drawing at the top, in the middle from left to right.
drawing::Sheet composed(const Context& context, const Page& page, int number, int count);

/// A layout as wide as `room_mm` allows without becoming loose; a tight one where it is wider than that.
schematic::Layout spread(const schematic::Diagram& diagram, schematic::LayoutOptions options, double room_mm);

/// Strips of these heights on as few pages as hold them, as evenly as can be, in order: the index behind the last one
/// of each page. Empty where one alone is higher than a page. Exact (dynamic programming), quadratic.
std::vector<std::size_t> shared_out(const std::vector<double>& heights, double gap, double room);

}  // namespace zoneproof::wiring
