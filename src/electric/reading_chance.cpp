#include "electric/reading_chance.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>

#include "chain/limit.hpp"
#include "electric/loop_check.hpp"
#include "electric/naming.hpp"
#include "electric/trigger_check.hpp"

namespace zoneproof::electric {

namespace {

using circuit::BandSide;
using circuit::Corner;
using circuit::ElementIndex;

/// What the rulebook says about chance.
struct Rules {
  circuit::YieldOptions options;
  std::vector<chain::Gap> gaps;  ///< entries that are missing
};

Rules rules_of(const site::Site& site) {
  Rules rules{circuit::YieldOptions{{0.0, 0.0}}, {}};
  const auto take = [&](const char* id) {
    const chain::Limit limit = chain::limit_of(site, id);
    if (!limit.value) rules.gaps.push_back({limit.pointer, "no_rule"});
    return limit.value.value_or(0.0);  // in its range: a site with another number is not read
  };
  rules.options.law.sigmas = take("yield_sigmas");
  rules.options.law.log_ratio = take("yield_log_ratio");
  rules.options.confidence = take("yield_confidence_pct") / 100.0;
  return rules;
}

/// Contacts that may stand either way, as an extreme has them.
Corner switches_at(const Wiring& wiring, const Corner& corner, double leakage_ohm) {
  Corner held;
  for (std::size_t i = 0; i < wiring.network.elements().size(); ++i) {
    const circuit::Element& element = wiring.network.elements()[i];
    const auto index = static_cast<ElementIndex>(i);
    if (!circuit::is_switch(element, leakage_ohm)) continue;
    const auto entry = std::find_if(corner.begin(), corner.end(), [&](const circuit::CornerEntry& candidate) {
      return candidate.element == index && !candidate.on_ohm;
    });
    // What a corner leaves out moves nothing.
    held.push_back(entry == corner.end() ? circuit::CornerEntry{index, element.value.nominal, false} : *entry);
  }
  return held;
}

/// A side of the band as circuit::yield asks for it, and what the worst case says of it.
struct AskedSide {
  BandSide side;
  bool certain = false;   ///< held by all specimens
  bool hopeless = false;  ///< by none
};

std::vector<AskedSide> asked_sides(const Level& level, const Band& band, double leakage_ohm) {
  std::vector<AskedSide> sides;
  const auto add = [&](const Side& side, bool at_least) {
    const circuit::WorstCase& worst = level.solved.cases.at(side.which);
    const circuit::Extreme& extreme = at_least ? worst.low : worst.high;
    const bool certain = at_least ? extreme.bound >= side.limit : extreme.bound <= side.limit;
    const bool hopeless = at_least ? worst.high.bound < side.limit : worst.low.bound > side.limit;
    sides.push_back({{level.quantities.at(side.which), side.limit, at_least,
                      switches_at(level.circuit.wiring, extreme.corner, leakage_ohm)},
                     certain,
                     hopeless});
  };
  if (band.min) add(*band.min, true);
  if (band.max) add(*band.max, false);
  return sides;
}

/// The share of a normal distribution that lies beyond the limit.
double beyond(const BandSide& side, const circuit::LinearSpread& linear) {
  const double room = side.at_least ? linear.middle - side.limit : side.limit - linear.middle;
  if (!(linear.sigma > 0.0)) return room >= 0.0 ? 0.0 : 1.0;
  return 0.5 * std::erfc(room / linear.sigma / std::sqrt(2.0));
}

void add_share(const Wiring& wiring, const circuit::VarianceShare& part, std::vector<SpreadShare>& shares) {
  const std::vector<Basis> bases = wiring.bases(circuit::CornerEntry{part.element, 0.0, false, part.on_ohm});
  if (bases.empty()) return;
  const std::string& pointer = bases.front().pointer;
  const auto same =
      std::find_if(shares.begin(), shares.end(), [&](const SpreadShare& other) { return other.pointer == pointer; });
  if (same == shares.end()) {
    shares.push_back({pointer, part.share});
  } else {
    same->share += part.share;
  }
}

bool same(const circuit::Quantity& a, const circuit::Quantity& b) {
  return std::equal(a.terms.begin(), a.terms.end(), b.terms.begin(), b.terms.end(),
                    [](const auto& x, const auto& y) { return x.node == y.node && x.weight == y.weight; });
}

bool same(const Corner& a, const Corner& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
    return x.element == y.element && x.on_ohm == y.on_ohm && x.value == y.value;
  });
}

/// Spreads of quantities of one network, each computed once.
class Spreads {
 public:
  Spreads(const circuit::Network& network, const circuit::YieldOptions& options)
      : network_(network), options_(options) {}

  const circuit::LinearSpread& of(const circuit::Quantity& quantity, const Corner& held) {
    for (const Known& known : known_) {
      if (same(known.quantity, quantity) && same(known.held, held)) return known.spread;
    }
    known_.push_back({quantity, held, circuit::linear_spread(network_, quantity, held, options_)});
    return known_.back().spread;
  }

