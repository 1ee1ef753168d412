#include "site/contradiction.hpp"

#include "site/unit.hpp"

namespace zoneproof::site {

std::string last_token(std::string_view pointer) { return std::string(pointer.substr(pointer.rfind('/') + 1)); }

void check_ends(const Value& low, const Value& high, std::string_view low_key, std::string_view high_key,
                Findings& findings) {
  if (!low.known() || !high.known() || low.nominal <= high.nominal) return;
  const auto unit = unit_of_key(low_key);
  const std::string symbol(unit ? unit->symbol : "");
  findings.add(say::site_min_above_max(std::string(low_key), {low.nominal, symbol, kShownDigits}, std::string(high_key),
                                       {high.nominal, symbol, kShownDigits}),
               low.pointer);
}

}  // namespace zoneproof::site
