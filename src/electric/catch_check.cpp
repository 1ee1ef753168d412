#include "electric/catch_check.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "chain/limit.hpp"
#include "electric/catch_time.hpp"
#include "electric/loop.hpp"
#include "electric/loop_check.hpp"
#include "electric/naming.hpp"
#include "electric/setting.hpp"
#include "electric/trigger_check.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using chain::Gap;
using site::Value;

/// Data that an answer rests on: the weakest origin, and what is missing or guessed.
struct Footing {
  std::vector<Gap> gaps;
  site::Origin origin = site::Origin::measured;

  void stand_on(const Value& value) {
    add_if_weak(gaps, value);
    if (value.known()) origin = std::max(origin, value.origin);
  }
  void stand_on(const Footing& other) {
    for (const Gap& gap : other.gaps) chain::add_gap(gaps, gap);
    origin = std::max(origin, other.origin);
  }
  void stand_on(const Pulse& pulse) {
    for (const Gap& gap : pulse.gaps) chain::add_gap(gaps, gap);
    origin = std::max(origin, pulse.timing.origin);
  }
  void stand_on(const Solved& solved) {
    for (const Gap& gap : solved.gaps) chain::add_gap(gaps, gap);
    origin = std::max(origin, solved.weakest);
  }
};

/// An input in time, and what that rests on.
struct Watcher {
  PulseWatch watch;
  Footing footing;
};

Watcher watcher_of(const Value& filter_s, const Value& period_s, const Value& hold_s) {
  Watcher watcher;
  for (const Value* value : {&filter_s, &period_s, &hold_s}) watcher.footing.stand_on(*value);
  if (filter_s.known()) {
    watcher.watch.filter_low = filter_s.low;
    watcher.watch.filter_high = filter_s.high;
  }
  if (period_s.known()) watcher.watch.period = period_s.high;
  if (hold_s.known()) {
    watcher.watch.hold_low = hold_s.low;
    watcher.watch.hold_high = hold_s.high;
  }
  return watcher;
}

Watcher watcher_of(const site::ZoneTerminalSpec& terminal) {
  return watcher_of(terminal.filter_s, terminal.scan_s, terminal.debounce_s);
}

Watcher watcher_of(const site::UnitInputSpec& input) {
  return watcher_of(input.filter_s, input.sampling_s, input.debounce_s);
}

/// How far beyond the edge the level in alarm lies, as a multiple of how far the level at rest lies before it.
struct Lead {
  double least = 1.0, most = 1.0;
};

/// Rest and alarm seen from the edge of a band, both counted in the direction from rest to alarm.
struct Sides {
  double rest_near = 0.0, rest_far = 0.0;    ///< how far before the edge, guaranteed
  double alarm_near = 0.0, alarm_far = 0.0;  ///< how far beyond it, guaranteed
  bool misses = false;                       ///< in some real system rest and alarm lie on one side of the edge

  std::optional<Lead> lead() const {
    if (!(rest_near > 0.0) || !(alarm_near > 0.0) || !std::isfinite(rest_far) || !std::isfinite(alarm_far))
      return std::nullopt;
    return Lead{alarm_near / rest_far, alarm_far / rest_near};
  }
};

/// The edge that lies towards rest; a band without sides has none.
std::optional<Sides> sides_of(const Level& rest, const Level& alarm, const Band& band) {
  if (band.max) {
    const circuit::WorstCase& r = rest.solved.cases.at(band.max->which);
    const circuit::WorstCase& a = alarm.solved.cases.at(band.max->which);
    const double edge = band.max->limit;
    if (!band.min || r.low.bound > edge) {
      return Sides{r.low.bound - edge, r.high.bound - edge, edge - a.high.bound, edge - a.low.bound,
                   a.high.attained > edge || r.low.attained < edge};
    }
  }
  if (!band.min) return std::nullopt;
  const circuit::WorstCase& r = rest.solved.cases.at(band.min->which);
  const circuit::WorstCase& a = alarm.solved.cases.at(band.min->which);
  const double edge = band.min->limit;
  return Sides{edge - r.high.bound, edge - r.low.bound, a.low.bound - edge, a.high.bound - edge,
               a.low.attained < edge || r.high.attained > edge};
}

/// The level at rest in the same conditions as an alarm; levels hold one of each.
const Level* rest_of(const Level& alarm, const std::vector<Level>& levels) {
  const auto same = [&](const Level& level) {
    const ZoneSituation &a = level.situation, &b = alarm.situation;
    return a.state.happening == Happening::rest && a.supply == b.supply && a.unit == b.unit && a.trigger == b.trigger;
  };
  const auto found = std::find_if(levels.begin(), levels.end(), same);
  return found == levels.end() ? nullptr : &*found;
}

