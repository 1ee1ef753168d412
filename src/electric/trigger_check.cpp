#include "electric/trigger_check.hpp"

#include <algorithm>
#include <map>

#include "chain/limit.hpp"
#include "electric/element_name.hpp"
#include "electric/finding.hpp"
#include "electric/loop_check.hpp"
#include "electric/naming.hpp"
#include "electric/output_load.hpp"
#include "electric/pulse_tap_check.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using site::TriggerClass;

std::optional<TriggerClass> class_of(const site::Site& site, Happening happening) {
  const site::Rulebook* book = site::rulebook_of(site);
  if (book == nullptr) return std::nullopt;
  const auto rule = book->states.find(word(happening));
  return rule == book->states.end() ? std::nullopt : rule->second.trigger.value;
}

Subject subject_of(const site::Site& site, const Level& level, std::string check) {
  Subject subject;
  subject.id = level.situation.zone;
  subject.check = std::move(check);
  subject.link = chain::Link::trigger;
  subject.quantity = "input_voltage";
  subject.unit = "V";
  subject.condition = level.situation.name();
  subject.thing = zone_at_unit(site, level.situation);
  return subject;
}

/// Inside the normal range, error and hysteresis paid: what must not trigger.
Band normal_band(const NormalRange& range, const Allowance& allowance, std::size_t which) {
  Band band;
  const double inside = allowance.error_V + allowance.hysteresis_V;
  if (range.min_V) band.min = Side{which, *range.min_V + inside};
  if (range.max_V) band.max = Side{which, *range.max_V - inside};
  return band;
}

/// The bands that are certainly alarm: outside of normal, or inside the alarm range where one is set.
std::vector<Band> alarm_bands(const Setting& setting, const Allowance& allowance, std::size_t which) {
  std::vector<Band> bands;
  if (setting.certain_alarm) {
    Band band;
    if (setting.certain_alarm->min_V) band.min = Side{which, *setting.certain_alarm->min_V + allowance.error_V};
    if (setting.certain_alarm->max_V) band.max = Side{which, *setting.certain_alarm->max_V - allowance.error_V};
    bands.push_back(band);
    return bands;
  }
  if (setting.possibly_normal.min_V) {
    Band below;
    below.max = Side{which, *setting.possibly_normal.min_V - allowance.error_V};
    bands.push_back(below);
  }
  if (setting.possibly_normal.max_V) {
    Band above;
    above.min = Side{which, *setting.possibly_normal.max_V + allowance.error_V};
    bands.push_back(above);
  }
  return bands;
}

Band best_of(const std::vector<Band>& bands, const Solved& solved) {
  Band best = bands.front();
  for (const Band& band : bands) {
    if (guaranteed_margin(solved, band) > guaranteed_margin(solved, best)) best = band;
  }
  return best;
}

Band band_of_class(const site::UnitInputSpec& input, const Setting& setting, const Level& level, TriggerClass wanted) {
  if (wanted == TriggerClass::must_not) return normal_band(setting.certainly_normal, allowance_of(input), *level.unit);
  return certain_alarm_band(input, setting, level);
}

/// Error and hysteresis are subtracted from every margin: unknown or only typical, they leave it open.
std::vector<chain::Gap> weak_allowance(const site::UnitInputSpec& input) {
  std::vector<chain::Gap> gaps;
  for (const site::Value* value : {&input.error_V, &input.hysteresis_V}) add_if_weak(gaps, *value);
  return gaps;
}

class TriggerCheck {
 public:
  TriggerCheck(const site::Site& site, const std::string& id, const std::vector<Level>& levels)
      : site_(site),
        id_(id),
        trigger_(site.triggers.at(id)),
        levels_(levels),
        setting_(setting_of(site, id)),
        setting_faults_(setting_faults(site, id)),
        margin_(chain::limit_of(site, "trigger_margin_V")) {}

  std::vector<Evidence> run() {
    const site::UnitSpec* spec = site::unit_spec(site_, trigger_.unit.id);
    if (spec == nullptr) {
      return {unanswered(plain_subject("unit_reads_alarm"), {{trigger_.unit.pointer, "unknown"}})};
    }
    spec_ = spec;
    for (const Level& level : levels_) {
      if (level.situation.unit == UnitCondition::powered) reads(level);
      limits(level);
      load(level);
    }
    if (!levels_.empty() && !tells_alarm(levels_))
      worst_["unit_reads_alarm"].offer(no_alarm_contact(site_, plain_subject("unit_reads_alarm")));
    std::vector<Evidence> all = fits_the_input();
    for (auto& [check, kept] : worst_) all.push_back(kept.take());
    if (auto on_pulses = check_tap_on_pulses(site_, id_, levels_)) all.push_back(std::move(*on_pulses));
    propose(all);
    return all;
  }

