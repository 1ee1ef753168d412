#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// How much room text takes on a terminal, in cells.
namespace zoneproof::cli {

/// Cells that a code point takes: 2 for East Asian wide and fullwidth characters (Unicode Standard Annex #11), 0 for
/// combining marks and format characters, else 1.
std::size_t cells(char32_t code_point);

/// Cells of a text; an invalid byte counts as one. Linear.
std::size_t text_width(std::string_view text);

/// `text` in exactly at most `width` cells: cut with an ellipsis where it is longer.
std::string shortened(std::string_view text, std::size_t width);

/// Lines of at most `width` cells, broken at blanks; a word that is longer is broken inside.
std::vector<std::string> wrapped(std::string_view text, std::size_t width);

}  // namespace zoneproof::cli
