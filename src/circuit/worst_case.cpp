#include "circuit/worst_case.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "circuit/enclosure.hpp"

namespace zoneproof::circuit {
namespace {

// How many parts of the box one extreme may look into, and how many passes descent takes: a bound on the time, not on
// the truth.
constexpr int most_parts = 48;
constexpr int most_parts_uncertified = 2;
constexpr int most_descent_solves = 40;

Span& span_of(Box& box, const Parameter& p) { return p.on_ohm ? box.on_ohm[at(p.element)] : box.value[at(p.element)]; }
const Span& span_of(const Box& box, const Parameter& p) {
  return p.on_ohm ? box.on_ohm[at(p.element)] : box.value[at(p.element)];
}
const Range& range_of(const Network& network, const Parameter& p) {
  const Element& e = network.elements()[at(p.element)];
  return p.on_ohm ? e.on_ohm : e.value;
}

std::vector<Parameter> parameters_of(const Network& network) {
  std::vector<Parameter> result;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    const Element& element = network.elements()[e];
    const auto index = static_cast<ElementIndex>(e);
    if (element.value.wide()) result.push_back({index, false});
    if (element.kind == Kind::diode && element.on_ohm.wide()) result.push_back({index, true});
  }
  return result;
}

// Whether a solution's trouble is one of the quantity that has `value` in it: a part that floats beside it (what stands
// between two open contacts, say) is not.
bool concerns(const Solution& solution, double value) {
  return solution.trouble != Trouble::floating || std::isnan(value);
}

// Where a range is halved: in the middle; one of decades in the middle of its decades, or where they begin to matter.
double inner_point(const Span& span) {
  constexpr double decade = 10.0;
  if (!std::isinf(span.high)) {
    return span.low > 0.0 && span.high > decade * span.low ? std::sqrt(span.low * span.high) : span.middle();
  }
  return span.low > 0.0 ? decade * span.low : 1e3;
}

struct Shared {
  const Network& network;
  const WorstCaseOptions& options;
  std::vector<Parameter> parameters;
  Solution nominal;
  Box box;
  std::optional<Enclosure> enclosure;
};

/// One extreme of one quantity. Works with direction * quantity, to be made large.
class Search {
 public:
  Search(const Shared& shared, const Quantity& quantity, int direction, WorstCase& result)
      : shared_(shared), quantity_(quantity), direction_(direction), result_(result), work_(shared.network) {
    for (const Quantity::Term& term : quantity.terms) weight_ += std::abs(term.weight);
  }
  Extreme run();

 private:
  struct Part {
    Box box;
    double neglected = 0.0;
    double bound = infinite;  ///< what is known of the part this one was split from holds here too
    bool supposed = false;    ///< some diode's state is supposed, which takes in more than the points where it is so
  };
  void look_into(Part part);
  int certify(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part);
  int neglect(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part) const;
  /// What all neglected elements together may do: well inside the tolerance within which a result counts as exact.
  double allowance() const { return 0.25 * shared_.options.exact_tolerance; }
  bool split(const Enclosure& enclosure, const Enclosure::Functional& f, const Part& part);
  std::optional<ElementIndex> diode_to_split(const Enclosure& enclosure, const Enclosure::Functional& f) const;
  void suppose(const Part& part, ElementIndex diode);
  void leave_undecided(const Part& part);
  void finish_point(const Part& part);
  void finish_walk(const Enclosure& enclosure, const Enclosure::Functional& f, Part part);
  Box leaning_corner(const Enclosure& enclosure, const Enclosure::Functional& f, Box point) const;
  void descend(Box part);
  double evaluate(const Box& point);
  void note_trouble(const Solution& solution);
  Corner corner_of(const Box& point) const;
  std::vector<Parameter> open_parameters(const Box& box) const;

