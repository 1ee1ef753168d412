#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

/// UTF-8 as RFC 3629 defines it: no overlong forms, no surrogates, nothing above U+10FFFF.
namespace zoneproof {

/// One step of a walk through UTF-8 text.
struct Utf8Step {
  char32_t code_point = 0;  ///< meaningful only where `valid`
  std::size_t size = 0;     ///< bytes to step over: the sequence's length, or 1 at an invalid byte
  bool valid = false;
};

/// The code point that starts at `offset` (which must be inside `bytes`).
Utf8Step utf8_at(std::string_view bytes, std::size_t offset);

/// Offset of the first byte at or after `from` that is no part of valid UTF-8; npos where all is valid. Linear.
std::size_t first_invalid_utf8(std::string_view bytes, std::size_t from = 0);

/// Number of code points, an invalid byte counting as one: the width that a column of a table needs for text
/// without combining or double-width characters.
std::size_t utf8_length(std::string_view bytes);

/// Text that is safe on a terminal and in a table: control characters, line breaks and characters that reverse the
/// reading direction are shown as <U+001B>, invalid bytes as <FF>; longer than `limit` code points ends in "...".
/// Names come from files of strangers: they must not move the cursor or hide what stands beside them.
std::string printable(std::string_view bytes, std::size_t limit = 200);

}  // namespace zoneproof