/// How a watcher takes the alarm of one situation. A quick input does not ask how far apart the levels are.
struct Seen {
  Footing footing;
  std::optional<Lead> lead;
  bool never = false;  ///< in some real system rest and alarm are read as one
};

Seen seen_by(const Watcher& watcher, const Level& alarm, const Level* rest, const std::optional<Band>& band) {
  Seen seen;
  seen.footing = watcher.footing;
  if (watcher.watch.filter_high == 0.0) {
    seen.lead = Lead{};
    return seen;
  }
  if (rest == nullptr || !band) {
    seen.footing.gaps.push_back({"", "undecided"});
    return seen;
  }
  for (const Level* level : {rest, &alarm}) seen.footing.stand_on(level->solved);
  for (const Gap& gap : band->gaps) chain::add_gap(seen.footing.gaps, gap);
  const bool solved =
      !rest->solved.unknown && !alarm.solved.unknown && !rest->solved.troubled() && !alarm.solved.troubled();
  if (const std::optional<Sides> sides = solved ? sides_of(*rest, alarm, *band) : std::nullopt) {
    seen.lead = sides->lead();
    seen.never = sides->misses && seen.footing.gaps.empty();
  }
  // A level that has no number, or rest and alarm on one side of the edge: the reading itself is judged elsewhere.
  if (!seen.lead && !seen.never && seen.footing.gaps.empty()) seen.footing.gaps.push_back({"", "undecided"});
  return seen;
}

/// How long an alarm lasts at the least, and who says so.
struct AlarmTime {
  double seconds = 0.0;
  bool known = false;
  Footing footing;
  std::string source;
  bool verified = false;
};

class CatchCheck {
 public:
  explicit CatchCheck(const site::Site& site)
      : site_(site),
        margin_(chain::limit_of(site, "catch_margin_s")),
        shortest_(chain::limit_of(site, "shortest_alarm_s")) {}

  Evidence panel(const Level& alarm, const std::vector<Level>& levels, const std::string& zone) const {
    const Subject subject = subject_of(zone, "panel_catches_alarm", chain::Link::loop, alarm.situation.name(),
                                       zone_at_panel(site_, alarm.situation));
    if (!alarm.panel) return unanswered(subject, alarm.solved.gaps);
    Watcher watcher = watcher_of(*alarm.circuit.terminal->spec);
    if (alarm.pulse) watcher.watch.filter_low = watcher.watch.filter_high = 0.0;  // it settles within each pulse
    Seen seen = seen_by(watcher, alarm, rest_of(alarm, levels), right_band(alarm));
    if (alarm.pulse) seen.footing.stand_on(*alarm.pulse);
    return judged(subject, watcher, seen, of_loop_contact(alarm.situation));
  }

  Evidence unit(const std::string& trigger_id, const Level& alarm, const std::vector<Level>& levels) const {
    const Subject subject = unit_subject(trigger_id, alarm.situation);
    if (!alarm.unit) return unanswered(subject, alarm.solved.gaps);
    const site::UnitInputSpec& input = alarm.circuit.input->spec->input;
    const Level* rest = rest_of(alarm, levels);
    const Setting setting = setting_of(site_, trigger_id);
    Band band = certain_alarm_band(input, setting, alarm);
    band.gaps = setting.gaps;
    const Watcher watcher = watcher_of(input);
    Seen seen = seen_by(watcher, alarm, rest, band);
    if (alarm.pulse && alarm.pulse->tapped) {
      seen.footing.stand_on(*alarm.pulse);
      // An alarm that is none at some moments of the period, or a filter that never comes to rest, is not followed in
      // time.
      const bool steady = watcher.watch.filter_high == 0.0 && (band.min || band.max) && !alarm.solved.unknown &&
                          guaranteed_margin(alarm.solved, band) >= 0.0;
      if (!steady) chain::add_gap(seen.footing.gaps, {"", "undecided"});
      seen.never = seen.never && seen.footing.gaps.empty();
    }
    return judged(subject, watcher, seen, of_source(trigger_id, alarm, rest));
  }

  Subject unit_subject(const std::string& trigger_id, const ZoneSituation& situation) const {
    return subject_of(site_.triggers.at(trigger_id).zone.id, "unit_catches_alarm", chain::Link::trigger,
                      situation.name(), zone_at_unit(site_, situation));
  }

 private:
  static Subject subject_of(const std::string& zone, const char* check, chain::Link link, std::string condition,
                            std::string thing) {
    return {zone, check, link, "shortest_alarm_caught", "s", std::move(condition), std::move(thing)};
  }

  // ---- How long the alarm lasts ------------------------------------------------------------------------------------

