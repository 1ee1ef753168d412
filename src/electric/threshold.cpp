// Where to put the limits of an input. The normal range must hold the hull H of all spans that must not trigger; each
// span that must trigger lies wholly above or below it, or no range exists. The upper limit then stands between the
// top of H and the lowest alarm above it: moving it up by d gains d at rest and loses d in alarm, so the best place is
// where both margins are equal, their error and hysteresis paid. The same below. A coarse grid is tried on both sides.
#include "electric/threshold.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::electric {

using circuit::infinite;

namespace {

double largest(const site::Value& value) {
  return value.known() ? std::max(std::fabs(value.low), std::fabs(value.high)) : 0.0;
}

struct Hull {
  double low = infinite, high = -infinite;
};

Hull hull_of(const std::vector<Span>& spans) {
  Hull hull;
  for (const Span& span : spans) {
    hull.low = std::min(hull.low, span.low);
    hull.high = std::max(hull.high, span.high);
  }
  return hull;
}

/// Limits on the unit's grid next to `wanted`, both ways; the wish itself where there is no grid. None above what the
/// input can measure.
std::vector<double> on_grid(double wanted, const site::UnitInputSpec& spec) {
  const double most = spec.measuring_max_V.known() ? spec.measuring_max_V.low : infinite;
  wanted = std::min(wanted, most);
  const site::Value& step = spec.step_V;
  if (!step.known() || !(step.nominal > 0.0)) return {wanted};
  const double below = std::floor(wanted / step.nominal + 1e-9) * step.nominal;
  if (below + step.nominal > most) return {below};
  return {below, below + step.nominal};
}

struct Neighbours {
  const Span* below = nullptr;  ///< the nearest alarm below the normal range
  const Span* above = nullptr;
};

Neighbours neighbours_of(const InputSpans& spans, const Hull& hull) {
  Neighbours neighbours;
  const double middle = 0.5 * (hull.low + hull.high);
  for (const Span& span : spans.must_trigger) {
    const bool above = 0.5 * (span.low + span.high) > middle;
    const Span*& nearest = above ? neighbours.above : neighbours.below;
    if (nearest == nullptr || (above ? span.low < nearest->low : span.high > nearest->high)) nearest = &span;
  }
  return neighbours;
}

BestRange best_preset(const InputSpans& spans, const site::UnitInputSpec& spec) {
  BestRange best;
  best.margin = -infinite;
  for (const auto& [id, preset] : spec.presets) {
    NormalRange range;
    if (preset.normal_min_V.known()) range.min_V = preset.normal_min_V.nominal;
    if (preset.normal_max_V.known()) range.max_V = preset.normal_max_V.nominal;
    const double margin = margin_of(range, spans, allowance_of(spec));
    if (margin > best.margin) best = {range, margin, id, "", ""};
  }
  return best;
}

/// Two-sided or one-sided range by the neighbours there are; a threshold unit has only one limit to set.
BestRange best_free(const InputSpans& spans, const site::UnitInputSpec& spec, const Neighbours& neighbours,
                    const Hull& hull) {
  const Allowance allowance = allowance_of(spec);
  const double shift = 0.5 * allowance.hysteresis_V;  // the rest side pays the hysteresis, so the limit leans away
  std::vector<std::optional<double>> lows = {std::nullopt}, highs = {std::nullopt};
  if (neighbours.below != nullptr) {
    lows.clear();
    for (double v : on_grid(0.5 * (neighbours.below->high + hull.low) - shift, spec)) lows.emplace_back(v);
  }
  if (neighbours.above != nullptr) {
    highs.clear();
    for (double v : on_grid(0.5 * (neighbours.above->low + hull.high) + shift, spec)) highs.emplace_back(v);
  }
  BestRange best;
  best.margin = -infinite;
  for (const auto& low : lows) {
    for (const auto& high : highs) {
      const NormalRange range{low, high};
      const double margin = margin_of(range, spans, allowance);
      if (margin > best.margin) best = {range, margin, "", "", ""};
    }
  }
  return best;
}

}  // namespace

Allowance allowance_of(const site::UnitInputSpec& spec) { return {largest(spec.error_V), largest(spec.hysteresis_V)}; }

double margin_of(const NormalRange& range, const InputSpans& spans, const Allowance& allowance) {
  double margin = infinite;
  const double inside = allowance.error_V + allowance.hysteresis_V;
  for (const Span& span : spans.must_not) {
    if (range.min_V) margin = std::min(margin, span.low - (*range.min_V + inside));
    if (range.max_V) margin = std::min(margin, (*range.max_V - inside) - span.high);
  }
  for (const Span& span : spans.must_trigger) {
    const double below = range.min_V ? (*range.min_V - allowance.error_V) - span.high : -infinite;
    const double above = range.max_V ? span.low - (*range.max_V + allowance.error_V) : -infinite;
    margin = std::min(margin, std::max(below, above));
  }
  return margin;
}

std::optional<BestRange> best_range(const InputSpans& spans, const site::UnitInputSpec& spec) {
  if (spans.must_not.empty() || spans.must_trigger.empty()) return std::nullopt;
  if (spec.judging.is(site::Judging::presets)) return best_preset(spans, spec);
  const Hull hull = hull_of(spans.must_not);
  Neighbours neighbours = neighbours_of(spans, hull);
  if (spec.judging.is(site::Judging::threshold) && neighbours.below != nullptr && neighbours.above != nullptr) {
    // One limit only: whichever side is given up, its alarms are missed, and the margin says so.
    BestRange above = best_free(spans, spec, {nullptr, neighbours.above}, hull);
    BestRange below = best_free(spans, spec, {neighbours.below, nullptr}, hull);
    return above.margin >= below.margin ? above : below;
  }
  BestRange best = best_free(spans, spec, neighbours, hull);
  if (neighbours.below != nullptr) best.low_neighbour = neighbours.below->state;
  if (neighbours.above != nullptr) best.high_neighbour = neighbours.above->state;
  return best;
}

}  // namespace zoneproof::electric