 private:
  Subject plain_subject(const char* check) const {
    Subject subject;
    subject.id = trigger_.zone.id;
    subject.check = check;
    subject.link = chain::Link::trigger;
    subject.quantity = "input_voltage";
    subject.unit = "V";
    subject.thing = zone_words(site_, trigger_.zone.id);
    return subject;
  }

  void reads(const Level& level) {
    const Happening happening = level.situation.state.happening;
    const std::string check = std::string("unit_reads_") + word(happening);
    const std::optional<TriggerClass> wanted = class_of(site_, happening);
    const Subject subject = subject_of(site_, level, check);
    const bool decides = happening == Happening::rest || happening == Happening::alarm;
    if (wanted == TriggerClass::either && !decides) return;
    Worst& kept = worst_[check];
    if (wanted == TriggerClass::either || (wanted && *wanted != needed(happening) && decides))
      return kept.offer(against_its_purpose(subject));
    if (!wanted) return kept.offer(unanswered(subject, {{"/rulebook/book", "no_rule"}}));
    if (!level.unit) return kept.offer(unanswered(subject, level.solved.gaps));
    if (!setting_.gaps.empty()) return kept.offer(unanswered(subject, setting_.gaps));
    const Band band = band_for(level, *wanted);
    if (!band.min && !band.max) return kept.offer(never_triggers(subject));
    if (level.pulse && level.pulse->tapped) return pulsed(level, subject, band, *wanted);
    kept.offer(judged_level(level, subject, band), corner_of(level, band));
  }

  /// A reading that comes and goes. It is right at every moment, or for so long at a time that the unit cannot but look
  /// at it, and away for less than the unit waits (docs/methods/pulsed-terminals.md).
  void pulsed(const Level& level, const Subject& subject, const Band& band, TriggerClass wanted) {
    Worst& kept = worst_[subject.check];
    Evidence always = judged_level(level, subject, band);
    with_pulse_gaps(always, level);
    const bool good = always.verdict == chain::Verdict::proven || always.verdict == chain::Verdict::thin;
    if (good || !always_open(always)) return kept.offer(std::move(always), corner_of(level, band));
    for (double spare : {band.required_margin, 0.0}) {
      const std::optional<QuietTime> quiet = quiet_time(level, band, spare);
      if (!quiet || !enough(*quiet, wanted)) continue;
      Evidence evidence = finding(subject, level.circuit.wiring, level.quantities, quiet->standing->solved, band);
      evidence.kind = chain::BoundKind::bounded;
      return kept.offer(std::move(evidence));
    }
    // One wrong look counts where nothing has to last; else nobody knows what the looks fall on.
    const bool waits = spec_->input.debounce_s.known() && spec_->input.debounce_s.high > 0.0;
    if (waits && always.verdict == chain::Verdict::broken && !never_right(level, band) &&
        !surely_counts(level, wanted)) {
      always.verdict = chain::Verdict::unanswered;
      chain::add_gap(always.gaps, {"", "undecided"});
    }
    if (always.verdict == chain::Verdict::broken) always.remedies.push_back(say::pulses_need_a_contact());
    kept.offer(std::move(always), corner_of(level, band));
  }

  /// Whether what stands still may save a reading that is not right at every moment: nothing is missing for it.
  static bool always_open(const Evidence& evidence) {
    return std::all_of(evidence.gaps.begin(), evidence.gaps.end(),
                       [](const chain::Gap& gap) { return gap.reason == "undecided"; });
  }

  /// Whether the unit's looks, at most `sampling_s` apart and with the phase of the adversary, make of the quiet time
  /// what is wanted: at rest each one is looked at, and what lies between is too short to count; in alarm it lasts long
  /// enough.
  bool enough(const QuietTime& quiet, TriggerClass wanted) const {
    const site::Value &looks = spec_->input.sampling_s, &waits = spec_->input.debounce_s;
    for (const site::Value* value : {&looks, &waits}) {
      if (value->unknown() || (value->known() && chain::weakness(false, value->origin) != nullptr)) return false;
    }
    const double apart = looks.none() ? 0.0 : looks.high;
    if (wanted == TriggerClass::must_not) return quiet.seconds >= apart && waits.known() && quiet.away_s < waits.low;
    return quiet.seconds >= apart + (waits.known() && waits.high > 0.0 ? waits.high + apart : 0.0);
  }

  /// Whether the reading is wrong at every moment, whatever its tolerances.
  static bool never_right(const Level& level, const Band& band) {
    const circuit::WorstCase& worst = level.solved.cases.at(*level.unit);
    return (band.min && worst.high.bound < band.min->limit) || (band.max && worst.low.bound > band.max->limit);
  }