  AlarmTime of_rulebook() const {
    AlarmTime time;
    time.known = shortest_.value.has_value();
    time.seconds = shortest_.value.value_or(0.0);
    time.source = shortest_.source;
    time.verified = shortest_.verified;
    if (!time.known) time.footing.gaps.push_back({shortest_.pointer, "no_rule"});
    return time;
  }

  AlarmTime stated(const Value& hold_s, const std::string& part) const {
    AlarmTime time;
    time.footing.stand_on(hold_s);
    time.known = hold_s.known();
    time.seconds = hold_s.low;
    time.source = part;
    time.verified = true;  // the part's own sheet
    return time;
  }

  static AlarmTime missing(std::vector<Gap> gaps) {
    AlarmTime time;
    time.footing.gaps = std::move(gaps);
    return time;
  }

  AlarmTime of_contact(const site::Ref& detector, const std::string& contact, const std::string& pointer) const {
    const site::ContactSpec* spec = site::contact_spec(site_, detector, contact);
    if (spec == nullptr) return missing({{pointer, "unknown"}});
    if (spec->hold_s.none()) return of_rulebook();
    return stated(spec->hold_s, part_source(site_, site_.detectors.at(detector.id).part.id));
  }

  const site::LoopContact* loop_contact(const ZoneSituation& situation) const {
    const std::string owner = site::loop_owner(site_, situation.zone);
    if (owner.empty()) return nullptr;
    const auto& contacts = site_.zones.at(owner).loop.contacts;
    const auto found = contacts.find(situation.state.contact);
    return found == contacts.end() ? nullptr : &found->second;
  }

  AlarmTime of_loop_contact(const ZoneSituation& situation) const {
    const site::LoopContact* contact = loop_contact(situation);
    if (contact == nullptr) return missing({{"", "undecided"}});  // no pair: the source itself is refused elsewhere
    return of_contact(contact->detector, contact->contact, contact->detector.pointer);
  }

  /// Whether the contact is in alarm only as long as its cause lasts.
  bool follows_cause(const site::Ref& detector, const std::string& contact) const {
    const site::ContactSpec* spec = site::contact_spec(site_, detector, contact);
    return spec != nullptr && spec->hold_s.none();
  }

  /// Of a contact that follows its cause the panel may count an alarm shorter than the rulebook's.
  void shorten_to_what_panel_counts(AlarmTime& time, const Level& alarm, const Level* rest) const {
    if (!alarm.panel) {
      for (const Gap& gap : alarm.solved.gaps) chain::add_gap(time.footing.gaps, gap);
      return;
    }
    const Watcher panel = watcher_of(*alarm.circuit.terminal->spec);
    const Seen seen = seen_by(panel, alarm, rest, right_band(alarm));
    time.footing.stand_on(seen.footing);
    if (!seen.lead) return;
    const double counted = possibly_caught(panel.watch, seen.lead->most);
    if (counted >= time.seconds) return;
    time.seconds = counted;
    time.source = terminal_source(site_, alarm.situation.zone);
    time.verified = true;  // the part's own sheet
  }

  bool wired(const std::string& zone) const { return site_.zones.at(zone).medium.is(site::Medium::wired); }

  AlarmTime of_source(const std::string& trigger_id, const Level& alarm, const Level* rest) const {
    const site::Trigger& trigger = site_.triggers.at(trigger_id);
    if (trigger.source.is(site::TriggerSource::following_output)) return of_output(trigger, alarm, rest);
    if (trigger.source.is(site::TriggerSource::loop_tap)) {
      AlarmTime time = of_loop_contact(alarm.situation);
      const site::LoopContact* contact = loop_contact(alarm.situation);
      if (contact != nullptr && follows_cause(contact->detector, contact->contact))
        shorten_to_what_panel_counts(time, alarm, rest);
      return time;
    }
    AlarmTime time = of_contact(trigger.detector, trigger.contact, trigger.detector.pointer);
    if (follows_cause(trigger.detector, trigger.contact) && wired(trigger.zone.id))
      shorten_to_what_panel_counts(time, alarm, rest);
    return time;
  }

  AlarmTime of_output(const site::Trigger& trigger, const Level& alarm, const Level* rest) const {
    const auto found = site_.outputs.find(trigger.output.id);
    if (found == site_.outputs.end()) return missing({{trigger.output.pointer, "unknown"}});
    const site::Output& output = found->second;
    const bool follows = output.hold_s.none() && output.mode.is(site::OutputMode::level);
    if (output.hold_s.known()) return stated(output.hold_s, thing_words(site_, found->first));
    if (!follows || !wired(alarm.situation.zone)) return missing({{output.hold_s.pointer, "unknown"}});
    return left_by_panel(of_loop_contact(alarm.situation), alarm, rest);
  }

