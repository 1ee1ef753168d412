#include "site/value.hpp"

#include <stdexcept>
#include <utility>

namespace zoneproof::site {

Value Value::exactly(double value, Origin origin) {
  Value out = between(value, value, value, origin);
  out.spread = Spread::plain;
  return out;
}

Value Value::between(double low, double nominal, double high, Origin origin) {
  if (!(low <= nominal && nominal <= high)) throw std::logic_error("a value must lie between its low and high");
  Value out;
  out.state = State::known;
  out.nominal = nominal;
  out.low = low;
  out.high = high;
  out.spread = Spread::min_max;
  out.stated_origin = origin;
  out.origin = origin;
  return out;
}

Value Value::absent() {
  Value out;
  out.state = State::none;
  return out;
}

void Value::replace_with(Value other) {
  other.pointer = std::move(pointer);
  *this = std::move(other);
}

}  // namespace zoneproof::site