  const Shared& shared_;
  const Quantity& quantity_;
  int direction_;
  WorstCase& result_;
  Network work_;
  double weight_ = 0.0;
  std::vector<Part> queue_;
  double best_ = -infinite;   // direction * attained
  double bound_ = -infinite;  // direction * bound
  Box best_point_;
  std::vector<double> volts_;  ///< node voltages of the point evaluated last
  bool locked_out_ = false;    ///< some load of that point does not run
  std::vector<ElementIndex> split_;
  int parts_ = 0;
  int certified_ = 0;
  int walked_ = 0;
  std::optional<Box> undecided_;  ///< the part of the highest bound that could not be decided
};

std::vector<Parameter> Search::open_parameters(const Box& box) const {
  std::vector<Parameter> open;
  for (const Parameter& p : shared_.parameters) {
    if (span_of(box, p).wide()) open.push_back(p);
  }
  return open;
}

void Search::note_trouble(const Solution& solution) {
  if (result_.trouble != Trouble::none || solution.trouble == Trouble::none) return;
  result_.trouble = solution.trouble;
  result_.troubled_nodes = solution.troubled_nodes;
  result_.troubled_elements = solution.troubled_elements;
}

// The full nonlinear solution at a point of the box (spans may still be wide: then their nominal values, or the middle,
// are taken).
double Search::evaluate(const Box& point) {
  for (const Parameter& p : shared_.parameters) {
    const Span& span = span_of(point, p);
    const Range& range = range_of(shared_.network, p);
    const double value = span.wide() ? std::clamp(range.nominal, span.low, span.high) : span.low;
    Element& element = work_.element(p.element);
    (p.on_ohm ? element.on_ohm : element.value) = Range::exactly(value);
  }
  const Solution solution = solve(work_, shared_.options.solve);
  volts_ = solution.voltage;
  locked_out_ = !solution.locked_out.empty();
  const double value = solution.at(quantity_);
  if (concerns(solution, value)) note_trouble(solution);
  if (std::isnan(value)) return value;
  if (direction_ * value > best_) {
    best_ = direction_ * value;
    best_point_ = point;
    for (const Parameter& p : shared_.parameters) {
      const Element& element = work_.element(p.element);
      const double taken = (p.on_ohm ? element.on_ohm : element.value).nominal;
      span_of(best_point_, p) = {taken, taken};
    }
  }
  return direction_ * value + solution.voltage_error_bound * weight_;
}

// Fixes what is certain; returns how many were fixed.
int Search::certify(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part) {
  int fixed = 0;
  for (const Parameter& p : open_parameters(part.box)) {
    Span& span = span_of(part.box, p);
    const int sign = direction_ * enclosure.sign(f, p);
    if (sign == 0) continue;
    span = sign > 0 ? Span{span.high, span.high} : Span{span.low, span.low};
    ++fixed;
  }
  return fixed;
}

// Fixes what hardly matters anywhere, the least first, as long as all of it together stays within the allowance; its
// effect is added to the bound. Asked only when nothing more is certain: a smaller box has smaller effects.
int Search::neglect(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part) const {
  std::vector<std::pair<double, Parameter>> effects;
  for (const Parameter& p : open_parameters(part.box)) effects.emplace_back(enclosure.effect(f, p), p);
  std::stable_sort(effects.begin(), effects.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  int fixed = 0;
  for (const auto& [effect, p] : effects) {
    if (!(part.neglected + effect <= allowance())) break;
    Span& span = span_of(part.box, p);
    const double nominal = std::clamp(range_of(shared_.network, p).nominal, span.low, span.high);
    part.neglected += effect;
    span = {nominal, nominal};
    ++fixed;
  }
  return fixed;
}

// A load below its lockout may draw anything up to its hardest pull, of which the solution is only one; and a supposed
// diode need not be in its state here. There the enclosure of the point is the bound.
void Search::finish_point(const Part& part) {
  double value = evaluate(part.box);
  if ((locked_out_ || part.supposed) && !std::isnan(value)) {
    Box point = part.box;
    point.loads_known = false;
    const Enclosure enclosure(shared_.network, point, volts_);
    value = infinite;
    if (enclosure.regular()) {
      const Enclosure::Functional f = enclosure.functional(quantity_);
      if (!f.floats) value = direction_ * f.centre + f.radius;
    }
    bound_ = std::max(bound_, std::min(value + part.neglected, part.bound));
    return;
  }
  bound_ = std::max(bound_, std::isnan(value) ? part.bound : value + part.neglected);
}

void Search::finish_walk(const Enclosure& enclosure, const Enclosure::Functional& f, Part part) {
  walked_ = std::max(walked_, enclosure.rows());
  const double walked = direction_ * enclosure.walk(f, direction_, part.box);
  const double value = evaluate(part.box);
  bound_ = std::max(bound_, std::isnan(value) ? part.bound : std::max(walked, value) + part.neglected);
}

// The corner that the centre's sensitivities point to.
Box Search::leaning_corner(const Enclosure& enclosure, const Enclosure::Functional& f, Box point) const {
  for (const Parameter& p : open_parameters(point)) {
    const int sign = direction_ * enclosure.leaning(f, p);
    Span& span = span_of(point, p);
    if (sign != 0) span = sign > 0 ? Span{span.high, span.high} : Span{span.low, span.low};
  }
  return point;
}

// Coordinate descent from the best point, over the parameters that are open in an undecided part, those of most effect
// first.
void Search::descend(Box part) {
  const Enclosure enclosure(shared_.network, part, shared_.nominal.voltage);
  Enclosure::Functional f;
  if (enclosure.regular()) f = enclosure.functional(quantity_);
  std::vector<std::pair<double, Parameter>> open;
  for (const Parameter& p : open_parameters(part)) {
    const double effect = enclosure.regular() && !f.floats ? enclosure.effect(f, p) : infinite;
    if (effect > allowance() / static_cast<double>(shared_.parameters.size())) open.emplace_back(effect, p);
  }
  Box point = best_ > -infinite ? best_point_ : part;
  std::stable_sort(open.begin(), open.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  double current = evaluate(point);
  int solves = 0;
  for (bool better = true; better;) {
    better = false;
    for (const auto& [effect, p] : open) {
      const Span range = {range_of(shared_.network, p).low, range_of(shared_.network, p).high};
      for (const double end : {range.low, range.high}) {
        const Span before = span_of(point, p);
        if (!before.wide() && before.low == end) continue;
        if (++solves > most_descent_solves) return;
        span_of(point, p) = {end, end};
        const double value = evaluate(point);
        if (value > current + 1e-12 || (std::isnan(current) && !std::isnan(value))) {
          current = value;
          better = true;
        } else {
          span_of(point, p) = before;
        }
      }
    }
  }
}

// The open diode that matters most: its two states are fewer than the parts that ranges would have to be cut into.
std::optional<ElementIndex> Search::diode_to_split(const Enclosure& enclosure, const Enclosure::Functional& f) const {
  if (!enclosure.must_split().empty()) return std::nullopt;
  std::optional<ElementIndex> chosen;
  double most = -1.0;
  for (const auto& [diode, effect] : enclosure.open_diodes(f)) {
    if (effect <= most) continue;
    most = effect;
    chosen = diode;
  }
  return chosen;
}

// The points of a part where a diode conducts are points of the network in which it always does, and likewise where it
// does not: both networks together bound the part.
void Search::suppose(const Part& part, ElementIndex diode) {
  for (const Conduction state : {Conduction::off, Conduction::on}) {
    Part next = part;
    next.box.conducts[at(diode)] = state;
    next.box.loads_known = false;
    next.supposed = true;
    queue_.push_back(std::move(next));
  }
}

// Splits the part in the open parameter of most effect. False: nothing to split, or too many parts already.
bool Search::split(const Enclosure& enclosure, const Enclosure::Functional& f, const Part& part) {
  if (parts_ >= (enclosure.certifying() || !enclosure.regular() ? most_parts : most_parts_uncertified)) return false;
  if (const std::optional<ElementIndex> diode = diode_to_split(enclosure, f)) {
    suppose(part, *diode);
    return true;
  }
  std::optional<Parameter> chosen;
  double most = -1.0;
  for (const Parameter& p : open_parameters(part.box)) {
    const bool forced = std::find(enclosure.must_split().begin(), enclosure.must_split().end(), p.element) !=
                        enclosure.must_split().end();
    const double size = forced ? infinite : enclosure.regular() ? enclosure.effect(f, p) : enclosure.gain(p);
    if (size > most) {
      most = size;
      chosen = p;
    }
  }
  if (!chosen) return false;
  const Span span = span_of(part.box, *chosen);
  if (std::find(split_.begin(), split_.end(), chosen->element) == split_.end()) split_.push_back(chosen->element);
  const double half = inner_point(span);
  const bool vertices_suffice = shared_.enclosure->linear();
  for (const Span& side : vertices_suffice ? std::vector<Span>{{span.low, span.low}, {span.high, span.high}}
                                           : std::vector<Span>{{span.low, half}, {half, span.high}}) {
    Part next = part;
    span_of(next.box, *chosen) = side;
    queue_.push_back(std::move(next));
  }
  return true;
}

void Search::look_into(Part part) {
  ++parts_;
  for (bool first = parts_ == 1;; first = false) {
    if (open_parameters(part.box).empty()) return finish_point(part);
    std::optional<Enclosure> made;
    if (!first) {
      // Load intervals are proved around a running point of this very part.
      const bool needs_point = parts_ > 1 && !shared_.enclosure->linear() && !part.box.loads_known;
      if (needs_point) evaluate(part.box);
      made.emplace(shared_.network, part.box, needs_point ? volts_ : shared_.nominal.voltage);
    }
    const Enclosure& enclosure = first ? *shared_.enclosure : *made;
    Enclosure::Functional f;
    if (enclosure.regular()) {
      f = enclosure.functional(quantity_);
      if (f.floats) return finish_point(part);
      if (part.supposed && enclosure.contradictory()) return;  // no point of the box is in the supposed states
      part.bound = std::min(part.bound, direction_ * f.centre + f.radius + part.neglected);
      if (part.bound <= best_) {
        bound_ = std::max(bound_, part.bound);
        return;
      }
      int fixed = enclosure.certifying() ? certify(enclosure, f, part) : 0;
      if (fixed == 0 && enclosure.certifying()) fixed = neglect(enclosure, f, part);
      if (parts_ == 1) certified_ += fixed;
      if (fixed > 0) continue;
      if (enclosure.linear() && enclosure.rows() <= shared_.options.most_enumerated)
        return finish_walk(enclosure, f, part);
    }
    if (enclosure.regular())
      evaluate(leaning_corner(enclosure, f, part.box));  // a good corner early lets parts be dropped
    if (!split(enclosure, f, part)) leave_undecided(part);
    return;
  }
}

void Search::leave_undecided(const Part& part) {
  if (part.bound > bound_ || !undecided_) undecided_ = part.box;
  bound_ = std::max(bound_, part.bound);
}

Corner Search::corner_of(const Box& point) const {
  Corner corner;
  for (const Parameter& p : shared_.parameters) {
    const Range& range = range_of(shared_.network, p);
    const double value = span_of(point, p).low;
    const bool high = value == range.high || (value != range.low && value > 0.5 * (range.low + range.high));
    corner.push_back({p.element, value, high, p.on_ohm});
  }
  return corner;
}

Extreme Search::run() {
  queue_.push_back({shared_.box});
  while (!queue_.empty()) {
    Part part = std::move(queue_.back());
    queue_.pop_back();
    look_into(std::move(part));
  }
  if (undecided_ && bound_ > best_ + shared_.options.exact_tolerance) descend(*undecided_);
  Extreme extreme;
  bound_ = std::max(bound_, best_);
  const bool found = best_ > -infinite;
  extreme.attained = found ? direction_ * best_ : std::numeric_limits<double>::quiet_NaN();
  extreme.bound = found ? direction_ * bound_ : direction_ * infinite;
  if (found) extreme.corner = corner_of(best_point_);
  extreme.exact = found && std::abs(extreme.bound - extreme.attained) <= shared_.options.exact_tolerance;
  result_.enumerated = std::max(result_.enumerated, walked_ + static_cast<int>(split_.size()));
  result_.certified = std::min(result_.certified, certified_);
  return extreme;
}

}  // namespace

std::vector<WorstCase> worst_case(const Network& network, const std::vector<Quantity>& quantities,
                                  const WorstCaseOptions& options) {
  Shared shared{network,          options,     parameters_of(network), solve(network, options.solve),
                Box::of(network), std::nullopt};
  std::vector<WorstCase> results(quantities.size());
  shared.enclosure.emplace(network, shared.box, shared.nominal.voltage);
  for (std::size_t i = 0; i < quantities.size(); ++i) {
    WorstCase& result = results[i];
    result.nominal = shared.nominal.at(quantities[i]);
    if (concerns(shared.nominal, result.nominal)) {
      result.trouble = shared.nominal.trouble;
      result.troubled_nodes = shared.nominal.troubled_nodes;
      result.troubled_elements = shared.nominal.troubled_elements;
    }
    if (shared.nominal.trouble == Trouble::source_loop || shared.nominal.trouble == Trouble::not_converged) {
      const double nan = std::numeric_limits<double>::quiet_NaN();
      result.low = {nan, -infinite, {}, false};
      result.high = {nan, infinite, {}, false};
      continue;
    }
    result.certified = static_cast<int>(shared.parameters.size());
    result.low = Search(shared, quantities[i], -1, result).run();
    result.high = Search(shared, quantities[i], 1, result).run();
  }
  return results;
}

Values values_at(const Network& network, const Corner& corner) {
  Values values = nominal_values(network);
  for (const CornerEntry& entry : corner) {
    if (!entry.on_ohm) values.at(at(entry.element)) = entry.value;
  }
  return values;
}

Network network_at(const Network& network, const Corner& corner) {
  Network result = network;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    Element& element = result.element(static_cast<ElementIndex>(e));
    element.value = Range::exactly(element.value.nominal);
    element.on_ohm = Range::exactly(element.on_ohm.nominal);
  }
  for (const CornerEntry& entry : corner) {
    Element& element = result.element(entry.element);
    (entry.on_ohm ? element.on_ohm : element.value) = Range::exactly(entry.value);
  }
  return result;
}

}  // namespace zoneproof::circuit
