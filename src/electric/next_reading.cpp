#include "electric/next_reading.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace zoneproof::electric {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
/// Values that are tried first, and again between the neighbours of the least telling one, so often.
constexpr int points = 33, refinements = 4;
/// A candidate is worth its time where it leaves less than this share open of what is open now.
constexpr double worth_it = 0.95;

/// What stays open of the question after a reading that shows `value`; nothing where it cannot show that.
double open_after(std::vector<MeterReading>& all, double value, bool same_source, const KnownSource& known,
                  const TerminalQuestion& question) {
  all.back().shown = Extent::exactly(value);
  const TerminalModel model = terminal_model(all, same_source, known);
  return model.empty() ? 0.0 : openness(model, question);
}

/// What stays open of the question if the candidate shows its least telling value.
double worst_after(const std::vector<MeterReading>& readings, bool same_source, const KnownSource& known,
                   const MeterReading& candidate, const Extent& possible, const TerminalQuestion& question) {
  if (!std::isfinite(possible.width())) return infinite;
  std::vector<MeterReading> all = readings;
  all.push_back(candidate);
  // Close together near zero, where a share of an error is small and its digits are not.
  const bool low_is_nearer = std::fabs(possible.low) < std::fabs(possible.high);
  const auto value_at = [&](double t) {
    const double cubed = low_is_nearer ? t * t * t : 1.0 - (1.0 - t) * (1.0 - t) * (1.0 - t);
    return possible.low + possible.width() * cubed;
  };
  double from = 0.0, to = 1.0, worst = 0.0;
  for (int round = 0; round <= refinements; ++round) {
    double at = 0.5 * (from + to);
    const double step = (to - from) / (points - 1);
    for (int i = 0; i < points; ++i) {
      const double open = open_after(all, value_at(from + step * i), same_source, known, question);
      if (open <= worst) continue;
      worst = open;
      at = from + step * i;
    }
    from = std::max(0.0, at - step);
    to = std::min(1.0, at + step);
  }
  return worst;
}

}  // namespace

Extent possible_values(const MeterReading& reading, const TerminalModel& model) {
  const TerminalRegion& region = model.on(reading.supply);
  return reading.kind == MeterKind::voltage ? region.voltage_over(reading.load_S)
                                            : region.current_through(reading.burden_ohm, reading.load_S);
}

double openness(const TerminalModel& model, const TerminalQuestion& question) {
  if (model.empty()) return infinite;
  double widest = 0.0;
  for (const Extent& load : question.loads_S) {
    widest = std::max(widest, model.mains.voltage_over(load).width());
    if (!model.same_source) widest = std::max(widest, model.battery.voltage_over(load).width());
  }
  return widest;
}

std::optional<NextReading> next_reading(const std::vector<MeterReading>& readings, bool same_source,
                                        const KnownSource& known, const std::vector<MeterReading>& candidates,
                                        const TerminalQuestion& question) {
  const TerminalModel now = terminal_model(readings, same_source, known);
  if (now.empty()) return std::nullopt;
  const double present = openness(now, question);
  std::optional<NextReading> best;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const Extent possible = possible_values(candidates[i], now);
    const double after = worst_after(readings, same_source, known, candidates[i], possible, question);
    if (!(after < worth_it * present) || (best && !(after < best->worst_width))) continue;
    best = NextReading{i, after, present};
  }
  return best;
}

ReadingWay lacking(bool any_open, bool any_loaded) {
  if (!any_open) return ReadingWay::open;
  return any_loaded ? ReadingWay::shorted : ReadingWay::loaded;
}

}  // namespace zoneproof::electric
