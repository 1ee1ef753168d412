#include "site/part_rules.hpp"

#include <algorithm>
#include <iterator>
#include <limits>
#include <optional>
#include <utility>

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/contradiction.hpp"
#include "site/field.hpp"
#include "site/scene_rules.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

using std::string;

namespace {

/// Exactly the object that is named like `kind` is present.
void check_kind(const Part& part, const string& pointer, Findings& findings) {
  if (!part.kind.known()) return;
  const string kind(word_of(*part.kind.value));
  for (const Field& field : record_of<Part>().fields) {
    if (field.shape != Shape::optional_record) continue;
    const bool present = field.nested->size(field.member_of(&part)) > 0;
    if (field.key == kind && !present) findings.add(say::site_part_object_missing(kind), pointer);
    if (field.key != kind && present) {
      findings.add(say::site_part_object_other(string(field.key), kind), pointer_child(pointer, field.key), true);
    }
  }
}

/// The ends of a window, in volts or in percent; unbounded where one is none, nothing where nothing is known.
std::optional<std::pair<double, double>> ends(const Value& low, const Value& high) {
  if ((low.unknown() || high.unknown()) || (low.none() && high.none())) return std::nullopt;
  constexpr double kFar = std::numeric_limits<double>::infinity();
  return std::pair(low.known() ? low.nominal : -kFar, high.known() ? high.nominal : kFar);
}

/// Windows in volts and windows in percent of one terminal cannot be held against each other.
void check_one_measure(const Map<Window>& windows, Findings& findings) {
  const Value* volts = nullptr;
  const Value* share = nullptr;
  for (const auto& [id, window] : windows) {
    const Value* in_volts = window.min_V.known() ? &window.min_V : window.max_V.known() ? &window.max_V : nullptr;
    const Value* in_pct = window.min_pct.known() ? &window.min_pct : window.max_pct.known() ? &window.max_pct : nullptr;
    if (in_volts != nullptr && in_pct != nullptr) continue;  // told of the window itself
    if (in_volts != nullptr) volts = in_volts;
    if (in_pct != nullptr) share = in_pct;
  }
  if (volts != nullptr && share != nullptr) findings.add(say::site_windows_mixed(), share->pointer);
}

/// A voltage has one meaning: windows that mean different things may touch and no more.
void check_windows(const Map<Window>& windows, const string& pointer, Findings& findings) {
  const auto overlap = [](const auto& a, const auto& b) {
    return a && b && std::max(a->first, b->first) < std::min(a->second, b->second);
  };
  for (auto one = windows.begin(); one != windows.end(); ++one) {
    for (auto two = std::next(one); two != windows.end(); ++two) {
      const Window &a = one->second, &b = two->second;
      if (!a.means.known() || !b.means.known() || a.means.value == b.means.value) continue;
      if (!overlap(ends(a.min_V, a.max_V), ends(b.min_V, b.max_V)) &&
          !overlap(ends(a.min_pct, a.max_pct), ends(b.min_pct, b.max_pct)))
        continue;
      findings.add(say::site_windows_overlap(one->first, string(word_of(*a.means.value)), two->first,
                                             string(word_of(*b.means.value))),
                   pointer_child(pointer, two->first), true);
    }
  }
}

void check_reading(const TerminalReading& reading, Findings& findings) {
  if (!reading.kind.known()) return;
  const ReadingWay kind = *reading.kind.value;
  unless(kind != ReadingWay::shorted, reading.shown_V, "kind", kind, findings);
  unless(kind == ReadingWay::shorted, reading.shown_A, "kind", kind, findings);
  unless(kind == ReadingWay::loaded, reading.resistor_ohm, "kind", kind, findings);
}

/// Readings tell of a source behind a resistance: what is none cannot have them.
void check_readings(const ZoneTerminalSpec& terminal, const string& pointer, Findings& findings) {
  for (const auto& entry : terminal.readings) check_reading(entry.second, findings);
  if (terminal.readings.empty() || !terminal.refers_to.known()) return;
  for (const TerminalReference other : {TerminalReference::current_source, TerminalReference::optocoupled}) {
    if (!terminal.refers_to.is(other)) continue;
    findings.add(say::site_readings_of_no_source(string(word_of(other))), pointer_child(pointer, "readings"), true);
  }
}

/// The times of a period, in their order.
void check_times(const ZoneTerminalSpec& terminal, Findings& findings) {
  check_ends(terminal.on_s, terminal.period_s, "on_s", "period_s", findings);
  check_ends(terminal.reverse_s, terminal.period_s, "reverse_s", "period_s", findings);
  const bool waves = terminal.drive.is(TerminalDrive::alternating);
  check_ends(terminal.look_s, waves ? terminal.period_s : terminal.on_s, "look_s", waves ? "period_s" : "on_s",
             findings);
  const bool all = terminal.on_s.known() && terminal.reverse_s.known() && terminal.period_s.known();
  if (!all || terminal.on_s.nominal + terminal.reverse_s.nominal <= terminal.period_s.nominal) return;
  if (terminal.on_s.nominal > terminal.period_s.nominal || terminal.reverse_s.nominal > terminal.period_s.nominal)
    return;  // told already
  findings.add(say::site_pulses_overlap({terminal.on_s.nominal, "s", kShownDigits},
                                        {terminal.reverse_s.nominal, "s", kShownDigits},
                                        {terminal.period_s.nominal, "s", kShownDigits}),
               terminal.reverse_s.pointer);
}

/// What drives a terminal, and the members that only some of the kinds have.
void check_drive(const ZoneTerminalSpec& terminal, Findings& findings) {
  check_times(terminal, findings);
  if (!terminal.drive.known()) return;
  const TerminalDrive drive = *terminal.drive.value;
  const bool bipolar = drive == TerminalDrive::bipolar, waves = drive == TerminalDrive::alternating;
  const bool pulses = bipolar || drive == TerminalDrive::scanned;
  unless(pulses || waves, terminal.on_s, "drive", drive, findings);  // of a wave: as information, half its period
  unless(pulses, terminal.off_V, "drive", drive, findings);
  for (const Value* value : {&terminal.reverse_V, &terminal.reverse_s})
    unless(bipolar, *value, "drive", drive, findings);
  for (const Value* value : {&terminal.period_s, &terminal.look_s})
    unless(pulses || waves, *value, "drive", drive, findings);
  unless(waves, terminal.rms_V, "drive", drive, findings);
  unless(waves, terminal.wave, "drive", drive, findings);
  for (const Value* value : {&terminal.source_V, &terminal.source_pct}) {
    if (waves && stated(terminal.rms_V) && stated(*value))
      findings.add(say::site_either_or(last_token(value->pointer), "rms_V"), value->pointer);
  }
  if (bipolar && terminal.source_V.known() && terminal.reverse_V.known() &&
      terminal.source_V.nominal * terminal.reverse_V.nominal > 0.0) {
    findings.add(say::site_one_polarity({terminal.source_V.nominal, "V", kShownDigits},
                                        {terminal.reverse_V.nominal, "V", kShownDigits}),
                 terminal.reverse_V.pointer);
  }
}

void check_terminal(const ZoneTerminalSpec& terminal, const string& pointer, Findings& findings) {
  check_windows(terminal.windows, pointer_child(pointer, "windows"), findings);
  check_one_measure(terminal.windows, findings);
  check_readings(terminal, pointer, findings);
  check_drive(terminal, findings);
  if (terminal.source.known()) {
    const TerminalSource source = *terminal.source.value;
    unless(source == TerminalSource::regulated, terminal.source_V, "source", source, findings);
    unless(source == TerminalSource::raw_rail, terminal.source_pct, "source", source, findings);
  }
  if (terminal.refers_to.known()) {
    const TerminalReference refers_to = *terminal.refers_to.value;
    unless(refers_to == TerminalReference::current_source, terminal.current_A, "refers_to", refers_to, findings);
    unless(refers_to == TerminalReference::optocoupled, terminal.forward_V, "refers_to", refers_to, findings);
  }
  for (const auto& entry : terminal.windows) {
    const Window& window = entry.second;
    const Value& volts = stated(window.min_V) ? window.min_V : window.max_V;
    const Value& share = stated(window.min_pct) ? window.min_pct : window.max_pct;
    if (stated(volts) && stated(share)) {
      findings.add(say::site_either_or(last_token(share.pointer), last_token(volts.pointer)), share.pointer);
    }
  }
}

void check_unit(const UnitSpec& unit, Findings& findings) {
  if (stated(unit.power_W) && stated(unit.current_A)) {
    findings.add(say::site_either_or("power_W", "current_A"), unit.power_W.pointer);
  }
  check_ends(unit.lockout_V, unit.supply_min_V, "lockout_V", "supply_min_V", findings);
  check_ends(unit.arming.low_max_V, unit.arming.high_min_V, "low_max_V", "high_min_V", findings);
}

/// Without supply nothing changes at a detector that needs none.
void check_detector(const DetectorSpec& detector, Findings& findings) {
  if (!detector.supply_min_V.none()) return;
  for (const auto& entry : detector.contacts) {
    const Word<WithoutSupply>& without = entry.second.without_supply;
    if (without.known() && !without.is(WithoutSupply::unaffected))
      findings.add(say::site_contradiction("without_supply", "supply_min_V", "none"), without.pointer);
  }
}

void check_supply(const SupplySpec& supply, Findings& findings) {
  for (const auto& entry : supply.outputs) {
    const SupplyOutputSpec& output = entry.second;
    if (!output.protection.known()) continue;
    const Protection protection = *output.protection.value;
    unless(protection == Protection::foldback, output.foldback_A, "protection", protection, findings);
  }
}

/// The id of an entry ends in its unit, before the grade where it has one: a number in another unit is another limit.
void check_entry_unit(const string& id, const RuleEntry& entry, const string& pointer, Findings& findings) {
  const auto unit = unit_of_key(id.substr(0, id.find("_grade_")));
  if (!unit || entry.unit.empty()) return;
  const string wanted = unit->symbol.empty() ? "1" : string(unit->suffix);  // a factor has no unit
  if (entry.unit == wanted) return;
  findings.add(say::site_rule_unit(id, entry.unit, wanted), pointer_child(pointer, "unit"));
}

/// Entries that say nothing outside of a range, whatever the limit: the rest are acceptance limits, which are anybody's
/// own. What each means is in docs/methods/yield.md.
void check_entry_possible(const string& id, const Value& value, Findings& findings) {
  if (!value.known()) return;
  constexpr double all_pct = 100.0;
  const auto shown = [&](double number) { return Measure{number, "", kShownDigits}; };
  const double number = value.nominal;
  if (id == "yield_sigmas" && number < 0.0)
    findings.add(say::site_rule_least(id, shown(number), shown(0.0)), value.pointer);
  if (id == "yield_log_ratio" && number <= 1.0)
    findings.add(say::site_rule_above(id, shown(number), shown(1.0)), value.pointer);
  if (id == "yield_confidence_pct" && (number <= 0.0 || number >= all_pct))
    findings.add(say::site_rule_between(id, shown(number), shown(0.0), shown(all_pct)), value.pointer);
}

void check_entry(const RuleEntry& entry, const string& pointer, Findings& findings) {
  const bool table = !entry.points.empty();
  if (!stated(entry.value) && !table) findings.add(say::site_rule_empty(), pointer);
  if (stated(entry.value) && table) findings.add(say::site_either_or("value", "points"), entry.value.pointer);
  if (table && entry.at_unit.empty()) findings.add(say::site_rule_at_unit(), pointer);
  for (std::size_t i = 1; i < entry.points.size(); ++i) {
    const Value& before = entry.points[i - 1].at;
    const Value& at = entry.points[i].at;
    if (!before.known() || !at.known() || before.nominal < at.nominal) continue;
    findings.add(say::site_rule_points_order({at.nominal, entry.at_unit, kShownDigits},
                                             {before.nominal, entry.at_unit, kShownDigits}),
                 at.pointer);
  }
}

}  // namespace

void check_part(const Part& part, const string& pointer, Findings& findings) {
  check_kind(part, pointer, findings);
  if (part.supply) check_supply(*part.supply, findings);
  if (part.zone_terminal) check_terminal(*part.zone_terminal, pointer_child(pointer, "zone_terminal"), findings);
  if (part.unit) check_unit(*part.unit, findings);
  if (part.detector) check_detector(*part.detector, findings);
  if (part.detector && part.detector->pattern) check_pattern(*part.detector->pattern, findings);
  if (part.lens) check_lens(*part.lens, findings);
  if (part.camera && part.camera->lens) check_lens(*part.camera->lens, findings);
}

void check_entries(const Rulebook& book, const string& pointer, Findings& findings) {
  for (const auto& [id, entry] : book.entries) {
    const string at = pointer_child(pointer_child(pointer, "entries"), id);
    check_entry(entry, at, findings);
    check_entry_unit(id, entry, at, findings);
    check_entry_possible(id, entry.value, findings);
  }
}

}  // namespace zoneproof::site
