#pragma once
#include <map>
#include <set>
#include <string>
#include <string_view>

namespace zoneproof::site {

/// Ids made from names: always the same for the same names in the same order, unique among all that were made.
/// "Back door" becomes back_door, "Büro 2" buro_2, a name without Latin letters item; one that is taken gets _2, _3 ...
class MadeIds {
 public:
  std::string make(std::string_view name);

 private:
  std::set<std::string> taken_;
  std::map<std::string, int> next_;  ///< number to try next for a stem, so that a thousand equal names stay linear
};

}  // namespace zoneproof::site
