#pragma once
#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"

/// JSON text (RFC 8259) to values and back. Nothing is repaired and nothing is lost in silence: a text that a strict
/// reader would refuse, or that two readers could understand differently, is refused with the place of every fault.
namespace zoneproof {

/// The longest text that is read, in bytes. A site of a thousand zones is about 2 MB; a value takes some ten times its
/// text in memory, so this bound keeps a hostile file below 1 GB and still leaves thirty such sites of room.
inline constexpr std::size_t kLargestJsonText = std::size_t{64} << 20U;

/// The deepest nesting of objects and lists. The formats of this project need less than 12; the bound keeps every
/// recursive walk over a value within a small stack, in the browser too.
inline constexpr std::size_t kDeepestJson = 64;

/// So many faults of one text are listed; one more message says how many were left out.
inline constexpr std::size_t kMostJsonFaults = 1000;

/// The value of `text`, keys in the order of the text; `file` is only used in the messages' places.
/// Every fault is appended to `messages`, in the order of the text and with line, column and pointer: what is no JSON
/// (the first such place; what stands behind it cannot be read), every duplicate key, every NaN or Infinity, every
/// number beyond the range of a double, every line with bytes that are no UTF-8, nesting deeper than `kDeepestJson`,
/// anything after the end, an empty text, a text longer than `kLargestJsonText`.
/// Where one of them is an error the result is null. A byte order mark is skipped and a note says so (RFC 8259 section
/// 8.1 allows that; some editors write one). Time and memory grow linearly with the text.
nlohmann::ordered_json parse_json(std::string_view text, const std::string& file, std::vector<Message>& messages);

/// The canonical text of a value: keys sorted by their bytes, two spaces a level, a list or object that holds no other
/// one on one line where 120 columns suffice, numbers as ECMAScript writes them (the shortest digits that read back
/// as the same double; integers that are held as integers exactly; -0 as 0), UTF-8, LF, a final line feed.
/// Equal values give equal text, whatever order their keys had and whether 5 was held as integer or double.
/// Throws std::logic_error for NaN, infinity and strings that are no UTF-8: the program must not hold them.
std::string write_json(const nlohmann::ordered_json& value);

/// Equality of values as RFC 6902 section 4.6 means it: numbers by value, objects in any order.
bool same_json(const nlohmann::ordered_json& a, const nlohmann::ordered_json& b);

}  // namespace zoneproof
