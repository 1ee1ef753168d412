#include "electric/pulse_tap_check.hpp"

#include <algorithm>
#include <cmath>

#include "electric/finding.hpp"
#include "electric/naming.hpp"
#include "electric/threshold.hpp"
#include "messages/electric.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using circuit::WorstCase;

/// Of one reading of the unit in two states: how far apart they certainly are, in V; negative where they overlap.
double certainly_apart(const WorstCase& a, const WorstCase& b) {
  return std::max(a.low.bound - b.high.bound, b.low.bound - a.high.bound);
}

/// Whether real sites exist that read the one state where others read the other. NaN: nobody knows, so no.
bool certainly_overlap(const WorstCase& a, const WorstCase& b) {
  return a.low.attained <= b.high.attained && b.low.attained <= a.high.attained;
}

class PulseTapCheck {
 public:
  PulseTapCheck(const site::Site& site, const std::string& trigger, const std::vector<Level>& levels) {
    for (const Level& level : levels) {
      if (level.situation.unit != UnitCondition::powered || !level.pulse || !level.pulse->tapped) continue;
      if (level.situation.state.happening == Happening::rest) rest_.push_back(&level);
      if (level.situation.state.happening == Happening::alarm) alarm_.push_back(&level);
    }
    if (!asked()) return;
    input_ = &first().circuit.input->spec->input;
    subject_ = {first().situation.zone,   "unit_meets_pulses",       chain::Link::trigger, "still_time", "s",
                first().situation.name(), thing_words(site, trigger)};
    source_ = part_source(site, site.units.at(site.triggers.at(trigger).unit.id).part.id);
    collect_gaps();
  }

  bool asked() const { return !rest_.empty() && !alarm_.empty(); }

  Evidence run() const {
    Evidence evidence = unanswered(subject_, gaps_);
    const auto nothing = [](const chain::Gap& gap) { return chain::nothing_known(gap.reason); };
    if (std::any_of(gaps_.begin(), gaps_.end(), nothing) || troubled()) return evidence;
    evidence.origin = origin_;
    evidence.kind = chain::BoundKind::bounded;
    if (const std::optional<double> spare = apart_at_any_moment()) {
      evidence.says = say::pulses_read_any_time(subject_.thing, Measure{*spare, "V"});
      evidence.verdict = chain::Verdict::proven;
    } else {
      by_a_part_that_stands_still(evidence);
    }
    if (!gaps_.empty()) evidence.verdict = chain::Verdict::unanswered;
    return evidence;
  }

 private:
  const Level& first() const { return *rest_.front(); }
  const Pulse& pulse() const { return *first().pulse; }
  bool waves() const { return first().circuit.terminal->spec->drive.is(site::TerminalDrive::alternating); }

  void collect_gaps() {
    for (const auto* levels : {&rest_, &alarm_}) {
      for (const Level* level : *levels) {
        for (const chain::Gap& gap : level->solved.gaps) chain::add_gap(gaps_, gap);
        for (const chain::Gap& gap : level->pulse->gaps) chain::add_gap(gaps_, gap);
        origin_ = std::max(origin_, level->solved.weakest);
      }
    }
    for (const site::Value* value :
         {&input_->sampling_s, &input_->debounce_s, &input_->filter_s, &input_->error_V, &input_->hysteresis_V})
      add_if_weak(gaps_, *value);
  }

  /// A level that floats or collapses has evidence of its own.
  bool troubled() const {
    return any_level([](const Level& level) {
      const auto& parts = level.pulse->parts;
      return level.solved.troubled() || level.solved.unknown || !level.pulse->timing.known ||
             std::any_of(parts.begin(), parts.end(), [](const StandingLevel& part) { return part.solved.troubled(); });
    });
  }

  template <class Asked>
  bool any_level(const Asked& holds) const {
    const auto of = [&](const Level* level) { return holds(*level); };
    return std::any_of(rest_.begin(), rest_.end(), of) || std::any_of(alarm_.begin(), alarm_.end(), of);
  }

  // ---- At every moment --------------------------------------------------------------------------------------------

  static const WorstCase& seen(const Level& level) { return level.solved.cases.at(*level.unit); }

  /// What the best range of all would have to spare beyond error and hysteresis; nothing where there is none.
  std::optional<double> apart_at_any_moment() const {
    InputSpans spans;
    for (const Level* level : rest_) spans.must_not.push_back({seen(*level).low.bound, seen(*level).high.bound, ""});
    for (const Level* level : alarm_)
      spans.must_trigger.push_back({seen(*level).low.bound, seen(*level).high.bound, ""});
    const std::optional<BestRange> best = best_range(spans, *input_);
    return best && best->margin >= 0.0 ? std::optional(best->margin) : std::nullopt;
  }

  bool may_be_apart_at_any_moment() const {
    return std::all_of(rest_.begin(), rest_.end(), [&](const Level* rest) {
      return std::none_of(alarm_.begin(), alarm_.end(),
                          [&](const Level* alarm) { return certainly_overlap(seen(*rest), seen(*alarm)); });
    });
  }

  // ---- In a part of the period ------------------------------------------------------------------------------------

  static const WorstCase& standing(const Level& level, std::size_t part) {
    return level.pulse->parts.at(part).solved.cases.at(*level.unit);
  }

  /// The least distance of any rest from any alarm in a part.
  double least_apart(std::size_t part) const {
    double least = circuit::infinite;
    for (const Level* rest : rest_) {
      for (const Level* alarm : alarm_)
        least = std::min(least, certainly_apart(standing(*rest, part), standing(*alarm, part)));
    }
    return least;
  }

