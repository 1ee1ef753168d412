#include "electric/reading_chance.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "electric/limit.hpp"
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
  std::vector<chain::Gap> gaps;  ///< entries that are missing, or that say nothing possible
};

Rules rules_of(const site::Site& site) {
  Rules rules{circuit::YieldOptions{{0.0, 0.0}}, {}};
  const auto take = [&](const char* id, double least, double most, bool ends) {
    const Limit limit = limit_of(site, id);
    if (limit.value && (ends ? *limit.value >= least : *limit.value > least) && *limit.value < most)
      return *limit.value;
    rules.gaps.push_back({limit.pointer, "no_rule"});
    return 0.0;
  };
  rules.options.law.sigmas = take("yield_sigmas", 0.0, circuit::infinite, true);
  rules.options.law.log_ratio = take("yield_log_ratio", 1.0, circuit::infinite, false);
  rules.options.confidence = take("yield_confidence_pct", 0.0, 100.0, false) / 100.0;
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

/// A side of the band as circuit::yield asks for it, and whether the worst case holds it.
struct AskedSide {
  BandSide side;
  bool certain = false;
};

std::vector<AskedSide> asked_sides(const Level& level, const Band& band, double leakage_ohm) {
  std::vector<AskedSide> sides;
  const auto add = [&](const Side& side, bool at_least) {
    const circuit::WorstCase& worst = level.solved.cases.at(side.which);
    const circuit::Extreme& extreme = at_least ? worst.low : worst.high;
    const bool certain = at_least ? extreme.bound >= side.limit : extreme.bound <= side.limit;
    sides.push_back({{level.quantities.at(side.which), side.limit, at_least,
                      switches_at(level.circuit.wiring, extreme.corner, leakage_ohm)},
                     certain});
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

/// The spread of the reading, with its contacts as on the side that the worst case comes nearest to.
void add_spread(const Level& level, std::size_t which, const std::vector<AskedSide>& sides,
                const circuit::YieldOptions& options, ReadingChance& answer) {
  const circuit::Quantity& reading = level.quantities.at(which);
  double wrong = 0.0;
  std::optional<circuit::LinearSpread> widest;
  for (const AskedSide& asked : sides) {
    const Wiring& wiring = level.circuit.wiring;
    const auto usable = [](const circuit::LinearSpread& linear) {
      return linear.trouble == circuit::Trouble::none || linear.trouble == circuit::Trouble::leakage_defined;
    };
    const circuit::LinearSpread of_side =
        circuit::linear_spread(wiring.network, asked.side.quantity, asked.side.held, options);
    const circuit::LinearSpread of_reading = circuit::linear_spread(wiring.network, reading, asked.side.held, options);
    if (!usable(of_side) || !usable(of_reading)) return;  // no linear answer; what is counted stands on its own
    wrong += beyond(asked.side, of_side);
    if (!widest || of_reading.sigma > widest->sigma) widest = of_reading;
  }
  if (!widest) return;
  answer.sigma_V = widest->sigma;
  answer.by_normal = std::min(wrong, 1.0);
  for (const circuit::VarianceShare& part : widest->shares) add_share(level.circuit.wiring, part, answer.shares);
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
  answer.kind = uncertain.empty() ? ChanceKind::none : ChanceKind::counted;
  if (!uncertain.empty())
    answer.chance = circuit::chance_outside(level.circuit.wiring.network, uncertain, rules.options);
  return answer;
}

}  // namespace

const char* word(ChanceKind kind) {
  static constexpr std::array<const char*, 4> words = {"not_asked", "open", "none", "counted"};
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