  /// Whether the phase alone can make the reading wrong. In alarm any right-away look would have to be followed by
  /// others; at rest a wrong level that stands for longer than the unit waits, looks and all, counts for certain.
  bool surely_counts(const Level& level, TriggerClass wanted) const {
    if (wanted != TriggerClass::must_not) return false;
    const double apart = spec_->input.sampling_s.known() ? spec_->input.sampling_s.high : 0.0;
    const double needed = 2.0 * apart + spec_->input.debounce_s.high;
    const Pulse& pulse = *level.pulse;
    return std::any_of(pulse.parts.begin(), pulse.parts.end(), [&](const StandingLevel& standing) {
      Band band = normal_band(setting_.certainly_normal, allowance_of(spec_->input), *level.unit);
      const circuit::WorstCase& worst = standing.solved.cases.at(*level.unit);
      const double swing = level.solved.cases.at(*level.unit).high.bound - level.solved.cases.at(*level.unit).low.bound;
      double out = 0.0;
      if (band.min) out = std::max(out, band.min->limit - worst.low.attained);
      if (band.max) out = std::max(out, worst.high.attained - band.max->limit);
      if (!(out > 0.0) || !pulse.timing.known) return false;
      const site::Value& filter = spec_->input.filter_s;
      const double total = standing.total_s + (filter.known() ? filter.high : 0.0);
      return pulse.timing.of(standing.part).high - time_until(std::min(1.0, out / swing), total) >= needed;
    });
  }

  /// Whether the unit can be set as the file says: its kind of judging, its range, its grid.
  std::vector<Evidence> fits_the_input() const {
    if (setting_faults_.empty()) return {};
    Evidence evidence = unanswered(plain_subject("setting_fits"), {});
    for (const SettingFault& fault : setting_faults_) {
      if (fault.gap) evidence.gaps.push_back(*fault.gap);
      if (!fault.says) continue;
      evidence.verdict = chain::Verdict::broken;
      evidence.says = *fault.says;
    }
    return {std::move(evidence)};
  }

  static std::function<std::vector<chain::CornerValue>()> corner_of(const Level& level, const Band& band) {
    return [&level, band] { return telling_corner(level.circuit.wiring, level.quantities, level.solved, band); };
  }

  /// Where the level must lie; without sides where the setting has no limit at all.
  Band band_for(const Level& level, TriggerClass wanted) const {
    Band band = band_of_class(spec_->input, setting_, level, wanted);
    band.ask(margin_);
    band.limit_source = text(say::setting_of_unit(thing_words(site_, trigger_.unit.id)));
    band.limit_verified = true;  // what was set
    return band;
  }

  Evidence judged_level(const Level& level, const Subject& subject, const Band& band) const {
    Evidence evidence = finding(subject, level.circuit.wiring, level.quantities, level.solved, band);
    const std::vector<chain::Gap> weak = weak_allowance(spec_->input);
    if (!weak.empty()) {
      evidence.gaps.insert(evidence.gaps.end(), weak.begin(), weak.end());
      if (evidence.verdict != chain::Verdict::broken) evidence.verdict = chain::Verdict::unanswered;
    }
    if (!margin_.value) chain::lacks_rule(evidence, margin_);
    return evidence;
  }

  static TriggerClass needed(Happening happening) {
    return happening == Happening::alarm ? TriggerClass::must_trigger : TriggerClass::must_not;
  }

  /// A rulebook that does not ask for the picture of an alarm, or lets a zone at rest trigger, proves nothing.
  Evidence against_its_purpose(const Subject& subject) const {
    Evidence evidence = unanswered(subject, {{"/rulebooks/" + site_.rulebook.book.id + "/states", "no_rule"}});
    evidence.says = say::rulebook_asks_for_no_picture();
    return evidence;
  }

  /// A setting without any limit calls everything normal.
  Evidence never_triggers(const Subject& subject) const {
    Evidence evidence = unanswered(subject, {});
    evidence.verdict = chain::Verdict::broken;
    evidence.says = say::setting_never_triggers(subject.thing);
    return evidence;
  }

  void limits(const Level& level) {
    if (!level.unit) return;
    const Subject subject = subject_of(site_, level, "input_limits");
    Band band;
    const site::UnitInputSpec& input = spec_->input;
    band.at_least(*level.unit, input.damage_min_V);
    band.at_most(*level.unit, input.damage_max_V);
    if (!band.min && !band.max) {
      return worst_["input_limits"].offer(unanswered(subject, {{input.damage_max_V.pointer, "unknown"}}));
    }
    band.limit_source = part_source(site_, site_.units.at(trigger_.unit.id).part.id);
    band.limit_verified = true;  // the part's own sheet
    worst_["input_limits"].offer(finding(subject, level.circuit.wiring, level.quantities, level.solved, band),
                                 corner_of(level, band));
  }

