#include <algorithm>
#include <cmath>
#include <numbers>

#include "electric/pulse_seen.hpp"

namespace zoneproof::electric {

namespace {

using circuit::WorstCase;

void lower(WorstCase& seen, double volts) {
  seen.low.attained = volts;
  seen.low.corner.clear();
}

void raise(WorstCase& seen, double volts) {
  seen.high.attained = volts;
  seen.high.corner.clear();
}

/// The panel's look at pulses, or at a wave.
class PanelLook {
 public:
  PanelLook(PulsedPair& pair, Solved& seen) : pair_(pair), spec_(pair.spec), seen_(seen) {}

  void run() {
    total_s_ = pair_.pulse.total_s + filter();
    add_if_weak(pair_.pulse.gaps, spec_.look_s);
    known_ = spec_.look_s.known() && pair_.pulse.timing.known;
    if (pair_.waves()) {
      at_a_wave();
    } else {
      at_a_pulse();
    }
  }

 private:
  /// What the panel's own filter adds to the settling.
  double filter() {
    add_if_weak(pair_.pulse.gaps, spec_.filter_s);
    if (spec_.filter_s.none()) return 0.0;
    return spec_.filter_s.known() ? spec_.filter_s.high : circuit::infinite;
  }

  void at_a_pulse() {
    const double left = pair_.pulse.left_at_look = known_ ? left_at_most(spec_.look_s.low, total_s_) : 1.0;
    const std::size_t which = *pair_.level.panel;
    const Reach was = before(which);
    const WorstCase& on = pair_.in(0, which);
    const double down = std::max(0.0, on.low.bound - between(on.low.bound, was.low, left));
    const double up = std::max(0.0, between(on.high.bound, was.high, left) - on.high.bound);
    const double missing = known_ ? surely_missing(which) : 0.0;
    widen(which, down, up, missing);
    const auto share_of = [left](double swing) { return left <= 0.0 || swing <= 0.0 ? 0.0 : left * swing; };
    for (std::size_t share : pair_.level.shares)
      widen(share, share_of(on.high.bound - was.low), share_of(was.high - on.low.bound), missing);
  }

  /// Over all parts but the pulse: where the voltage may have been before it.
  Reach before(std::size_t which) const {
    Reach reach{circuit::infinite, -circuit::infinite};
    for (std::size_t k = 1; k < pair_.parts(); ++k) {
      reach.low = std::min(reach.low, pair_.in(k, which).low.bound);
      reach.high = std::max(reach.high, pair_.in(k, which).high.bound);
    }
    return reach;
  }

  /// What the nominal pair certainly still lacks when the panel looks, with its sign; of no pair less is claimed.
  double surely_missing(std::size_t which) const {
    double nearest = circuit::infinite;
    for (std::size_t k = 1; k < pair_.parts(); ++k) {
      const double settled = 1.0 - left_at_most(pair_.lasts(k).low, pair_.pulse.parts[k].total_s);
      const double gap = (pair_.in(0, which).nominal - pair_.in(k, which).nominal) * settled;
      if (std::fabs(gap) < std::fabs(nearest)) nearest = gap;
    }
    const double missing = nearest * left_at_least(spec_.look_s.high, pair_.nominal_times);
    return std::isfinite(missing) ? missing : 0.0;
  }

  void widen(std::size_t which, double down, double up, double missing) {
    WorstCase& seen = seen_.cases.at(which);
    seen.low.bound -= down;
    seen.high.bound += up;
    const double surely = seen.nominal - missing;
    if (surely < seen.low.attained) lower(seen, surely);
    if (surely > seen.high.attained) raise(seen, surely);
    settle_exactness(seen_, which, down, up);
  }

  /// Of a wave the panel sees what stands at its moment, late by at most the settling: a mean of the past by a kernel
  /// whose own mean is no more than T. So it is off by no more than the steepest slope times T.
  void at_a_wave() {
    const bool usable = known_ && pair_.linear && !spec_.wave.is(site::TerminalWave::square);
    Reach share = usable ? wave_share() : Reach{0.0, 1.0};
    const bool rectified = spec_.wave.known() && wave_bottom(*spec_.wave.value) == 0.0;
    const double steep = (rectified ? 2.0 : 1.0) * std::numbers::pi / std::max(pair_.pulse.timing.period.low, 1e-12);
    const double late = usable && std::isfinite(total_s_) ? std::min(1.0, steep * total_s_) : 1.0;
    pair_.pulse.left_at_look = late;
    share = {std::max(0.0, share.low - late), std::min(1.0, share.high + late)};
    std::vector<std::size_t> all = pair_.level.shares;
    all.push_back(*pair_.level.panel);
    for (std::size_t which : all) between_bottom_and_top(which, share);
  }

  void between_bottom_and_top(std::size_t which, const Reach& share) {
    const WorstCase &top = pair_.in(0, which), &bottom = pair_.in(1, which);
    WorstCase& seen = seen_.cases.at(which);
    const double nominal_low = between(bottom.nominal, top.nominal, share.low);
    const double nominal_high = between(bottom.nominal, top.nominal, share.high);
    seen.low.bound = std::min(between(bottom.low.bound, top.low.bound, share.low),
                              between(bottom.low.bound, top.low.bound, share.high));
    seen.high.bound = std::max(between(bottom.high.bound, top.high.bound, share.low),
                               between(bottom.high.bound, top.high.bound, share.high));
    seen.nominal = 0.5 * (nominal_low + nominal_high);
    lower(seen, std::max(nominal_low, nominal_high));  // the nominal pair reads no more than this, and
    raise(seen, std::min(nominal_low, nominal_high));  // no less than this
    settle_exactness(seen_, which, 1.0, 1.0);
  }

  /// Where between its lowest and its highest value the source stands when the panel looks.
  Reach wave_share() const {
    const double first = spec_.look_s.low / pair_.pulse.timing.period.high;
    const double last = spec_.look_s.high / pair_.pulse.timing.period.low;
    std::vector<double> at = {first, last};
    for (double turn : {0.25, 0.5, 0.75, 1.0}) {
      if (turn > first && turn < last) at.push_back(turn);
    }
    Reach reach{1.0, 0.0};
    const double bottom = wave_bottom(*spec_.wave.value);
    for (double moment : at) {
      const double share = (wave_at(*spec_.wave.value, moment) - bottom) / (1.0 - bottom);
      reach = {std::min(reach.low, share), std::max(reach.high, share)};
    }
    return reach;
  }

  PulsedPair& pair_;
  const site::ZoneTerminalSpec& spec_;
  Solved& seen_;
  double total_s_ = 0.0;
  bool known_ = false;
};

}  // namespace

void seen_by_panel(PulsedPair& pair, Solved& seen) { PanelLook(pair, seen).run(); }

void settle_exactness(Solved& seen, std::size_t which, double down, double up) {
  if (down > kSameVolts) seen.low_exact.at(which) = seen.cases.at(which).low.exact = false;
  if (up > kSameVolts) seen.high_exact.at(which) = seen.cases.at(which).high.exact = false;
}

}  // namespace zoneproof::electric
