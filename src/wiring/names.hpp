#pragma once
#include <map>
#include <string>

#include "site/model.hpp"

namespace zoneproof::wiring {

/// Short names after the letters of IEC 81346-2 (from memory): B detectors, T supplies, G batteries, W cables, X
/// junctions; numbers in the order of ids, digits in them counted as numbers. The same on every sheet of a revision.
class Marks {
 public:
  explicit Marks(const site::Site& site);
  /// "B12"; the id itself for what the site does not hold.
  const std::string& operator()(const std::string& id) const;

 private:
  std::map<std::string, std::string> marks_;
};

/// Whether id `a` stands before `b`: runs of digits by their number, all else by letters.
bool before(const std::string& a, const std::string& b);

// Words of drawings. What is not known is a question mark.
std::string ohms(const site::Value& value);     ///< "5.6 kΩ"
std::string amperes(const site::Value& value);  ///< "0.5 A"
std::string zone_called(const site::Site& site, const std::string& zone);
std::string cable_says(const site::Site& site, const std::string& cable);  ///< part and length
std::string counted(const site::Count& count);                             ///< "3"
std::string part_name(const site::Site& site, const site::Ref& part);      ///< empty where unknown
/// "T1 Panel supply": the mark before the name.
std::string marked(const Marks& marks, const std::string& id, const std::string& name);

/// Of supplies, junctions, panels, units: what a person calls it; its id where the site has no such thing.
std::string name_of(const site::Site& site, const std::string& id);

}  // namespace zoneproof::wiring
