#include "electric/answer.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "circuit/batch.hpp"
#include "site/field_help.hpp"

namespace zoneproof::electric {

namespace {

using circuit::ElementIndex;
using circuit::Extreme;
using circuit::Quantity;
using circuit::Values;
using circuit::WorstCase;

/// A change below this is the solver's noise, not an influence (ten times its own accuracy).
constexpr double noise = 1e-8;
/// How far a weakly known number is moved to see whether it matters at all: ten times either way.
constexpr double stretch = 10.0;
/// A guess of zero has no multiple: it is moved to 1 kohm, or to 1 mA, mV or mW.
constexpr double stretch_from_zero_ohm = 1e3;
constexpr double stretch_from_zero = 1e-3;
/// A corner is told by the entries that make up this share of the deviation each.
constexpr double telling_share = 0.02;

bool weak(const Basis& basis) { return basis.weakness() != nullptr; }

bool any_weak(const std::vector<Basis>& bases) { return std::any_of(bases.begin(), bases.end(), weak); }

/// Element values moved so far that any influence shows: the ends of an unknown, ten times either way of a guess.
std::vector<double> stretched(const circuit::Element& element, const std::vector<Basis>& bases) {
  const bool unknown = std::any_of(bases.begin(), bases.end(), [](const Basis& b) { return b.unknown; });
  if (unknown) return {element.value.low, element.value.high};
  if (element.value.nominal == 0.0)
    return {element.kind == circuit::Kind::resistor ? stretch_from_zero_ohm : stretch_from_zero};
  return {element.value.nominal * stretch, element.value.nominal / stretch};
}

/// A point of the box at which it is asked whether a datum matters.
struct Point {
  circuit::Network network;
  circuit::Solution solution;
};

bool moves_any(const Wiring& wiring, const Seen& seen, const Point& point, ElementIndex index) {
  if (!point.solution.usable()) return true;
  const std::vector<double> before = seen(point.solution);
  circuit::Values values = circuit::nominal_values(point.network);
  for (double value : stretched(wiring.network.element(index), wiring.bases(index))) {
    values[static_cast<std::size_t>(index)] = value;
    const circuit::Solution changed = circuit::solve(point.network, values);
    if (!changed.usable()) return true;
    const std::vector<double> after = seen(changed);
    for (std::size_t i = 0; i < before.size(); ++i) {
      if (!(std::fabs(after[i] - before[i]) <= noise)) return true;
    }
  }
  return false;
}

/// The nominal point, then the corners; one that has no solution says nothing that the nominal one does not.
std::vector<Point> points_of(const Wiring& wiring, const std::vector<circuit::Corner>& corners) {
  std::vector<Point> points;
  points.push_back({wiring.network, circuit::solve(wiring.network)});
  for (const circuit::Corner& corner : corners) {
    circuit::Network network = circuit::network_at(wiring.network, corner);
    circuit::Solution solution = circuit::solve(network);
    if (solution.usable()) points.push_back({std::move(network), std::move(solution)});
  }
  return points;
}

/// Whether every datum of the site with a tolerance stands at one end throughout the corner, wherever it is used: one
/// length, one joint, the air of one area. Data sheet tolerances are of each specimen its own.
bool data_agree(const Wiring& wiring, const circuit::Corner& corner) {
  std::map<std::string, bool> end_of;
  for (const circuit::CornerEntry& entry : corner) {
    for (const Basis& basis : wiring.bases(entry)) {
      if (!basis.wide || basis.pointer.rfind("/parts/", 0) == 0) continue;
      const bool high = entry.high != basis.inverse;
      const auto [at, fresh] = end_of.emplace(basis.pointer, high);
      if (!fresh && at->second != high) return false;
    }
  }
  return true;
}

/// The same wiring with weakly known elements free over all that is possible, everything else at its nominal value.
std::optional<circuit::Network> only_the_missing_free(const Wiring& wiring) {
  circuit::Network network = wiring.network;
  for (std::size_t i = 0; i < network.elements().size(); ++i) {
    const auto index = static_cast<ElementIndex>(i);
    circuit::Element& element = network.element(index);
    const std::vector<Basis>& bases = wiring.bases(index);
    element.value = circuit::Range::exactly(element.value.nominal);
    if (!any_weak(bases)) continue;
    if (element.kind == circuit::Kind::resistor) {
      element.value.low = 0.0;
      element.value.high = circuit::infinite;
      continue;
    }
    const auto possible = bases.size() == 1 ? site::allowed_range(bases.front().pointer) : std::nullopt;
    if (!possible) return std::nullopt;  // what is possible is not known: nothing can be said
    element.value.low = std::min(possible->first, element.value.nominal);
    element.value.high = std::max(possible->second, element.value.nominal);
  }
  return network;
}

/// The limits that fail at the nominal point and with everything missing at its low and at its high end. One point that
/// meets a limit settles that it does not fail whatever is missing, at a thousandth of the cost of a bound.
Band not_met_anywhere_tried(const circuit::Network& network, const std::vector<Quantity>& quantities, Band band) {
  circuit::Values low = circuit::nominal_values(network), high = low;
  for (std::size_t i = 0; i < low.size(); ++i) {
    low[i] = network.elements()[i].value.low;
    high[i] = network.elements()[i].value.high;
  }
  for (const Values& values : {circuit::nominal_values(network), low, high}) {
    const circuit::Solution solution = circuit::solve(network, values);
    if (!solution.usable()) continue;
    if (band.min && solution.at(quantities.at(band.min->which)) >= band.min->limit) band.min.reset();
    if (band.max && solution.at(quantities.at(band.max->which)) <= band.max->limit) band.max.reset();
  }
  return band;
}

std::string unit_of(circuit::Kind kind) {
  switch (kind) {
    case circuit::Kind::resistor: return "ohm";
    case circuit::Kind::current: return "A";
    case circuit::Kind::constant_power: return "W";
    default: return "V";
  }
}

/// The side of a band that tells most: one that some real system crosses, else the one nearer to being crossed.
struct NearerSide {
  bool low = true;
  Side side;
  double margin = circuit::infinite;           ///< by the bound
  double attained_margin = circuit::infinite;  ///< by the corner found; NaN where none was

