#pragma once
#include <cstddef>
#include <string_view>

#include "base/message.hpp"

/// What is wrong with a text that is no JSON, in a person's words. Used by parse_json() alone.
namespace zoneproof {

/// What the reader had understood when it stopped.
enum class JsonExpects { value, key_or_end, key, colon, comma_in_object, comma_in_list, item_or_end, item, end };

struct JsonStop {
  JsonExpects expects = JsonExpects::value;
  std::size_t token = 0;        ///< offset of the first character that was not understood
  std::size_t opened_line = 0;  ///< line of the { or [ that is still open, 0 where none is
};

struct JsonFault {
  std::size_t offset;  ///< where to point
  Message message;
};

JsonFault describe_fault(std::string_view text, const JsonStop& stop);

}  // namespace zoneproof
