#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/json_fault.hpp"

/// Inside of json_text.cpp: a JSON text that a parser reads to its end.
namespace zoneproof {

/// Faults that would stop the parser although what follows them can be read: bytes that are no UTF-8, NaN and
/// infinities, numbers beyond the range of a double. Each is noted and overwritten by something harmless of the same
/// length, so that offsets stay true and the parser goes on to the next fault. Cost: linear in the
/// text; it is copied only where a fault stands in it.
class HarmlessText {
 public:
  /// Appends the faults to `findings`, in the order of the text. The text has to outlive this.
  HarmlessText(std::string_view text, std::vector<JsonFault>& findings);
  std::string_view text() const { return copy_.empty() ? text_ : copy_; }

 private:
  void walk();
  void overwrite(std::size_t at, std::size_t size, char first, char rest);
  std::size_t other_than_ascii(std::size_t at);
  std::size_t literal(std::size_t at);

  std::string_view text_;
  std::vector<JsonFault>& findings_;
  std::string copy_;
  int line_ = 1;
  int last_bad_line_ = 0;
};

}  // namespace zoneproof
