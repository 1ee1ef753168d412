#pragma once
#include <string>
#include <vector>

/// ngspice as a library in this process, with the settings that make it as exact as it goes and quick at it.
namespace zoneproof::promises {

/// One at a time: the library keeps one state for the whole process.
class Spice {
 public:
  Spice();
  /// Throws std::runtime_error where the library refuses.
  void load(const std::vector<std::string>& deck);
  void command(const std::string& line);
  double voltage(const std::string& node);  ///< of the last operating point
  /// One operating point of the deck loaded, after the values were altered. Its results are thrown away first: kept
  /// ones make every further point slower.
  void operating_point();
};

}  // namespace zoneproof::promises
