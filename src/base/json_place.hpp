#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"

/// From offsets and JSON pointers to lines and columns, computed from the raw text when something is to be reported.
namespace zoneproof {

/// Line and column count from 1; the column counts code points, as editors do.
struct TextPosition {
  int line = 1;
  int column = 1;
};

/// Converts offsets to positions in one walk through the text: each offset must not be smaller than the one before.
class TextWalk {
 public:
  explicit TextWalk(std::string_view text) : text_(text) {}
  TextPosition to(std::size_t offset);

 private:
  std::string_view text_;
  std::size_t offset_ = 0;
  TextPosition position_;
};

/// Where a pointer's value stands in a text. A pointer to nothing gives its nearest existing ancestor (a message about
/// a missing key points to the object that lacks it).
struct JsonLocation {
  TextPosition key;  ///< the member's name; equals `value` for list items and for the whole document
  TextPosition value;
  std::size_t value_offset = 0;
  bool found = false;  ///< false where an ancestor stands in
};

/// The locations of many pointers (in the order given, any order, repeats allowed), found in one walk over `text`,
/// which must be valid JSON; in other text the answer is the nearest ancestor that could be read.
/// Cost: linear in the text, whatever the number of pointers; parts that no pointer names are skipped, not decoded.
std::vector<JsonLocation> locate(std::string_view text, const std::vector<std::string>& pointers);

/// Fills in line and column of every message from its pointer; those that have a line keep it. An argument "typed" of a
/// message becomes the number that stands there, as it was typed: what was read of it may have been rounded.
/// `text` is the file the messages point into.
void place_in_text(std::vector<Message>& messages, std::string_view text);

}  // namespace zoneproof