 private:
  struct Known {
    circuit::Quantity quantity;
    Corner held;
    circuit::LinearSpread spread;
  };
  const circuit::Network& network_;
  const circuit::YieldOptions& options_;
  std::deque<Known> known_;  ///< references to what is inside stay good
};

bool usable(const circuit::LinearSpread& linear) {
  return linear.trouble == circuit::Trouble::none || linear.trouble == circuit::Trouble::leakage_defined;
}

/// The spread of the reading, with its contacts as on that side on which it is wider.
void add_spread(const Level& level, std::size_t which, const std::vector<AskedSide>& sides,
                const circuit::YieldOptions& options, ReadingChance& answer) {
  const Wiring& wiring = level.circuit.wiring;
  Spreads spreads(wiring.network, options);
  double wrong = 0.0;
  const circuit::LinearSpread* widest = nullptr;
  for (const AskedSide& asked : sides) {
    const circuit::LinearSpread& of_side = spreads.of(asked.side.quantity, asked.side.held);
    const circuit::LinearSpread& of_reading = spreads.of(level.quantities.at(which), asked.side.held);
    if (!usable(of_side) || !usable(of_reading)) return;  // no linear answer; what is counted stands on its own
    wrong += beyond(asked.side, of_side);
    if (widest == nullptr || of_reading.sigma > widest->sigma) widest = &of_reading;
  }
  if (widest == nullptr) return;
  answer.sigma_V = widest->sigma;
  answer.by_normal = std::min(wrong, 1.0);
  for (const circuit::VarianceShare& part : widest->shares) add_share(wiring, part, answer.shares);
  std::stable_sort(answer.shares.begin(), answer.shares.end(),
                   [](const SpreadShare& a, const SpreadShare& b) { return a.share > b.share; });
}

/// Everything that has to be known before anything is said about chance.
std::vector<chain::Gap> missing_for(const Level& level, const Band& band, const Rules& rules) {
  std::vector<chain::Gap> gaps = rules.gaps;
  for (const chain::Gap& gap : level.solved.gaps) chain::add_gap(gaps, gap);
  for (const chain::Gap& gap : band.gaps) chain::add_gap(gaps, gap);
  return gaps;
}

ReadingChance chance_of(const site::Site& site, const Level& level, std::optional<std::size_t> which,
                        const std::optional<Band>& band) {
  ReadingChance answer;
  if (!band) return answer;
  const Rules rules = rules_of(site);
  answer.kind = ChanceKind::open;
  answer.confidence = rules.options.confidence;
  answer.gaps = missing_for(level, *band, rules);
  if (level.pulse) {  // chance of a moving level, and of the moment at which it is looked at, is not counted
    for (const chain::Gap& gap : level.pulse->gaps) chain::add_gap(answer.gaps, gap);
    if (answer.gaps.empty()) answer.gaps.push_back({level.circuit.terminal->spec->drive.pointer, "later_issue"});
  }
  const bool limited = band->min || band->max;
  if (!which || !answer.gaps.empty() || !limited) return answer;
  if (!level.solved.has_numbers(*which) || !level.circuit.wiring.joints().empty()) {
    answer.gaps.push_back({"", "undecided"});
    return answer;
  }
  const std::vector<AskedSide> sides = asked_sides(level, *band, rules.options.solve.leakage_ohm);
  add_spread(level, *which, sides, rules.options, answer);
  std::vector<BandSide> uncertain;
  for (const AskedSide& asked : sides) {
    if (!asked.certain) uncertain.push_back(asked.side);
  }
  const bool always = std::any_of(sides.begin(), sides.end(), [](const AskedSide& asked) { return asked.hopeless; });
  answer.kind = always ? ChanceKind::always : uncertain.empty() ? ChanceKind::none : ChanceKind::counted;
  if (answer.kind == ChanceKind::counted)
    answer.chance = circuit::chance_outside(level.circuit.wiring.network, uncertain, rules.options);
  return answer;
}

}  // namespace

const char* word(ChanceKind kind) {
  static constexpr std::array<const char*, 5> words = {"not_asked", "open", "none", "always", "counted"};
  return words[static_cast<std::size_t>(kind)];
}

ReadingChance panel_chance(const site::Site& site, const Level& level) {
  if (level.situation.state.happening == Happening::shorted) return {};
  std::optional<Band> band;
  if (level.panel) band = right_band(level);
  if (band) return chance_of(site, level, level.panel, band);
  ReadingChance answer;
  answer.kind = ChanceKind::open;
  answer.gaps = level.panel ? std::vector<chain::Gap>{{windows_pointer(site, level.situation.zone), "unknown"}}
                            : level.solved.gaps;
  return answer;
}

ReadingChance unit_chance(const site::Site& site, const Level& level) {
  if (level.situation.state.happening == Happening::shorted) return {};
  return chance_of(site, level, level.unit, right_input_band(site, level));
}

}  // namespace zoneproof::electric
