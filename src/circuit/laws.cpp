#include "circuit/laws.hpp"

#include <cmath>

namespace zoneproof::circuit {
namespace {

double limit_current(const Element& source, double volt, double w, double* slope) {
  if (source.limit == Limit::constant_current || w <= 0.0) {
    *slope = 0.0;
    return source.limit == Limit::constant_current ? source.limit_amps : source.foldback_amps;
  }
  *slope = (source.limit_amps - source.foldback_amps) / volt;
  return source.foldback_amps + *slope * w;
}

Companion load_companion(double watt, State state, double lock, double u) {
  if (state == State::unloaded) return {};
  if (state == State::locked) return Companion::norton(watt / (lock * lock), 0.0);
  const double w = -u;
  return Companion::norton(-watt / (w * w), -2.0 * watt / w);
}

}  // namespace

double lockout(const Element& load) { return load.lockout_volts > 0.0 ? load.lockout_volts : 1e-3; }

Companion companion(const Element& element, double value, State state, double u) {
  switch (element.kind) {
    case Kind::resistor: return Companion::resistor(value);
    case Kind::voltage: return Companion::link(value);
    case Kind::current: return Companion::norton(0.0, value);
    case Kind::constant_power: return load_companion(value, state, lockout(element), u);
    case Kind::diode: {
      if (state == State::off) return {};
      const double g = 1.0 / element.on_ohm.nominal;
      return Companion::norton(g, -g * value);
    }
    case Kind::limited_source: {
      if (state == State::regulated) return Companion::link(value);
      double slope = 0.0;
      const double ampere = limit_current(element, value, -u, &slope);
      return Companion::norton(-slope, ampere - slope * -u);
    }
  }
  return {};
}

long double current_at(const Element& element, double value, State state, long double u) {
  switch (element.kind) {
    case Kind::resistor: return std::isinf(value) ? 0.0L : u / value;
    case Kind::current: return value;
    case Kind::constant_power: {
      if (state == State::unloaded) return 0.0L;
      const long double lock = lockout(element);
      return state == State::locked ? u * value / (lock * lock) : value / u;
    }
    case Kind::diode: return state == State::off ? 0.0L : (u - value) / element.on_ohm.nominal;
    case Kind::limited_source: {
      double slope = 0.0;
      limit_current(element, value, static_cast<double>(-u), &slope);
      return slope == 0.0 ? (element.limit == Limit::constant_current ? element.limit_amps : element.foldback_amps)
                          : element.foldback_amps - slope * u;
    }
    case Kind::voltage: break;
  }
  return 0.0L;
}

double potential(const Element& element, double value, double u) {
  switch (element.kind) {
    case Kind::resistor: return value == 0.0 || std::isinf(value) ? 0.0 : 0.5 * u * u / value;
    case Kind::current: return value * u;
    case Kind::constant_power: {
      const double lock = lockout(element);
      const double w = std::abs(u);
      if (u <= 0.0 && w >= lock) return value * (0.5 + std::log(w / lock));
      return 0.5 * value * w * w / (lock * lock);
    }
    case Kind::diode: return u > value ? 0.5 * (u - value) * (u - value) / element.on_ohm.nominal : 0.0;
    case Kind::limited_source: {
      if (std::isinf(element.limit_amps)) return 0.0;
      double slope = 0.0;
      const double w = -u;
      const double ampere = limit_current(element, value, w, &slope);
      return -(ampere - 0.5 * slope * w) * w;
    }
    case Kind::voltage: break;
  }
  return 0.0;
}

}  // namespace zoneproof::circuit
