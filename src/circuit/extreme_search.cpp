#include "circuit/extreme_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "circuit/trials.hpp"

namespace zoneproof::circuit {
namespace {

// How many parts of the box one extreme may look into: a bound on the time, not on the truth.
constexpr int most_parts = 48;
constexpr int most_parts_uncertified = 2;

// Where a range is halved: in the middle; one of decades in the middle of its decades, or where they begin to matter.
double inner_point(const Span& span) {
  constexpr double decade = 10.0;
  if (!std::isinf(span.high)) {
    return span.low > 0.0 && span.high > decade * span.low ? std::sqrt(span.low * span.high) : span.middle();
  }
  return span.low > 0.0 ? decade * span.low : 1e3;
}

struct Part {
  Box box;
  double neglected = 0.0;
  double bound = infinite;  ///< what is known of the part this one was split from holds here too
  bool supposed = false;    ///< some diode's state is supposed, which takes in more than the points where it is so
};

/// Works with direction * quantity, to be made large.
class Search {
 public:
  Search(const BoxStudy& study, const Quantity& quantity, int direction, WorstCase& result)
      : study_(study),
        quantity_(quantity),
        direction_(direction),
        result_(result),
        trials_(study, quantity, direction, result) {}
  Extreme run();

 private:
  void look_into(Part part);
  bool settled(const Part& part);
  int certify(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part);
  int neglect(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part) const;
  bool split(const Enclosure& enclosure, const Enclosure::Functional& f, const Part& part);
  std::optional<ElementIndex> diode_to_split(const Enclosure& enclosure, const Enclosure::Functional& f) const;
  void suppose(const Part& part, ElementIndex diode);
  void leave_undecided(const Part& part);
  void finish_point(const Part& part);
  void finish_walk(const Enclosure& enclosure, const Enclosure::Functional& f, Part part);
  Box leaning_corner(const Enclosure& enclosure, const Enclosure::Functional& f, Box point) const;

