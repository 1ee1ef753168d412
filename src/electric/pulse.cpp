#include "electric/pulse.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "electric/element_name.hpp"
#include "electric/levels.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Quantity;
using circuit::WorstCase;
using site::TerminalDrive;

constexpr int kLaggardSteps = 64;  // stretches of a settling voltage; what they lose is on the safe side
constexpr int kWaveSteps = 256;    // stretches of a wave
constexpr double kSame = 1e-6;     // V; as exact_tolerance of the worst case

/// (1 - share) a + share b, also where the one without weight has no end.
double between(double a, double b, double share) {
  if (share <= 0.0) return a;
  return share >= 1.0 ? b : (1.0 - share) * a + share * b;
}

class PulseFollower {
 public:
  PulseFollower(const site::Site& site, Level& level)
      : site_(site), level_(level), spec_(*level.circuit.terminal->spec), input_(input_of(level)) {}

  void run() {
    pulse_.timing = timing_of(spec_);
    for (const chain::Gap& gap : pulse_.timing.gaps) chain::add_gap(pulse_.gaps, gap);
    pulse_.tapped = level_.unit && level_.circuit.taps.count(level_.situation.trigger) != 0;
    stand_in_all_parts();
    if (level_.solved.unknown || troubled()) {
      level_.pulse = std::move(pulse_);
      return;
    }
    panel_sees();
    if (pulse_.tapped) unit_sees();
    if (pulse_.timing.known) {
      pulse_.panel_meter = meter(*level_.panel);
      if (level_.unit) pulse_.unit_meter = meter(*level_.unit);
    }
    level_.solved = std::move(seen_);
    level_.pulse = std::move(pulse_);
  }

 private:
  static const site::UnitInputSpec* input_of(const Level& level) {
    return level.circuit.input ? &level.circuit.input->spec->input : nullptr;
  }

  bool waves() const { return spec_.drive.is(TerminalDrive::alternating); }

  bool troubled() const {
    return std::any_of(pulse_.parts.begin(), pulse_.parts.end(), [](const StandingLevel& standing) {
      return standing.solved.unknown || standing.solved.troubled();
    });
  }

  // ---- The parts ----

  /// Clamps of the unit's input: where none conducts in any part, the pair is linear.
  std::vector<circuit::ElementIndex> clamps(const circuit::Network& network) const {
    std::vector<circuit::ElementIndex> found;
    for (const auto& [id, input] : level_.circuit.taps) {
      for (const char* name : {"clamp_high", "clamp_low"}) {
        if (const auto index = network.find_element(part_name(site::first_on_input(site_, id), name)))
          found.push_back(*index);
      }
    }
    return found;
  }

  void stand_in_all_parts() {
    for (DrivePart part : parts_of(spec_)) {
      StandingLevel standing;
      standing.part = part;
      const ZoneCircuit circuit = build_zone_circuit(site_, level_.situation, part);
      standing.solved = stand(circuit);
      const PairTimes times = pair_times(site_, level_.situation, circuit);
      for (const chain::Gap& gap : times.gaps) chain::add_gap(pulse_.gaps, gap);
      standing.total_s = times.total_s;
      if (part == DrivePart::on) {
        pulse_.total_s = times.total_s;
        nominal_times_ = times.panel;
      }
      linear_ = linear_ && !lets_go(spec_, part);
      pulse_.parts.push_back(std::move(standing));
    }
    seen_ = pulse_.parts.front().solved;
    for (const StandingLevel& standing : pulse_.parts) {
      for (const chain::Gap& gap : standing.solved.gaps) chain::add_gap(seen_.gaps, gap);
      seen_.weakest = std::max(seen_.weakest, standing.solved.weakest);
      if (standing.solved.unknown) seen_.unknown = true;
    }
    seen_.weakest = std::max(seen_.weakest, pulse_.timing.origin);
    level_.solved.gaps = seen_.gaps;
    level_.solved.unknown = level_.solved.unknown || seen_.unknown;
  }

  Solved stand(const ZoneCircuit& circuit) {
    std::vector<Quantity> quantities = level_.quantities;
    const std::vector<circuit::ElementIndex> diodes = clamps(circuit.wiring.network);
    for (circuit::ElementIndex index : diodes) {
      const circuit::Element& diode = circuit.wiring.network.element(index);
      quantities.push_back(Quantity::voltage(diode.from, diode.to));
    }
    Solved solved = solve_wiring(circuit.wiring, quantities);
    const std::size_t asked = level_.quantities.size();
    for (std::size_t i = 0; i < diodes.size(); ++i) {
      const circuit::Element& diode = circuit.wiring.network.element(diodes[i]);
      linear_ = linear_ && !solved.unknown && solved.cases.at(asked + i).high.bound < diode.value.low;
    }
    solved.cases.resize(asked);
    solved.low_exact.resize(asked);
    solved.high_exact.resize(asked);
    return solved;
  }