  /// The output is on from when the panel counts the alarm, at the latest, until the alarm ends, at the earliest.
  AlarmTime left_by_panel(AlarmTime time, const Level& alarm, const Level* rest) const {
    if (!alarm.panel) return missing(alarm.solved.gaps);
    const Watcher panel = watcher_of(*alarm.circuit.terminal->spec);
    const Seen seen = seen_by(panel, alarm, rest, right_band(alarm));
    time.footing.stand_on(seen.footing);
    time.known = time.known && seen.lead.has_value();
    if (time.known) time.seconds -= longest_delay(panel.watch, seen.lead->least);
    return time;
  }

  // ---- The answer --------------------------------------------------------------------------------------------------

  Evidence judged(const Subject& subject, const Watcher& watcher, const Seen& seen, const AlarmTime& time) const {
    Footing footing = seen.footing;
    footing.stand_on(time.footing);
    Evidence evidence = unanswered(subject, footing.gaps);
    evidence.origin = footing.origin;
    if (seen.never) {
      evidence.verdict = chain::Verdict::broken;
      evidence.says = say::catch_never(subject.thing);
      return evidence;
    }
    if (!margin_.value) chain::lacks_rule(evidence, margin_);
    const auto any_unknown = [](const Gap& gap) { return chain::nothing_known(gap.reason); };
    if (!seen.lead || !time.known || !margin_.value ||
        std::any_of(footing.gaps.begin(), footing.gaps.end(), any_unknown)) {
      return evidence;
    }
    const double needed = certainly_caught(watcher.watch, seen.lead->least);
    evidence.value = evidence.bound = needed;
    evidence.limit = time.seconds;
    evidence.margin = time.seconds - needed;
    evidence.required_margin = *margin_.value;
    evidence.limit_source = time.source;
    evidence.limit_verified = time.verified;
    evidence.margin_source = margin_.source;
    evidence.margin_verified = margin_.verified;
    // Rest and alarm are each taken at the end that is worse, and an alarm is caught or missed by chance of the phase.
    evidence.kind = watcher.watch.filter_high == 0.0 ? chain::BoundKind::exact : chain::BoundKind::bounded;
    const chain::Verdict verdict = chain::judge(*evidence.margin, *margin_.value);
    const bool open = !evidence.gaps.empty();
    evidence.verdict = open ? chain::Verdict::unanswered : verdict;
    evidence.says = sentence(subject.thing, verdict, open, {needed, "s"}, {time.seconds, "s"});
    if (!open && verdict != chain::Verdict::proven) evidence.remedies.push_back(say::lengthen_the_alarm());
    return evidence;
  }

  Message sentence(const std::string& thing, chain::Verdict verdict, bool open, const Measure& needed,
                   const Measure& alarm) const {
    if (open) return say::catch_unanswered(thing, needed, alarm);
    if (verdict == chain::Verdict::broken) return say::catch_broken(thing, needed, alarm);
    if (verdict == chain::Verdict::proven) return say::catch_proven(thing, needed, alarm);
    return say::catch_thin(thing, needed, alarm, Measure{*margin_.value, "s"});
  }

  const site::Site& site_;
  chain::Limit margin_, shortest_;
};

bool is_alarm(const Level& level) { return level.situation.state.happening == Happening::alarm; }

std::vector<Evidence> taken(Worst& worst) {
  std::vector<Evidence> all;
  if (worst.any()) all.push_back(worst.take());
  return all;
}

}  // namespace

std::vector<Evidence> check_panel_catch(const site::Site& site, const std::string& zone,
                                        const std::vector<Level>& before, const std::vector<Level>& after) {
  if (!site.zones.at(zone).medium.is(site::Medium::wired)) return {};
  const CatchCheck check(site);
  Worst worst;
  for (const std::vector<Level>* levels : {&before, &after}) {
    for (const Level& level : *levels) {
      if (is_alarm(level)) worst.offer(check.panel(level, *levels, zone));
    }
  }
  return taken(worst);
}

std::vector<Evidence> check_unit_catch(const site::Site& site, const std::string& trigger,
                                       const std::vector<Level>& levels) {
  const CatchCheck check(site);
  Worst worst;
  for (const Level& level : levels) {
    if (level.situation.unit == UnitCondition::powered && is_alarm(level))
      worst.offer(check.unit(trigger, level, levels));
  }
  if (!worst.any() && !levels.empty())
    return {unanswered(check.unit_subject(trigger, levels.front().situation),
                       missing_contacts(site, site.triggers.at(trigger).zone.id))};
  return taken(worst);
}

}  // namespace zoneproof::electric
