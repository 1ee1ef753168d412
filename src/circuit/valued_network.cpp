#include "circuit/valued_network.hpp"

#include <cmath>

namespace zoneproof::circuit {

State ValuedNetwork::first_state(std::size_t e) const {
  switch (elements_[e].kind) {
    case Kind::constant_power: return State::unloaded;
    case Kind::diode: return State::on;
    case Kind::limited_source: return State::regulated;
    default: return State::plain;
  }
}

bool ValuedNetwork::bends(const States& states) const {
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if ((is_load(e) && values_[e] != 0.0) || states[e] == State::limiting) return true;
  }
  return false;
}

States ValuedNetwork::first_states() const {
  States states(elements_.size());
  for (std::size_t e = 0; e < states.size(); ++e) states[e] = first_state(e);
  return states;
}

std::vector<Companion> ValuedNetwork::companions(const Point& point, bool join) const {
  std::vector<Companion> result(elements_.size());
  for (std::size_t e = 0; e < result.size(); ++e) {
    const double u = point.v.empty() ? 0.0 : drop(point.v, e);
    result[e] = companion(elements_[e], values_[e], point.states[e], u);
    const bool nonlinear = elements_[e].kind >= Kind::constant_power;
    if (join && nonlinear) result[e].joins = true;
  }
  return result;
}

std::vector<double> ValuedNetwork::currents(const NodalSystem& system, const Point& point) const {
  std::vector<double> current(elements_.size(), 0.0);
  for (std::size_t e = 0; e < current.size(); ++e) {
    const double u = drop(point.v, e);
    if (system.companions()[e].form == Companion::Form::link || std::isnan(u)) continue;
    current[e] = static_cast<double>(current_at(elements_[e], values_[e], point.states[e], u));
  }
  system.complete_currents(current);
  return current;
}

bool ValuedNetwork::switch_states(const NodalSystem& system, Point& point, bool one_at_a_time) const {
  bool changed = false;
  std::vector<double> current;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    const Element& element = elements_[e];
    State& state = point.states[e];
    const State before = state;
    const double u = drop(point.v, e);
    if (std::isnan(u)) continue;
    if (element.kind == Kind::diode) {
      if (state == State::on && u < values_[e] - state_slack_volts) state = State::off;
      if (state == State::off && u > values_[e] + state_slack_volts) state = State::on;
    } else if (element.kind == Kind::limited_source) {
      if (current.empty()) current = currents(system, point);
      if (state == State::regulated && current[e] > element.limit_amps * (1.0 + limit_slack)) state = State::limiting;
      if (state == State::limiting && -u > values_[e] + state_slack_volts) state = State::regulated;
    }
    changed = changed || state != before;
    if (changed && one_at_a_time) return true;
  }
  return changed;
}

bool ValuedNetwork::consistent(const NodalSystem& system, const Point& point) const {
  Point copy = point;
  return !switch_states(system, copy, false);
}

}  // namespace zoneproof::circuit