  const WorstCase& in(std::size_t part, std::size_t which) const { return pulse_.parts[part].solved.cases.at(which); }

  /// Over all parts but the pulse: where the voltage may have been before it.
  Reach before(std::size_t which) const {
    Reach reach{circuit::infinite, -circuit::infinite};
    for (std::size_t k = 1; k < pulse_.parts.size(); ++k) {
      reach.low = std::min(reach.low, in(k, which).low.bound);
      reach.high = std::max(reach.high, in(k, which).high.bound);
    }
    return reach;
  }

  // ---- The panel ----

  /// What the panel's own filter adds to the settling.
  double panel_filter() {
    add_if_weak(pulse_.gaps, spec_.filter_s);
    if (spec_.filter_s.none()) return 0.0;
    return spec_.filter_s.known() ? spec_.filter_s.high : circuit::infinite;
  }

  void panel_sees() {
    const double total = pulse_.total_s + panel_filter();
    add_if_weak(pulse_.gaps, spec_.look_s);
    const bool known = spec_.look_s.known() && pulse_.timing.known;
    if (waves()) return panel_sees_wave(known, total);
    pulse_.left_at_look = known ? left_at_most(spec_.look_s.low, total) : 1.0;
    const std::size_t which = *level_.panel;
    const Reach was = before(which);
    const WorstCase& on = in(0, which);
    const double down = std::max(0.0, on.low.bound - between(on.low.bound, was.low, pulse_.left_at_look));
    const double up = std::max(0.0, between(on.high.bound, was.high, pulse_.left_at_look) - on.high.bound);
    const double missing = known ? surely_missing(which) : 0.0;
    widen(which, down, up, missing);
    const double widest = pulse_.left_at_look;
    const auto share_of = [widest](double swing) { return widest <= 0.0 || swing <= 0.0 ? 0.0 : widest * swing; };
    for (std::size_t share : level_.shares)
      widen(share, share_of(on.high.bound - was.low), share_of(was.high - on.low.bound), missing);
  }

  /// What the nominal pair certainly still lacks when the panel looks, with its sign; of no pair less is claimed.
  double surely_missing(std::size_t which) const {
    double nearest = circuit::infinite;
    for (std::size_t k = 1; k < pulse_.parts.size(); ++k) {
      const double settled = 1.0 - left_at_most(pulse_.timing.of(pulse_.parts[k].part).low, pulse_.parts[k].total_s);
      const double gap = (in(0, which).nominal - in(k, which).nominal) * settled;
      if (std::fabs(gap) < std::fabs(nearest)) nearest = gap;
    }
    const double missing = nearest * left_at_least(spec_.look_s.high, nominal_times_);
    return std::isfinite(missing) ? missing : 0.0;
  }

  void widen(std::size_t which, double down, double up, double missing) {
    WorstCase& seen = seen_.cases.at(which);
    seen.low.bound -= down;
    seen.high.bound += up;
    const double surely = seen.nominal - missing;
    if (surely < seen.low.attained) lower(seen, surely);
    if (surely > seen.high.attained) raise(seen, surely);
    settle_exactness(which, down, up);
  }

  static void lower(WorstCase& seen, double volts) {
    seen.low.attained = volts;
    seen.low.corner.clear();
  }
  static void raise(WorstCase& seen, double volts) {
    seen.high.attained = volts;
    seen.high.corner.clear();
  }

  void settle_exactness(std::size_t which, double down, double up) {
    if (down > kSame) seen_.low_exact.at(which) = seen_.cases.at(which).low.exact = false;
    if (up > kSame) seen_.high_exact.at(which) = seen_.cases.at(which).high.exact = false;
  }

  /// Of a wave the panel sees what stands at its moment, late by at most the settling: a mean of the past by a kernel
  /// whose own mean is no more than T. So it is off by no more than the steepest slope times T.
  void panel_sees_wave(bool known, double total) {
    const bool usable = known && linear_ && !spec_.wave.is(site::TerminalWave::square);
    Reach share = usable ? wave_share() : Reach{0.0, 1.0};
    const bool rectified = spec_.wave.known() && wave_bottom(*spec_.wave.value) == 0.0;
    const double steep = (rectified ? 2.0 : 1.0) * std::acos(-1.0) / std::max(pulse_.timing.period.low, 1e-12);
    const double late = usable && std::isfinite(total) ? std::min(1.0, steep * total) : 1.0;
    pulse_.left_at_look = late;
    share = {std::max(0.0, share.low - late), std::min(1.0, share.high + late)};
    std::vector<std::size_t> all = level_.shares;
    all.push_back(*level_.panel);
    for (std::size_t which : all) {
      const WorstCase &top = in(0, which), &bottom = in(1, which);
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
      settle_exactness(which, 1.0, 1.0);
    }
  }