  /// Whether an output that triggers carries what pulls the input: fitted and inner resistors, impedance, clamps.
  void load(const Level& level) {
    const auto output = site_.outputs.find(trigger_.output.id);
    if (!trigger_.source.is(site::TriggerSource::following_output)) return;
    const Subject subject = subject_of(site_, level, "trigger_sink");
    if (output == site_.outputs.end())
      return worst_["trigger_sink"].offer(unanswered(subject, {{trigger_.output.pointer, "unknown"}}));
    if (!level.unit) return worst_["trigger_sink"].offer(unanswered(subject, level.solved.gaps));
    std::vector<std::string> pulls;
    for (const auto& [id, other] : site_.triggers) {
      if (site::first_on_input(site_, id) != site::first_on_input(site_, level.situation.trigger)) continue;
      for (const char* name : {"pulldown", "pullup", "impedance", "inner_pullup", "clamp_high", "clamp_low"})
        pulls.push_back(part_name(id, name));
    }
    for (Evidence& evidence : judge_load(site_, output->first, subject, level.circuit.wiring, level.solved, pulls))
      worst_["trigger_sink"].offer(std::move(evidence));
  }

  /// Where a reading is not proven, the best setting there is, or the fact that there is none.
  void propose(std::vector<Evidence>& all) const {
    const std::optional<BestRange> best = best_range(input_spans(site_, levels_), spec_->input);
    for (Evidence& evidence : all) {
      const bool reading = evidence.id.rfind("unit_reads_", 0) == 0;
      if (!reading || evidence.verdict == chain::Verdict::proven || !best) continue;
      evidence.remedies.push_back(remedy_for(*best));
    }
  }

  Message remedy_for(const BestRange& best) const {
    if (best.margin < 0.0) return say::no_range_tells_apart(zone_words(site_, trigger_.zone.id));
    const Measure margin{best.margin, "V"};
    if (!best.preset.empty()) return say::choose_preset(best.preset, margin);
    if (best.range.min_V && best.range.max_V) {
      return say::set_normal_between(Measure{*best.range.min_V, "V"}, Measure{*best.range.max_V, "V"}, margin);
    }
    if (best.range.max_V) return say::set_normal_below(Measure{*best.range.max_V, "V"}, margin);
    return say::set_normal_above(Measure{*best.range.min_V, "V"}, margin);
  }

  const site::Site& site_;
  const std::string& id_;
  const site::Trigger& trigger_;
  const std::vector<Level>& levels_;
  Setting setting_;
  std::vector<SettingFault> setting_faults_;
  chain::Limit margin_;
  const site::UnitSpec* spec_ = nullptr;
  std::map<std::string, Worst> worst_;
};

}  // namespace

Band certain_alarm_band(const site::UnitInputSpec& input, const Setting& setting, const Level& level) {
  const std::vector<Band> bands = alarm_bands(setting, allowance_of(input), *level.unit);
  return bands.empty() ? Band{} : best_of(bands, level.solved);
}

std::optional<Band> right_input_band(const site::Site& site, const Level& level) {
  const std::optional<TriggerClass> wanted = class_of(site, level.situation.state.happening);
  if (wanted == TriggerClass::either) return std::nullopt;
  Band band;
  const auto open = [&](std::vector<chain::Gap> gaps) {
    band.gaps = std::move(gaps);
    return band;
  };
  const auto trigger = site.triggers.find(level.situation.trigger);
  if (trigger == site.triggers.end()) return std::nullopt;
  if (!wanted) return open({{"/rulebook/book", "no_rule"}});
  const site::UnitSpec* spec = site::unit_spec(site, trigger->second.unit.id);
  if (spec == nullptr) return open({{trigger->second.unit.pointer, "unknown"}});
  if (!level.unit) return open(level.solved.gaps);
  const Setting setting = setting_of(site, trigger->first);
  if (!setting.gaps.empty()) return open(setting.gaps);
  band = band_of_class(spec->input, setting, level, *wanted);
  for (const chain::Gap& gap : weak_allowance(spec->input)) chain::add_gap(band.gaps, gap);
  return band;
}

std::vector<Evidence> check_trigger(const site::Site& site, const std::string& trigger,
                                    const std::vector<Level>& levels) {
  return TriggerCheck(site, trigger, levels).run();
}

InputSpans input_spans(const site::Site& site, const std::vector<Level>& levels) {
  InputSpans spans;
  for (const Level& level : levels) {
    if (level.situation.unit != UnitCondition::powered || !level.unit || level.solved.troubled()) continue;
    const std::optional<TriggerClass> wanted = class_of(site, level.situation.state.happening);
    if (!wanted || *wanted == TriggerClass::either) continue;
    const circuit::WorstCase& worst = level.solved.cases.at(*level.unit);
    const Span span{worst.low.bound, worst.high.bound, word(level.situation.state.happening)};
    (*wanted == TriggerClass::must_not ? spans.must_not : spans.must_trigger).push_back(span);
  }
  return spans;
}

}  // namespace zoneproof::electric
