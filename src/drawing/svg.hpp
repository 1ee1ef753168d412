#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "drawing/sheet.hpp"

namespace zoneproof::drawing {

/// One sheet as SVG 1.1: text is text, ids are kept, units of the picture are millimetres, colours are classes named
/// after inks (`fill-proven`, `line-proven`), so that a page can give them others. Each text is as wide as it was
/// measured also where a reader has other fonts (`textLength`). A link to an id that stands on another sheet is left
/// out: the file has one sheet.
struct SvgOptions {
  Palette palette = Palette::light;
  /// Colours by the reader's own wish: `palette` on screen, dark where the reader prefers it, black and white on paper.
  bool follow_reader = false;
  /// Before every id and class, for a page with several drawings: letters, digits, '-', beginning with a letter, or
  /// empty.
  std::string prefix = {};
};

/// Throws std::invalid_argument where the document is not sound (`faults`), std::out_of_range for a sheet it has not.
/// The same bytes for the same list. Linear.
std::string svg(const Document& document, std::size_t sheet, const SvgOptions& options);
/// Each sheet of the document, which is looked through once.
std::vector<std::string> svgs(const Document& document, const SvgOptions& options);

}  // namespace zoneproof::drawing