  /// Where between its lowest and its highest value the source stands when the panel looks.
  Reach wave_share() const {
    const double first = spec_.look_s.low / pulse_.timing.period.high;
    const double last = spec_.look_s.high / pulse_.timing.period.low;
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

  // ---- The unit ----

  void unit_sees() {
    const std::size_t which = *level_.unit;
    WorstCase& seen = seen_.cases.at(which);
    for (std::size_t k = 0; k < pulse_.parts.size(); ++k) {
      const WorstCase& standing = in(k, which);
      if (standing.low.bound < seen.low.bound) take_low(which, k);
      if (standing.high.bound > seen.high.bound) take_high(which, k);
    }
    const double swing = seen.high.bound - seen.low.bound;
    if (swing <= kSame) return;  // a short, a cut wire: nothing moves
    const Reach reached = reached_unfiltered(which);
    seen.low.attained = reached.low;
    seen.high.attained = reached.high;
    if (reached.low - seen.low.bound > kSame) seen_.low_exact.at(which) = false;
    if (seen.high.bound - reached.high > kSame) seen_.high_exact.at(which) = false;
    if (!input_->filter_s.none()) through_filter(which);
  }

  void take_low(std::size_t which, std::size_t part) {
    WorstCase& seen = seen_.cases.at(which);
    seen.low = in(part, which).low;
    seen.low.corner.clear();  // of another network than the pulse's
    seen_.low_exact.at(which) = pulse_.parts[part].solved.low_exact.at(which);
  }
  void take_high(std::size_t which, std::size_t part) {
    WorstCase& seen = seen_.cases.at(which);
    seen.high = in(part, which).high;
    seen.high.corner.clear();
    seen_.high_exact.at(which) = pulse_.parts[part].solved.high_exact.at(which);
  }

  /// How far down and up some real pair goes at some moment: to where it stands, but for what has not settled by the
  /// end of the part. A wave has been within its top for some time before; the best such time is taken.
  Reach reached_unfiltered(std::size_t which) const {
    const WorstCase& seen = seen_.cases.at(which);
    Reach reach{circuit::infinite, -circuit::infinite};
    for (std::size_t k = 0; k < pulse_.parts.size(); ++k) {
      const WorstCase& standing = in(k, which);
      const double lost = unsettled(k);
      reach.low = std::min(reach.low, standing.low.attained + lost * (seen.high.bound - standing.low.attained));
      reach.high = std::max(reach.high, standing.high.attained - lost * (standing.high.attained - seen.low.bound));
    }
    return reach;
  }

  double unsettled(std::size_t part) const {
    if (!pulse_.timing.known) return 1.0;
    const double total = pulse_.parts[part].total_s;
    if (!waves()) return left_at_most(pulse_.timing.of(pulse_.parts[part].part).low, total);
    if (!linear_) return 1.0;
    double best = 1.0;
    for (int i = 1; i <= 16; ++i) {  // within i/64 of a period either way of the top
      const double share = i / 64.0;
      const double short_of_top = 1.0 - std::cos(2.0 * std::acos(-1.0) * share);
      best = std::min(best, short_of_top + left_at_most(2.0 * share * pulse_.timing.period.low, total));
    }
    return best;
  }

  void through_filter(std::size_t which) {
    WorstCase& seen = seen_.cases.at(which);
    add_if_weak(pulse_.gaps, input_->filter_s);
    const bool firm = input_->filter_s.known() && chain::weakness(false, input_->filter_s.origin) == nullptr;
    if (!firm || !pulse_.timing.known) {
      seen.low.attained = seen.high.attained = std::nan("");  // the filter may help: nothing is claimed
      return;
    }
    const double least = input_->filter_s.low;
    if (input_->filter_s.high == 0.0) return;
    const Reach bound = waves() ? filtered_wave(which, least) : filtered_pulses(which, least);
    if (bound.low > seen.low.bound) seen.low.bound = bound.low;
    if (bound.high < seen.high.bound) seen.high.bound = bound.high;
    // Highest that the lowest possible course of the nominal pair comes to, and the other way round.
    const Reach surely = waves() ? Reach{seen.high.bound, seen.low.bound} : surely_filtered(which);
    seen.high.attained = std::min(seen.high.bound, surely.high);
    seen.low.attained = std::max(seen.low.bound, surely.low);
    settle_exactness(which, 1.0, 1.0);
    seen.nominal = mean_nominal(which);
  }

  /// Orders in which the parts may follow, and lengths at every corner of their ranges.
  template <class Visit>
  void each_period(const Visit& visit) const {
    std::vector<std::vector<std::size_t>> orders = {{0, 1}};
    if (pulse_.parts.size() == 3) orders = {{0, 1, 2}, {0, 2, 1}};
    const std::size_t corners = std::size_t{1} << pulse_.parts.size();
    for (const auto& order : orders) {
      for (std::size_t corner = 0; corner < corners; ++corner) {
        std::vector<double> seconds;
        for (std::size_t k = 0; k < pulse_.parts.size(); ++k) {
          const Seconds span = pulse_.timing.of(pulse_.parts[k].part);
          seconds.push_back((corner >> k) % 2 == 0 ? span.low : span.high);
        }
        visit(order, seconds);
      }
    }
  }

  /// The course of the voltage if it were as high (or low) as it may: late where that helps, else at once.
  template <class Volts>
  Period course(const std::vector<std::size_t>& order, const std::vector<double>& seconds, bool high, bool at_once,
                const Volts& volts) const {
    Period period;
    for (std::size_t i = 0; i < order.size(); ++i) {
      const std::size_t part = order[i];
      const double to = volts(part), from = volts(order[(i + order.size() - 1) % order.size()]);
      const bool late = !at_once && (high ? from > to : from < to);
      if (late) {
        append_laggard(period, seconds[part], from, to, pulse_.parts[part].total_s, kLaggardSteps);
      } else {
        period.push_back({seconds[part], to});
      }
    }
    return period;
  }

  double bound_of(std::size_t part, std::size_t which, bool high) const {
    return high ? in(part, which).high.bound : in(part, which).low.bound;
  }

  /// A part that comes third in order may be late from either of the others; the worst of both orders is kept.
  Reach filtered_pulses(std::size_t which, double filter_s) const {
    Reach reach{circuit::infinite, -circuit::infinite};
    each_period([&](const auto& order, const auto& seconds) {
      if (!possible(seconds)) return;
      const auto top = [&](std::size_t part) { return bound_of(part, which, true); };
      const auto bottom = [&](std::size_t part) { return bound_of(part, which, false); };
      reach.high = std::max(reach.high, filtered(course(order, seconds, true, linear_, top), filter_s).high);
      reach.low = std::min(reach.low, filtered(course(order, seconds, false, linear_, bottom), filter_s).low);
    });
    return reach;
  }

  Reach surely_filtered(std::size_t which) const {
    const double slowest = input_->filter_s.high;
    Reach reach{circuit::infinite, -circuit::infinite};
    const auto nominal = [&](std::size_t part) { return in(part, which).nominal; };
    each_period([&](const auto& order, const auto& seconds) {
      if (!possible(seconds)) return;
      // Lowest course: late upward.
      reach.high = std::max(reach.high, filtered(course(order, seconds, false, false, nominal), slowest).high);
      reach.low = std::min(reach.low, filtered(course(order, seconds, true, false, nominal), slowest).low);
    });
    return reach;
  }

  static bool possible(const std::vector<double>& seconds) {
    return std::any_of(seconds.begin(), seconds.end(), [](double s) { return s > 0.0; });
  }

  /// A linear pair filters its source's wave and the filter's output alike: it only brings the reach nearer to the
  /// mean.
  Reach filtered_wave(std::size_t which, double filter_s) const {
    const WorstCase& seen = seen_.cases.at(which);
    if (!linear_) return {seen.low.bound, seen.high.bound};
    Period top, bottom;
    const double base = wave_bottom(*spec_.wave.value);
    const double step = pulse_.timing.period.high / kWaveSteps;
    for (int i = 0; i < kWaveSteps; ++i) {
      const double a = wave_at(*spec_.wave.value, static_cast<double>(i) / kWaveSteps);
      const double b = wave_at(*spec_.wave.value, (i + 1.0) / kWaveSteps);  // turns stand at ends of steps
      const auto share = [base](double value) { return (value - base) / (1.0 - base); };
      const auto of = [&](double x, bool high) {
        return between(bound_of(1, which, high), bound_of(0, which, high), x);
      };
      top.push_back({step, of(share(std::max(a, b)), true)});
      bottom.push_back({step, of(share(std::min(a, b)), false)});
    }
    return {filtered(bottom, filter_s).low, filtered(top, filter_s).high};
  }

  // ---- A meter ----

  double mean_nominal(std::size_t which) const {
    if (waves()) {
      const double base = wave_bottom(*spec_.wave.value);
      double mean = 0.0;
      for (int i = 0; i < kWaveSteps; ++i) mean += wave_at(*spec_.wave.value, (i + 0.5) / kWaveSteps) / kWaveSteps;
      return between(in(1, which).nominal, in(0, which).nominal, (mean - base) / (1.0 - base));
    }
    double area = 0.0, seconds = 0.0;
    for (std::size_t k = 0; k < pulse_.parts.size(); ++k) {
      const Seconds span = pulse_.timing.of(pulse_.parts[k].part);
      const double length = 0.5 * (span.low + span.high);
      area += length * in(k, which).nominal;
      seconds += length;
    }
    return area / seconds;
  }

  MeterShows meter(std::size_t which) {
    if (linear_) return mean_of_linear(which);
    MeterShows shows{circuit::infinite, mean_nominal(which), -circuit::infinite};
    if (waves()) {
      for (std::size_t k : {0U, 1U}) {
        shows.low = std::min(shows.low, in(k, which).low.bound);
        shows.high = std::max(shows.high, in(k, which).high.bound);
      }
      return shows;
    }
    each_period([&](const auto& order, const auto& seconds) {
      if (!possible(seconds)) return;
      const auto top = [&](std::size_t part) { return bound_of(part, which, true); };
      const auto bottom = [&](std::size_t part) { return bound_of(part, which, false); };
      shows.high = std::max(shows.high, mean_of(course(order, seconds, true, false, top)));
      shows.low = std::min(shows.low, mean_of(course(order, seconds, false, false, bottom)));
    });
    return shows;
  }

  /// What is linear passes the mean as if it stood still: its capacitances do not matter.
  MeterShows mean_of_linear(std::size_t which) {
    if (!mean_) {
      const ZoneCircuit circuit = build_zone_circuit(site_, level_.situation, DrivePart::mean);
      mean_ = solve_wiring(circuit.wiring, level_.quantities);
    }
    const WorstCase& worst = mean_->cases.at(which);
    return {worst.low.bound, worst.nominal, worst.high.bound};
  }

  const site::Site& site_;
  Level& level_;
  const site::ZoneTerminalSpec& spec_;
  const site::UnitInputSpec* input_;
  Pulse pulse_;
  Solved seen_;
  NodeTimes nominal_times_;
  std::optional<Solved> mean_;
  bool linear_ = true;
};

}  // namespace

