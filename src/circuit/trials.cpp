#include "circuit/trials.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::circuit {

namespace {

constexpr int most_descent_solves = 40;  // a bound on the time, not on the truth
constexpr double real_progress = 1e-12;  // V; less is rounding

}  // namespace

Trials::Trials(const BoxStudy& study, const Quantity& quantity, int direction, WorstCase& result)
    : study_(study), quantity_(quantity), direction_(direction), result_(result), work_(study.network) {
  for (const Quantity::Term& term : quantity.terms) weight_ += std::abs(term.weight);
}

void Trials::note_trouble(const Solution& solution) {
  if (result_.trouble != Trouble::none || solution.trouble == Trouble::none) return;
  result_.trouble = solution.trouble;
  result_.troubled_nodes = solution.troubled_nodes;
  result_.troubled_elements = solution.troubled_elements;
}

double Trials::evaluate(const Box& point) {
  for (const Parameter& p : study_.parameters) {
    const Span& span = span_of(point, p);
    const Range& range = study_.range_of(p);
    const double value = span.wide() ? std::clamp(range.nominal, span.low, span.high) : span.low;
    work_.element(p.element).range(p.on_ohm) = Range::exactly(value);
  }
  const Solution solution = solve(work_, study_.options.solve);
  volts_ = solution.voltage;
  locked_out_ = !solution.locked_out.empty();
  const double value = solution.at(quantity_);
  if (concerns(solution, value)) note_trouble(solution);
  if (std::isnan(value)) return value;
  if (direction_ * value > best_) {
    best_ = direction_ * value;
    best_point_ = point;
    for (const Parameter& p : study_.parameters) {
      const double taken = work_.element(p.element).range(p.on_ohm).nominal;
      span_of(best_point_, p) = {taken, taken};
    }
  }
  return direction_ * value + solution.voltage_error_bound * weight_;
}

Corner Trials::corner() const {
  Corner corner;
  for (const Parameter& p : study_.parameters) {
    const Range& range = study_.range_of(p);
    const double value = span_of(best_point_, p).low;
    const bool high = value == range.high || (value != range.low && value > 0.5 * (range.low + range.high));
    corner.push_back({p.element, value, high, p.on_ohm});
  }
  return corner;
}

/// The open parameters of a part that can matter, those of most effect first.
std::vector<Trials::Weighted> Trials::by_effect(Box& part) const {
  const Enclosure enclosure(study_.network, part, study_.nominal.voltage);
  Enclosure::Functional f;
  if (enclosure.regular()) f = enclosure.functional(quantity_);
  std::vector<Weighted> open;
  for (const Parameter& p : study_.open_parameters(part)) {
    const double effect = enclosure.regular() && !f.floats ? enclosure.effect(f, p) : infinite;
    if (effect > study_.allowance() / static_cast<double>(study_.parameters.size())) open.push_back({effect, p});
  }
  std::stable_sort(open.begin(), open.end(), [](const auto& a, const auto& b) { return a.effect > b.effect; });
  return open;
}

void Trials::descend(Box part) {
  const std::vector<Weighted> open = by_effect(part);
  Box point = found() ? best_point_ : part;
  double current = evaluate(point);
  int solves = 0;
  for (bool better = true; better;) {
    better = false;
    for (const Weighted& one : open) {
      const Parameter& p = one.parameter;
      const Range& range = study_.range_of(p);
      for (const double end : {range.low, range.high}) {
        const Span before = span_of(point, p);
        if (!before.wide() && before.low == end) continue;
        if (++solves > most_descent_solves) return;
        span_of(point, p) = {end, end};
        const double value = evaluate(point);
        if (value > current + real_progress || (std::isnan(current) && !std::isnan(value))) {
          current = value;
          better = true;
        } else {
          span_of(point, p) = before;
        }
      }
    }
  }
}

}  // namespace zoneproof::circuit