  bool may_tell_apart(std::size_t part) const {
    return std::all_of(rest_.begin(), rest_.end(), [&](const Level* rest) {
      return std::none_of(alarm_.begin(), alarm_.end(), [&](const Level* alarm) {
        return certainly_overlap(standing(*rest, part), standing(*alarm, part));
      });
    });
  }

  /// How far the unit's reading may come from when a part begins.
  double widest_swing() const {
    double low = circuit::infinite, high = -circuit::infinite;
    any_level([&](const Level& level) {
      for (std::size_t k = 0; k < level.pulse->parts.size(); ++k) {
        low = std::min(low, standing(level, k).low.bound);
        high = std::max(high, standing(level, k).high.bound);
      }
      return false;
    });
    return high - low;
  }

  /// Seconds for which a part certainly stands nearer to its own level than to the middle between rest and alarm, error
  /// and hysteresis paid; none where it does not tell them apart.
  double certainly_still(std::size_t part) const {
    const Allowance allowance = allowance_of(*input_);
    const double room = 0.5 * (least_apart(part) - 2.0 * allowance.error_V - allowance.hysteresis_V);
    if (waves() || !(room > 0.0)) return 0.0;
    const double filter_s = input_->filter_s.known() ? input_->filter_s.high : 0.0;
    double settles = 0.0;
    any_level([&](const Level& level) {
      const double total = level.pulse->parts.at(part).total_s + filter_s;
      settles = std::max(settles, time_until(std::min(1.0, room / widest_swing()), total));
      return false;
    });
    return pulse().timing.of(pulse().parts.at(part).part).low - settles;
  }

  void by_a_part_that_stands_still(Evidence& evidence) const {
    double certain = 0.0;
    std::vector<std::size_t> telling;
    for (std::size_t k = 0; k < pulse().parts.size(); ++k) {
      certain = std::max(certain, certainly_still(k));
      if (may_tell_apart(k)) telling.push_back(k);
    }
    const Seconds looks = seconds_of(input_->sampling_s);
    const Seconds& period = pulse().timing.period;
    const double needed = still_for(looks, seconds_of(input_->debounce_s));
    if (certain > needed) return answer(evidence, chain::Verdict::proven, certain, needed);
    if (!may_be_apart_at_any_moment()) {
      if (telling.empty()) return tells_nothing(evidence);
      const double longest = pulse().timing.of(pulse().parts.at(telling.front()).part).high;
      const bool alone = telling.size() == 1 && !waves();
      const std::optional<double> missing = alone ? looks_that_miss(looks, period, longest) : std::nullopt;
      if (missing) return misses(evidence, longest, *missing);
    }
    answer(evidence, chain::Verdict::unanswered, certain, needed);
  }

  static Seconds seconds_of(const site::Value& value) {
    return value.known() ? Seconds{value.low, value.high} : Seconds{};
  }

  void tells_nothing(Evidence& evidence) const {
    evidence.verdict = chain::Verdict::broken;
    evidence.says = say::pulses_tell_nothing(subject_.thing);
    evidence.remedies.push_back(say::pulses_need_a_contact());
  }

  void misses(Evidence& evidence, double longest, double looks_s) const {
    numbers(evidence, longest, looks_s);
    evidence.verdict = chain::Verdict::broken;
    const Measure period{pulse().timing.period.high, "s"};
    evidence.says = say::pulses_never_met(subject_.thing, Measure{longest, "s"}, period, Measure{looks_s, "s"});
    evidence.remedies.push_back(say::pulses_need_a_contact());
  }

  void answer(Evidence& evidence, chain::Verdict verdict, double still, double needed) const {
    numbers(evidence, still, needed);
    evidence.verdict = verdict;
    const Measure stands{still, "s"}, asked{needed, "s"};
    if (verdict == chain::Verdict::proven) {
      evidence.says = say::pulses_met(subject_.thing, stands, asked);
      return;
    }
    evidence.says = say::pulses_met_by_chance(subject_.thing, stands, asked);
    evidence.remedies.push_back(say::pulses_need_a_contact());
    if (gaps_.empty()) chain::add_gap(evidence.gaps, {"", "undecided"});
  }

  void numbers(Evidence& evidence, double still, double needed) const {
    evidence.value = evidence.bound = still;
    evidence.limit = needed;
    evidence.margin = still - needed;
    evidence.limit_source = source_;
    evidence.limit_verified = true;  // the part's own sheet
  }

  std::vector<const Level*> rest_, alarm_;
  const site::UnitInputSpec* input_ = nullptr;
  Subject subject_;
  std::string source_;  ///< of the times of the unit
  std::vector<chain::Gap> gaps_;
  site::Origin origin_ = site::Origin::measured;
};

}  // namespace

double still_for(const Seconds& apart, const Seconds& waits) {
  return waits.high > 0.0 ? waits.high + 2.0 * apart.high : apart.high;
}

std::optional<double> looks_that_miss(const Seconds& apart, const Seconds& period, double still_s) {
  constexpr int most_moments = 1000;
  constexpr double same = 1.0 + 1e-9;  // a spacing stated as a whole share of the period is one
  if (!(apart.high > 0.0)) return std::nullopt;
  for (int q = 1; q <= most_moments && period.high > still_s * q; ++q) {
    // The fewest periods that fit: they leave the period longest, and so the widest room.
    const double k = std::max(1.0, std::ceil(apart.low * q / (period.high * same)));
    const double longest = std::min(period.high, apart.high * q / k);
    if (longest * same >= period.low && longest > still_s * q) return k * longest / q;
  }
  return std::nullopt;
}

std::optional<Evidence> check_tap_on_pulses(const site::Site& site, const std::string& trigger,
                                            const std::vector<Level>& levels) {
  const PulseTapCheck check(site, trigger, levels);
  return check.asked() ? std::optional(check.run()) : std::nullopt;
}

}  // namespace zoneproof::electric
