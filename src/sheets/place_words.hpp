#pragma once
#include <functional>
#include <string>

namespace zoneproof::sheets {

/// What a person calls a place of the site file, given as a JSON pointer. Empty: its pointer is what there is.
using PlaceWords = std::function<std::string(const std::string& pointer)>;

inline std::string words_of(const PlaceWords& called, const std::string& pointer) {
  return called ? called(pointer) : pointer;
}

}  // namespace zoneproof::sheets
