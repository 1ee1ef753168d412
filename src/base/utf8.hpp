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

/// Characters that no text for people may hold: controls, line breaks, what changes the direction of reading, what is
/// no character at all. Marks without width that scripts need are not among them: has_no_width().
bool is_hidden(char32_t code_point);

/// U+200B to U+200D and U+2060: they join letters, keep them apart or let a line break (Persian, Devanagari, Khmer),
/// and take no room of their own, in whatever font.
bool has_no_width(char32_t code_point);

/// What leaves no ink: White_Space of the Unicode Character Database, has_no_width(), the blank of Braille and the
/// fillers of Hangul.
bool is_blank(char32_t code_point);
/// Whether there is nothing but them; also of an empty text.
bool only_blanks(std::string_view bytes);

/// Text that is safe on a terminal, in a table and in a drawing: is_hidden() characters are shown as <U+001B>, invalid
/// bytes as <FF>; longer than `limit` code points ends in "...". Names come from files of strangers: they must not move
/// the cursor or hide what stands beside them.
std::string printable(std::string_view bytes, std::size_t limit = 200);

/// How much of a word or number that somebody typed a message quotes: more than any that is meant has, and so little
/// that the sentence around it is still seen.
inline constexpr std::size_t kLongestQuote = 40;

}  // namespace zoneproof