  bool crossed() const { return attained_margin < 0.0; }
};

NearerSide nearer_side(const Solved& solved, const Band& band) {
  NearerSide nearer;
  if (band.min) {
    const Extreme& low = solved.cases.at(band.min->which).low;
    nearer = {true, *band.min, low.bound - band.min->limit, low.attained - band.min->limit};
  }
  if (band.max) {
    const Extreme& high = solved.cases.at(band.max->which).high;
    const NearerSide upper = {false, *band.max, band.max->limit - high.bound, band.max->limit - high.attained};
    const bool takes = upper.crossed() == nearer.crossed() ? !(upper.margin >= nearer.margin) : upper.crossed();
    if (takes) nearer = upper;
  }
  return nearer;
}

std::optional<double> if_finite(double value) { return std::isfinite(value) ? std::optional(value) : std::nullopt; }

/// Where nothing is bounded there is no number.
void fill_numbers(chain::Evidence& evidence, const WorstCase& worst, const Band& band, const NearerSide& nearer) {
  const Extreme& extreme = nearer.low ? worst.low : worst.high;
  evidence.value = if_finite(extreme.attained);
  evidence.bound = if_finite(extreme.bound);
  evidence.nominal = if_finite(worst.nominal);
  evidence.limit = nearer.side.limit;
  evidence.margin = if_finite(nearer.margin);
  evidence.required_margin = band.required_margin;
}

void add_side(Band& band, std::optional<Side>& side, std::size_t which, const site::Value& limit, double value) {
  add_if_weak(band.gaps, limit);
  if (limit.known()) side = Side{which, value, !weak(basis_of(limit))};
}

/// Verdict where limits are missing or guessed: broken only by what is firm, else open.
chain::Verdict open_unless_broken(const Wiring& wiring, const std::vector<Quantity>& quantities, const Solved& solved,
                                  Band band) {
  if (band.min && !band.min->firm) band.min.reset();
  if (band.max && !band.max->firm) band.max.reset();
  if (!band.min && !band.max) return chain::Verdict::unanswered;
  if (solved.gaps.empty() && nearer_side(solved, band).crossed()) return chain::Verdict::broken;
  return fails_whatever_is_missing(wiring, quantities, band) ? chain::Verdict::broken : chain::Verdict::unanswered;
}

}  // namespace

site::Origin weakest_of(const Wiring& wiring) {
  site::Origin weakest = wiring.weakest_left_out();
  for (std::size_t i = 0; i < wiring.network.elements().size(); ++i) {
    for (const Basis& basis : wiring.bases(static_cast<ElementIndex>(i))) weakest = std::max(weakest, basis.origin);
  }
  return weakest;
}

void Band::at_least(std::size_t which, const site::Value& limit, double inward) {
  add_side(*this, min, which, limit, limit.high + inward);
}

void Band::at_most(std::size_t which, const site::Value& limit, double inward) {
  add_side(*this, max, which, limit, limit.low - inward);
}

void Band::ask(const chain::Limit& margin) {
  if (!margin.value) return;
  required_margin = *margin.value;
  margin_source = margin.source;
  margin_verified = margin.verified;
}

std::vector<chain::Gap> weak_data(const Wiring& wiring, const Seen& seen, const std::vector<circuit::Corner>& corners) {
  std::vector<chain::Gap> gaps = wiring.gaps();
  std::vector<Point> points;
  for (std::size_t i = 0; i < wiring.network.elements().size(); ++i) {
    const auto index = static_cast<ElementIndex>(i);
    if (!any_weak(wiring.bases(index))) continue;
    if (points.empty()) points = points_of(wiring, corners);
    if (std::none_of(points.begin(), points.end(),
                     [&](const Point& point) { return moves_any(wiring, seen, point, index); })) {
      continue;
    }
    for (const chain::Gap& gap : weak_bases(wiring, index)) chain::add_gap(gaps, gap);
  }
  return gaps;
}

std::vector<chain::Gap> weak_bases(const Wiring& wiring, ElementIndex element) {
  std::vector<chain::Gap> gaps;
  for (const Basis& basis : wiring.bases(element)) {
    if (const char* reason = basis.weakness()) chain::add_gap(gaps, {basis.pointer, reason});
  }
  return gaps;
}

bool Solved::troubled() const {
  return std::any_of(cases.begin(), cases.end(), [](const WorstCase& c) {
    return c.trouble != circuit::Trouble::none && c.trouble != circuit::Trouble::leakage_defined;
  });
}

namespace {

bool is_unknown(const chain::Gap& gap) { return chain::nothing_known(gap.reason); }

/// What stands for the cases where something is unknown: nothing is bounded. The worst case of a guess would be told
/// as a number, cost the most of all, and change no verdict.
void leave_unbounded(Solved& solved, const Wiring& wiring, const std::vector<Quantity>& quantities) {
  const circuit::Solution nominal = circuit::solve(wiring.network);
  solved.unknown = true;
  for (const Quantity& quantity : quantities) {
    WorstCase worst;
    worst.nominal = nominal.at(quantity);
    worst.low = {worst.nominal, -circuit::infinite, {}, false};
    worst.high = {worst.nominal, circuit::infinite, {}, false};
    solved.cases.push_back(std::move(worst));
  }
  solved.low_exact.assign(quantities.size(), false);
  solved.high_exact.assign(quantities.size(), false);
}

}  // namespace

Solved solve_wiring(const Wiring& wiring, const std::vector<Quantity>& quantities) {
  Solved solved;
  const Seen seen = [&](const circuit::Solution& solution) {
    std::vector<double> numbers;
    for (const Quantity& quantity : quantities) numbers.push_back(solution.at(quantity));
    return numbers;
  };
  solved.weakest = weakest_of(wiring);
  solved.gaps = weak_data(wiring, seen);
  if (std::any_of(solved.gaps.begin(), solved.gaps.end(), is_unknown)) {
    leave_unbounded(solved, wiring, quantities);
    return solved;
  }
  solved.cases = worst_case_of(wiring.network, wiring.joints(), quantities);
  std::vector<circuit::Corner> corners;
  for (const WorstCase& worst : solved.cases) {
    solved.low_exact.push_back(worst.low.exact && data_agree(wiring, worst.low.corner));
    solved.high_exact.push_back(worst.high.exact && data_agree(wiring, worst.high.corner));
    for (const Extreme* extreme : {&worst.low, &worst.high}) {
      if (!extreme->corner.empty()) corners.push_back(extreme->corner);
    }
  }
  solved.gaps = weak_data(wiring, seen, corners);
  return solved;
}

double guaranteed_margin(const Solved& solved, const Band& band) {
  double margin = circuit::infinite;
  if (band.min) margin = std::min(margin, solved.cases.at(band.min->which).low.bound - band.min->limit);
  if (band.max) margin = std::min(margin, band.max->limit - solved.cases.at(band.max->which).high.bound);
  return margin;
}

chain::Evidence judged(const Wiring& wiring, const std::vector<Quantity>& quantities, const Solved& solved,
                       const Band& band) {
  chain::Evidence evidence;
  evidence.gaps = solved.gaps;
  for (const chain::Gap& gap : band.gaps) chain::add_gap(evidence.gaps, gap);
  evidence.origin = solved.weakest;
  if (!band.min && !band.max) return evidence;  // nothing is asked: unanswered
  evidence.limit_source = band.limit_source;
  evidence.limit_verified = band.limit_verified;
  evidence.margin_source = band.margin_source;
  evidence.margin_verified = band.margin_verified;
  if (solved.unknown) {
    evidence.verdict = open_unless_broken(wiring, quantities, solved, band);
    return evidence;
  }
  const NearerSide nearer = nearer_side(solved, band);
  const WorstCase& worst = solved.cases.at(nearer.side.which);
  fill_numbers(evidence, worst, band, nearer);
  const bool exact = nearer.low ? solved.low_exact.at(nearer.side.which) : solved.high_exact.at(nearer.side.which);
  evidence.kind = exact ? chain::BoundKind::exact : chain::BoundKind::bounded;
  evidence.verdict = chain::judge(nearer.margin, band.required_margin);
  if (!evidence.gaps.empty()) {
    evidence.verdict = open_unless_broken(wiring, quantities, solved, band);
  } else if (nearer.margin < 0.0 && !nearer.crossed()) {
    // The bound fails, or there is none, yet no failing corner is known: nobody can say.
    evidence.verdict = chain::Verdict::unanswered;
    evidence.gaps.push_back({"", "undecided"});
  }
  return evidence;
}

bool fails_whatever_is_missing(const Wiring& wiring, const std::vector<Quantity>& quantities, const Band& band) {
  if (!wiring.gaps().empty()) return false;  // the structure itself is not known
  const std::optional<circuit::Network> network = only_the_missing_free(wiring);
  if (!network) return false;
  const Band failing = not_met_anywhere_tried(*network, quantities, band);
  const auto fails = [&](const Side& side, bool low_side) {
    const WorstCase worst = circuit::worst_case(*network, {quantities.at(side.which)}).front();
    if (worst.trouble != circuit::Trouble::none) return false;
    return low_side ? worst.high.bound < side.limit : worst.low.bound > side.limit;
  };
  return (failing.min && fails(*failing.min, true)) || (failing.max && fails(*failing.max, false));
}

std::vector<chain::CornerValue> telling_corner(const Wiring& wiring, const std::vector<Quantity>& quantities,
                                               const Solved& solved, const Band& band) {
  const NearerSide nearer = nearer_side(solved, band);
  const WorstCase& worst = solved.cases.at(nearer.side.which);
  return telling_corner(wiring, quantities.at(nearer.side.which), nearer.low ? worst.low : worst.high);
}

namespace {

double nominal_of(const Wiring& wiring, const circuit::CornerEntry& entry) {
  return wiring.network.element(entry.element).range(entry.on_ohm).nominal;
}

/// Whether an entry opens or shorts something on its way back: such a network is another one, solved for itself.
bool changes_shape(const Wiring& wiring, const circuit::CornerEntry& entry) {
  const auto wire_or_gap = [](double ohm) { return ohm == 0.0 || std::isinf(ohm); };
  return wiring.network.element(entry.element).kind == circuit::Kind::resistor &&
         (wire_or_gap(entry.value) || wire_or_gap(nominal_of(wiring, entry)));
}

/// How far a quantity moves from its value at a corner when one entry after the other goes back to its nominal value.
std::vector<double> effects_of(const Wiring& wiring, const Quantity& quantity, const circuit::Corner& corner,
                               const std::vector<circuit::CornerEntry>& entries) {
  circuit::Network at_corner = circuit::network_at(wiring.network, corner);
  std::vector<circuit::Batch::Varied> varied;
  std::vector<std::size_t> together;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (changes_shape(wiring, entries[i])) continue;
    varied.push_back({entries[i].element, entries[i].on_ohm});
    together.push_back(i);
  }
  const std::size_t count = together.size() + 1;  // the last: none has gone back
  std::vector<double> values;
  for (std::size_t i = 0; i < together.size(); ++i) {
    const circuit::CornerEntry& entry = entries[together[i]];
    values.insert(values.end(), count, entry.value);
    values[i * count + i] = nominal_of(wiring, entry);
  }
  std::vector<double> results(count);
  circuit::Batch(at_corner, varied, {quantity}).solve(values.data(), count, results.data());
  std::vector<double> effects(entries.size());
  for (std::size_t i = 0; i < together.size(); ++i) effects[together[i]] = std::fabs(results[i] - results.back());
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (!changes_shape(wiring, entries[i])) continue;
    circuit::Range& ohm = at_corner.element(entries[i].element).value;
    ohm = circuit::Range::exactly(nominal_of(wiring, entries[i]));
    effects[i] = std::fabs(circuit::solve(at_corner).at(quantity) - results.back());
    ohm = circuit::Range::exactly(entries[i].value);
  }
  return effects;
}

}  // namespace

std::vector<chain::CornerValue> telling_corner(const Wiring& wiring, const Quantity& quantity, const Extreme& extreme) {
  std::vector<circuit::CornerEntry> entries;
  for (const circuit::CornerEntry& entry : extreme.corner) {
    if (!wiring.bases(entry).empty()) entries.push_back(entry);
  }
  const std::vector<double> effects = effects_of(wiring, quantity, extreme.corner, entries);
  std::vector<std::pair<double, chain::CornerValue>> ranked;
  double total = 0.0;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (!(effects[i] > noise)) continue;
    const double effect = noise * std::round(effects[i] / noise);  // equal ones stay in the order of the network
    total += effect;
    const circuit::CornerEntry& entry = entries[i];
    const std::string unit = entry.on_ohm ? "ohm" : unit_of(wiring.network.element(entry.element).kind);
    ranked.push_back({effect, {wiring.bases(entry).front().pointer, entry.value, unit}});
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<chain::CornerValue> corner;
  for (const auto& [effect, value] : ranked) {
    if (effect >= telling_share * total) corner.push_back(value);
  }
  return corner;
}

}  // namespace zoneproof::electric