void follow_pulses(const site::Site& site, Level& level) {
  if (!level.circuit.terminal || !level.panel || !pulsed(*level.circuit.terminal->spec)) return;
  PulseFollower(site, level).run();
}

void with_pulse_gaps(chain::Evidence& evidence, const Level& level) {
  for (const chain::Gap& gap : level.pulse->gaps) chain::add_gap(evidence.gaps, gap);
  // What fails whatever is missing was tried in the pulse alone; the other parts may still save it.
  const bool certain = evidence.verdict == chain::Verdict::broken && level.solved.gaps.empty();
  if (!evidence.gaps.empty() && !certain) evidence.verdict = chain::Verdict::unanswered;
}

std::optional<QuietTime> quiet_time(const Level& level, const Band& band, double spare) {
  const Pulse& pulse = *level.pulse;
  if (!pulse.timing.known || !pulse.gaps.empty() || !level.unit) return std::nullopt;
  const site::Value& filter = level.circuit.input->spec->input.filter_s;
  if (level.circuit.terminal->spec->drive.is(TerminalDrive::alternating)) return std::nullopt;
  const double filter_s = filter.none() ? 0.0 : filter.high;
  double low = circuit::infinite, high = -circuit::infinite;
  for (const StandingLevel& standing : pulse.parts) {
    low = std::min(low, standing.solved.cases.at(*level.unit).low.bound);
    high = std::max(high, standing.solved.cases.at(*level.unit).high.bound);
  }
  std::optional<QuietTime> best;
  for (const StandingLevel& standing : pulse.parts) {
    const double room = guaranteed_margin(standing.solved, band) - spare;
    if (!(room > 0.0)) continue;
    const double share = high > low ? room / (high - low) : 1.0;
    const double quiet = pulse.timing.of(standing.part).low - time_until(share, standing.total_s + filter_s);
    if (!(quiet > 0.0) || (best && best->seconds >= quiet)) continue;
    best = QuietTime{&standing, quiet, pulse.timing.period.high - quiet};
  }
  return best;
}

}  // namespace zoneproof::electric
