#pragma once
#include <string>
#include <string_view>

namespace zoneproof::electric {

/// Name of a node or element: the id that it belongs to (or the name of a larger part), and what it is there. Joined by
/// '.', which no id and no such word can hold and ngspice takes as it is: so two different parts never share a name,
/// whatever ids a site has.
inline std::string part_name(std::string_view whole, std::string_view part) {
  std::string name(whole);
  name += '.';
  name += part;
  return name;
}

/// The same for one of several: "psu.out.aux".
inline std::string part_name(std::string_view whole, std::string_view part, std::string_view which) {
  return part_name(part_name(whole, part), which);
}

}  // namespace zoneproof::electric
