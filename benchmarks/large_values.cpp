#include "large_values.hpp"

#include <stdexcept>

#include "site/shelf.hpp"

namespace zoneproof::large {

using site::Value;

Value none() {
  Value value;
  value.state = Value::State::none;
  return value;
}

Value number(double value) {
  Value out;
  out.state = Value::State::known;
  out.nominal = out.low = out.high = value;
  return out;
}

Value resistor(double ohm) {
  Value out = number(ohm);
  out.spread = site::Spread::tolerance_pct;
  out.stated_plus = 1.0;
  out.low = ohm * 0.99;
  out.high = ohm * 1.01;
  out.tempco_ppm_K = 100.0;
  out.stated_origin = out.origin = site::Origin::data_sheet;
  return out;
}

std::string numbered(const char* prefix, unsigned n) {
  std::string digits = std::to_string(n);
  return prefix + std::string(digits.size() < 4 ? 4 - digits.size() : 0, '0') + digits;
}

std::string id_in_hall(unsigned hall, const std::string& what) { return "h" + std::to_string(hall) + "_" + what; }

std::string id_in_group(unsigned hall, unsigned group, const std::string& what) {
  return "h" + std::to_string(hall) + "e" + std::to_string(group) + "_" + what;
}

site::Ref part_of_shelf(site::Site& site, const std::string& id) {
  if (site.parts.count(id) == 0) {
    const auto copy = site::part_for_site(id);
    if (!copy) throw std::logic_error("the shelf has no part " + id);
    site.parts[id] = *copy;
  }
  return ref(id);
}

}  // namespace zoneproof::large