  const BoxStudy& study_;
  const Quantity& quantity_;
  int direction_;
  WorstCase& result_;
  Trials trials_;
  std::vector<Part> queue_;
  double bound_ = -infinite;  // direction * bound
  std::vector<ElementIndex> split_;
  int parts_ = 0;
  int certified_ = 0;
  int walked_ = 0;
  std::optional<Box> undecided_;  ///< the part of the highest bound that could not be decided
};

// Fixes what is certain; returns how many were fixed.
int Search::certify(const Enclosure& enclosure, const Enclosure::Functional& f, Part& part) {
  int fixed = 0;
  for (const Parameter& p : study_.open_parameters(part.box)) {
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
  for (const Parameter& p : study_.open_parameters(part.box)) effects.emplace_back(enclosure.effect(f, p), p);
  std::stable_sort(effects.begin(), effects.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  int fixed = 0;
  for (const auto& [effect, p] : effects) {
    if (!(part.neglected + effect <= study_.allowance())) break;
    Span& span = span_of(part.box, p);
    const double nominal = std::clamp(study_.range_of(p).nominal, span.low, span.high);
    part.neglected += effect;
    span = {nominal, nominal};
    ++fixed;
  }
  return fixed;
}

// A load below its lockout may draw anything up to its hardest pull, of which the solution is only one; and a supposed
// diode need not be in its state here. There the enclosure of the point is the bound.
void Search::finish_point(const Part& part) {
  double value = trials_.evaluate(part.box);
  if ((trials_.locked_out() || part.supposed) && !std::isnan(value)) {
    Box point = part.box;
    point.loads_known = false;
    const Enclosure enclosure(study_.network, point, trials_.volts());
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
  const double value = trials_.evaluate(part.box);
  bound_ = std::max(bound_, std::isnan(value) ? part.bound : std::max(walked, value) + part.neglected);
}

// The corner that the centre's sensitivities point to.
Box Search::leaning_corner(const Enclosure& enclosure, const Enclosure::Functional& f, Box point) const {
  for (const Parameter& p : study_.open_parameters(point)) {
    const int sign = direction_ * enclosure.leaning(f, p);
    Span& span = span_of(point, p);
    if (sign != 0) span = sign > 0 ? Span{span.high, span.high} : Span{span.low, span.low};
  }
  return point;
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
  for (const Parameter& p : study_.open_parameters(part.box)) {
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
  const bool vertices_suffice = study_.enclosure->linear();
  for (const Span& side : vertices_suffice ? std::vector<Span>{{span.low, span.low}, {span.high, span.high}}
                                           : std::vector<Span>{{span.low, half}, {half, span.high}}) {
    Part next = part;
    span_of(next.box, *chosen) = side;
    queue_.push_back(std::move(next));
  }
  return true;
}

// Whether a part holds nothing that would tell: its bound is reached, up to what counts as exact, by a corner found.
bool Search::settled(const Part& part) {
  if (!(part.bound <= trials_.best() + study_.options.exact_tolerance)) return false;
  bound_ = std::max(bound_, part.bound);
  return true;
}

void Search::look_into(Part part) {
  ++parts_;
  for (bool first = parts_ == 1;; first = false) {
    if (study_.open_parameters(part.box).empty()) return finish_point(part);
    std::optional<Enclosure> made;
    if (!first) {
      // Load intervals are proved around a running point of this very part.
      const bool needs_point = parts_ > 1 && !study_.enclosure->linear() && !part.box.loads_known;
      if (needs_point) trials_.evaluate(part.box);
      made.emplace(study_.network, part.box, needs_point ? trials_.volts() : study_.nominal.voltage);
    }
    const Enclosure& enclosure = first ? *study_.enclosure : *made;
    Enclosure::Functional f;
    if (enclosure.regular()) {
      f = enclosure.functional(quantity_);
      if (f.floats) return finish_point(part);
      if (part.supposed && enclosure.contradictory()) return;  // no point of the box is in the supposed states
      part.bound = std::min(part.bound, direction_ * f.centre + f.radius + part.neglected);
      if (settled(part)) return;
      int fixed = enclosure.certifying() ? certify(enclosure, f, part) : 0;
      if (fixed == 0 && enclosure.certifying()) fixed = neglect(enclosure, f, part);
      if (parts_ == 1) certified_ += fixed;
      if (fixed > 0) continue;
      if (enclosure.linear() && enclosure.rows() <= study_.options.most_enumerated)
        return finish_walk(enclosure, f, part);
    }
    if (enclosure.regular()) {
      trials_.evaluate(leaning_corner(enclosure, f, part.box));  // a good corner early lets parts be dropped
      if (settled(part)) return;
    }
    if (!split(enclosure, f, part)) leave_undecided(part);
    return;
  }
}

void Search::leave_undecided(const Part& part) {
  if (part.bound > bound_ || !undecided_) undecided_ = part.box;
  bound_ = std::max(bound_, part.bound);
}

Extreme Search::run() {
  queue_.push_back({study_.box});
  while (!queue_.empty()) {
    Part part = std::move(queue_.back());
    queue_.pop_back();
    look_into(std::move(part));
  }
  const double tolerance = study_.options.exact_tolerance;
  if (undecided_ && bound_ > trials_.best() + tolerance) trials_.descend(*undecided_);
  Extreme extreme;
  bound_ = std::max(bound_, trials_.best());
  const bool found = trials_.found();
  extreme.attained = found ? direction_ * trials_.best() : std::numeric_limits<double>::quiet_NaN();
  extreme.bound = found ? direction_ * bound_ : direction_ * infinite;
  if (found) extreme.corner = trials_.corner();
  extreme.exact = found && std::abs(extreme.bound - extreme.attained) <= tolerance;
  result_.enumerated = std::max(result_.enumerated, walked_ + static_cast<int>(split_.size()));
  result_.certified = std::min(result_.certified, certified_);
  return extreme;
}

}  // namespace

Extreme search_extreme(const BoxStudy& study, const Quantity& quantity, int direction, WorstCase& result) {
  return Search(study, quantity, direction, result).run();
}

}  // namespace zoneproof::circuit
