#include "electric/finding.hpp"

#include <algorithm>
#include <cmath>

#include "base/outward.hpp"
#include "messages/electric.hpp"

namespace zoneproof::electric {

namespace {

/// By what share of a margin supplies apart must lessen it to be told instead of a condition that all supplies share.
constexpr double worth_a_name = 1e-3;
/// Margins that differ by no more (of the larger of themselves and 1) are the same: which is first must not hang on the
/// last digits that a machine rounds its own way.
constexpr double same_margin = 1e-8;

using chain::Evidence;
using chain::Verdict;

std::vector<std::string> named_nodes(const Wiring& wiring, const std::vector<circuit::Node>& nodes) {
  std::vector<std::string> names;
  for (circuit::Node node : nodes) names.push_back(wiring.network.node_name(node));
  return names;
}

std::vector<std::string> named_elements(const Wiring& wiring, const std::vector<circuit::ElementIndex>& elements) {
  std::vector<std::string> names;
  for (circuit::ElementIndex element : elements) names.push_back(wiring.network.element(element).name);
  return names;
}

/// Gives evidence the words that say what it is about.
void name(Evidence& evidence, const Subject& subject) {
  evidence.id = subject.check;
  evidence.subject = subject.id;
  evidence.link = subject.link;
  evidence.quantity = subject.quantity;
  evidence.unit = subject.unit;
  evidence.condition = subject.condition;
}

Evidence blank(const Subject& subject) {
  Evidence evidence;
  name(evidence, subject);
  return evidence;
}

/// The network itself has no answer: floating, collapsed, or not solvable. Only what the site has in full can be
/// broken.
Evidence troubled(const Subject& subject, const Wiring& wiring, const Solved& solved, const circuit::WorstCase& worst) {
  Evidence evidence = blank(subject);
  evidence.gaps = solved.gaps;
  evidence.origin = solved.weakest;
  evidence.verdict = solved.gaps.empty() ? Verdict::broken : Verdict::unanswered;
  switch (worst.trouble) {
    case circuit::Trouble::floating:
      evidence.says = say::level_floats(subject.thing, named_nodes(wiring, worst.troubled_nodes));
      break;
    case circuit::Trouble::collapsed:
      evidence.says = say::supply_collapses(subject.thing, named_elements(wiring, worst.troubled_elements));
      break;
    case circuit::Trouble::source_loop:
      evidence.says = say::sources_against_each_other(subject.thing, named_elements(wiring, worst.troubled_elements));
      break;
    default:
      evidence.verdict = Verdict::unanswered;
      evidence.gaps.push_back({"", "undecided"});
      evidence.says = say::level_not_solved(subject.thing);
  }
  return evidence;
}

/// Whether a load collapses that stands across the very nodes of the quantity. Loads that fall are enclosed from
/// nothing to their hardest pull, so every other level has its bounds all the same.
bool collapses(const Wiring& wiring, const circuit::Quantity& quantity, const circuit::WorstCase& worst) {
  const auto reads = [&](circuit::Node node) {
    return std::any_of(quantity.terms.begin(), quantity.terms.end(),
                       [&](const circuit::Quantity::Term& term) { return term.node == node; });
  };
  return std::any_of(worst.troubled_elements.begin(), worst.troubled_elements.end(), [&](circuit::ElementIndex index) {
    const circuit::Element& load = wiring.network.element(index);
    return reads(load.from) && reads(load.to);
  });
}

bool has_level(const Wiring& wiring, const circuit::Quantity& quantity, const circuit::WorstCase& worst) {
  switch (worst.trouble) {
    case circuit::Trouble::none:
    case circuit::Trouble::leakage_defined: return true;
    case circuit::Trouble::collapsed: return !collapses(wiring, quantity, worst);
    default: return false;
  }
}

void say_numbers(Evidence& evidence, const Subject& subject, const Wiring& wiring, const Solved& solved,
                 const Band& band) {
  const std::size_t which = band.min ? band.min->which : band.max->which;
  const circuit::WorstCase& worst = solved.cases.at(which);
  const Measure low = lowest({worst.low.bound, subject.unit});
  const Measure high = highest({worst.high.bound, subject.unit});
  if (evidence.verdict == Verdict::unanswered && (!std::isfinite(low.value) || !std::isfinite(high.value))) {
    const bool collapsed = worst.trouble == circuit::Trouble::collapsed;
    evidence.says = collapsed ? say::supply_collapses(subject.thing, named_elements(wiring, worst.troubled_elements))
                              : say::level_not_solved(subject.thing);
    return;
  }
  const Measure margin = lowest({evidence.margin.value_or(0.0), subject.unit});
  const Measure asked{band.required_margin, subject.unit};
  const std::string words = band_words(band, subject.unit);
  switch (evidence.verdict) {
    case Verdict::proven: evidence.says = say::level_proven(subject.thing, low, high, words, margin); return;
    case Verdict::thin: evidence.says = say::level_thin(subject.thing, low, high, words, margin, asked); return;
    case Verdict::broken: evidence.says = say::level_broken(subject.thing, low, high, words); return;
    case Verdict::unanswered: evidence.says = say::level_unanswered(subject.thing, low, high, words); return;
  }
}

}  // namespace

std::string band_words(const Band& band, const std::string& unit) {
  if (band.min && band.max) {
    return text(say::band_between(Measure{band.min->limit, unit}, Measure{band.max->limit, unit}));
  }
  if (band.min) return text(say::band_at_least(Measure{band.min->limit, unit}));
  return text(say::band_at_most(Measure{band.max->limit, unit}));
}

Evidence finding(const Subject& subject, const Wiring& wiring, const std::vector<circuit::Quantity>& quantities,
                 const Solved& solved, const Band& band) {
  for (const std::optional<Side>& side : {band.min, band.max}) {
    if (!side) continue;
    const circuit::WorstCase& worst = solved.cases.at(side->which);
    if (!has_level(wiring, quantities.at(side->which), worst)) return troubled(subject, wiring, solved, worst);
  }
  Evidence evidence = judged(wiring, quantities, solved, band);
  name(evidence, subject);
  if (solved.unknown) {
    const bool broken = evidence.verdict == Verdict::broken;
    const std::string words = band_words(band, subject.unit);
    evidence.says = broken ? say::broken_whatever_is_missing(subject.thing, words) : say::not_known(subject.thing);
    return evidence;
  }
  if (band.min || band.max) say_numbers(evidence, subject, wiring, solved, band);
  return evidence;
}

bool worse(const Evidence& a, const Evidence& b) {
  if (a.verdict != b.verdict) return chain::rank(a.verdict) < chain::rank(b.verdict);
  const double unknown_margin = circuit::infinite;
  const double margin = a.margin.value_or(unknown_margin), other = b.margin.value_or(unknown_margin);
  // A mixture of supplies encloses every common condition: it is named where it says something of its own.
  const std::string apart = word(SupplyCondition::supplies_apart);
  const bool only_apart = a.condition.rfind(apart, 0) == 0 && b.condition.rfind(apart, 0) != 0;
  if (!std::isfinite(margin) || !std::isfinite(other)) return margin < other;
  if (only_apart) return other - margin > worth_a_name * std::fabs(other);
  return other - margin > same_margin * std::max(1.0, std::fabs(other));
}

void Worst::offer(Evidence candidate, std::function<std::vector<chain::CornerValue>()> corner) {
  if (evidence_ && !worse(candidate, *evidence_)) return;
  evidence_ = std::move(candidate);
  corner_ = std::move(corner);
}

Evidence Worst::take() {
  if (corner_ && evidence_->value) evidence_->corner = corner_();
  return std::move(*evidence_);
}

Evidence unanswered(const Subject& subject, std::vector<chain::Gap> gaps) {
  Evidence evidence = blank(subject);
  evidence.gaps = std::move(gaps);
  evidence.says = say::not_known(subject.thing);
  return evidence;
}

}  // namespace zoneproof::electric
