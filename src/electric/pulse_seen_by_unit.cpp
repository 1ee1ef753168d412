#include <algorithm>
#include <cmath>
#include <numbers>

#include "electric/pulse_seen.hpp"

namespace zoneproof::electric {

namespace {

using circuit::WorstCase;

constexpr int kWaveSteps = 256;  // stretches of a wave that a filter is given

class UnitLook {
 public:
  UnitLook(PulsedPair& pair, Solved& seen)
      : pair_(pair), which_(*pair.level.unit), seen_(seen), worst_(seen.cases.at(which_)) {}

  void run() {
    for (std::size_t k = 0; k < pair_.parts(); ++k) {
      const WorstCase& standing = pair_.in(k, which_);
      if (standing.low.bound < worst_.low.bound) take_low(k);
      if (standing.high.bound > worst_.high.bound) take_high(k);
    }
    if (worst_.high.bound - worst_.low.bound <= kSameVolts) return;  // a short, a cut wire: nothing moves
    const Reach reached = reached_unfiltered();
    worst_.low.attained = reached.low;
    worst_.high.attained = reached.high;
    if (reached.low - worst_.low.bound > kSameVolts) seen_.low_exact.at(which_) = false;
    if (worst_.high.bound - reached.high > kSameVolts) seen_.high_exact.at(which_) = false;
    if (!pair_.input->filter_s.none()) through_filter();
  }

 private:
  void take_low(std::size_t part) {
    worst_.low = pair_.in(part, which_).low;
    worst_.low.corner.clear();  // of another network than the pulse's
    seen_.low_exact.at(which_) = pair_.pulse.parts[part].solved.low_exact.at(which_);
  }
  void take_high(std::size_t part) {
    worst_.high = pair_.in(part, which_).high;
    worst_.high.corner.clear();
    seen_.high_exact.at(which_) = pair_.pulse.parts[part].solved.high_exact.at(which_);
  }

  /// How far down and up some real pair goes at some moment: to where it stands, but for what has not settled by the
  /// end of the part. A wave has been within its top for some time before; the best such time is taken.
  Reach reached_unfiltered() const {
    Reach reach{circuit::infinite, -circuit::infinite};
    for (std::size_t k = 0; k < pair_.parts(); ++k) {
      const WorstCase& standing = pair_.in(k, which_);
      const double lost = unsettled(k);
      reach.low = std::min(reach.low, standing.low.attained + lost * (worst_.high.bound - standing.low.attained));
      reach.high = std::max(reach.high, standing.high.attained - lost * (standing.high.attained - worst_.low.bound));
    }
    return reach;
  }

  double unsettled(std::size_t part) const {
    if (!pair_.pulse.timing.known) return 1.0;
    const double total = pair_.pulse.parts[part].total_s;
    if (!pair_.waves()) return left_at_most(pair_.lasts(part).low, total);
    if (!pair_.linear) return 1.0;
    double best = 1.0;
    for (int i = 1; i <= 16; ++i) {  // within i/64 of a period either way of the top
      const double share = i / 64.0;
      const double short_of_top = 1.0 - std::cos(2.0 * std::numbers::pi * share);
      best = std::min(best, short_of_top + left_at_most(2.0 * share * pair_.pulse.timing.period.low, total));
    }
    return best;
  }

  void through_filter() {
    const site::Value& filter = pair_.input->filter_s;
    add_if_weak(pair_.pulse.gaps, filter);
    const bool firm = filter.known() && chain::weakness(false, filter.origin) == nullptr;
    if (!firm || !pair_.pulse.timing.known) {
      worst_.low.attained = worst_.high.attained = std::nan("");  // the filter may help: nothing is claimed
      return;
    }
    if (filter.high == 0.0) return;
    const Reach bound = pair_.waves() ? filtered_wave(filter.low) : filtered_pulses(filter.low);
    if (bound.low > worst_.low.bound) worst_.low.bound = bound.low;
    if (bound.high < worst_.high.bound) worst_.high.bound = bound.high;
    // Highest that the lowest possible course of the nominal pair comes to, and the other way round.
    const Reach surely = pair_.waves() ? Reach{worst_.high.bound, worst_.low.bound} : surely_filtered(filter.high);
    worst_.high.attained = std::min(worst_.high.bound, surely.high);
    worst_.low.attained = std::max(worst_.low.bound, surely.low);
    settle_exactness(seen_, which_, 1.0, 1.0);
    worst_.nominal = pair_.mean_nominal(which_);
  }

  /// A part that comes third in order may be late from either of the others; the worst of both orders is kept.
  Reach filtered_pulses(double filter_s) const {
    Reach reach{circuit::infinite, -circuit::infinite};
    pair_.each_period([&](const auto& order, const auto& seconds) {
      const auto course = [&](bool high) { return pair_.bounding_course(order, seconds, high, pair_.linear, which_); };
      reach.high = std::max(reach.high, filtered(course(true), filter_s).high);
      reach.low = std::min(reach.low, filtered(course(false), filter_s).low);
    });
    return reach;
  }

  Reach surely_filtered(double slowest) const {
    Reach reach{circuit::infinite, -circuit::infinite};
    const auto nominal = [&](std::size_t part) { return pair_.in(part, which_).nominal; };
    pair_.each_period([&](const auto& order, const auto& seconds) {
      // Lowest course: late upward.
      reach.high = std::max(reach.high, filtered(pair_.course(order, seconds, false, false, nominal), slowest).high);
      reach.low = std::min(reach.low, filtered(pair_.course(order, seconds, true, false, nominal), slowest).low);
    });
    return reach;
  }

  /// A linear pair filters its source's wave and the filter's output alike: it only brings the reach nearer to the
  /// mean.
  Reach filtered_wave(double filter_s) const {
    if (!pair_.linear) return {worst_.low.bound, worst_.high.bound};
    const site::TerminalWave wave = *pair_.spec.wave.value;
    Period top, bottom;
    const double base = wave_bottom(wave);
    const double step = pair_.pulse.timing.period.high / kWaveSteps;
    for (int i = 0; i < kWaveSteps; ++i) {
      const double a = wave_at(wave, static_cast<double>(i) / kWaveSteps);
      const double b = wave_at(wave, (i + 1.0) / kWaveSteps);  // turns stand at ends of steps
      const auto of = [&](double value, bool high) {
        return between(pair_.bound(1, which_, high), pair_.bound(0, which_, high), (value - base) / (1.0 - base));
      };
      top.push_back({step, of(std::max(a, b), true)});
      bottom.push_back({step, of(std::min(a, b), false)});
    }
    return {filtered(bottom, filter_s).low, filtered(top, filter_s).high};
  }

  PulsedPair& pair_;
  std::size_t which_;
  Solved& seen_;
  WorstCase& worst_;  ///< of the unit's reading, in `seen_`
};

}  // namespace

void seen_by_unit(PulsedPair& pair, Solved& seen) { UnitLook(pair, seen).run(); }

}  // namespace zoneproof::electric
