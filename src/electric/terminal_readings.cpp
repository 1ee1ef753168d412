#include "electric/terminal_readings.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "base/json_pointer.hpp"
#include "electric/drive.hpp"
#include "electric/next_reading.hpp"

namespace zoneproof::electric {

namespace {

using site::Origin;
using site::TerminalReference;
using site::TerminalSource;
using site::Value;

bool firm(const Tracked& value) {
  return std::all_of(value.bases.begin(), value.bases.end(),
                     [](const Basis& basis) { return basis.weakness() == nullptr; });
}

Extent extent_of(const Tracked& value) { return {value.range.low, value.range.high}; }

/// Conductance of a resistance; none of one that is infinite.
Extent conductance(const Tracked& ohm) { return {1.0 / ohm.range.high, 1.0 / ohm.range.low}; }

/// Of the panel's place; of no panel the temperature at which resistances are stated.
Temperatures air_of(const site::Site& site, const std::string& panel) {
  constexpr double reference_degC = 20.0;
  const auto found = site.panels.find(panel);
  if (found == site.panels.end()) return {reference_degC, reference_degC, {}};
  return temperatures_of(site, {found->second.area});
}

class Taker {
 public:
  Taker(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel, ReadingsFor asker)
      : site_(site), spec_(spec), asker_(asker), air_(air_of(site, panel)) {}

  TakenReadings take() {
    taken_.same_source = spec_.source.is(TerminalSource::regulated);
    take_known();
    take_input();
    for (const auto& [id, reading] : spec_.readings) take_reading(id, reading);
    return std::move(taken_);
  }

 private:
  void rest_on(const Tracked& value) {
    taken_.bases.insert(taken_.bases.end(), value.bases.begin(), value.bases.end());
  }
  void lacks(const std::string& pointer) {
    taken_.bases.push_back({pointer, Origin::measured, true, false, false});
    complete_ = false;
  }
  Tracked number(const Value& value, double if_none) {
    if (value.unknown()) complete_ = false;
    Tracked result = tracked(value, if_none);
    rest_on(result);
    return result;
  }

  void take_known() {
    const Tracked ohm = component_ohm(site_, spec_.pullup_ohm, 0.0, air_);
    if (firm(ohm)) {
      taken_.known.ohm = extent_of(ohm);
      rest_on(ohm);
    }
    if (!taken_.same_source) return;
    const Tracked volts = tracked(spec_.source_V, 0.0);
    if (!firm(volts)) return;
    taken_.known.volts = extent_of(volts);
    rest_on(volts);
  }

  bool windows_in_percent() const {
    return std::any_of(spec_.windows.begin(), spec_.windows.end(),
                       [](const auto& entry) { return entry.second.min_pct.known() || entry.second.max_pct.known(); });
  }

  bool holds_input() const {
    if (asker_ == ReadingsFor::screws) return spec_.input_ohm.unknown() || spec_.series_ohm.unknown();
    return spec_.input_ohm.unknown() && !spec_.series_ohm.known() && taken_.same_source && !windows_in_percent();
  }

  /// The panel's own measuring input lies across the screws at every reading.
  void take_input() {
    if (spec_.input_ohm.none()) return;
    taken_.holds_input = taken_.known.behind_input = holds_input();
    if (taken_.holds_input) return;
    input_S_ = conductance(number(spec_.series_ohm, 0.0) + number(spec_.input_ohm, circuit::infinite));
  }

  /// A resistor in the technician's hand. A plain number is what is printed on it, unless it says that it was measured.
  Tracked resistor(const Value& value) {
    if (value.unknown()) complete_ = false;
    Value printed = value;
    if (value.known() && value.stated_origin != Origin::measured)
      printed.origin = std::max(value.origin, Origin::data_sheet);
    Tracked ohm = component_ohm(site_, printed, 0.0, air_);
    rest_on(ohm);
    return ohm;
  }

  void take_error(const site::Meter& meter, const Value& digit, MeterReading& reading) {
    reading.error_share = number(meter.error_pct, 0.0).range.high / 100.0;
    if (!meter.error_digits.known()) return lacks(meter.error_digits.pointer);
    if (*meter.error_digits.value == 0) return;
    reading.error_fixed = static_cast<double>(*meter.error_digits.value) * number(digit, 0.0).range.high;
  }

  void take_reading(const std::string& id, const site::TerminalReading& taken) {
    complete_ = true;
    MeterReading reading;
    reading.name = id;
    if (!taken.kind.known()) return lacks(taken.kind.pointer);
    if (!taken_.same_source && !taken.supply.known()) lacks(taken.supply.pointer);
    reading.supply = taken.supply.value.value_or(site::ReadingSupply::mains);
    const bool shorted = taken.kind.is(site::ReadingWay::shorted);
    reading.kind = shorted ? MeterKind::current : MeterKind::voltage;
    Tracked shown = tracked(shorted ? taken.shown_A : taken.shown_V, 0.0);
    if (shown.bases.front().unknown) complete_ = false;
    shown.bases.front().origin = Origin::measured;  // nobody reads a meter from a data sheet
    rest_on(shown);
    reading.shown = extent_of(shown);
    take_error(taken.meter, shorted ? taken.meter.digit_A : taken.meter.digit_V, reading);
    reading.load_S = input_S_;
    if (shorted) {
      reading.burden_ohm = extent_of(number(taken.meter.burden_ohm, 0.0));
    } else {
      add_load(conductance(number(taken.meter.input_ohm, circuit::infinite)), reading);
    }
    if (taken.kind.is(site::ReadingWay::loaded)) add_load(conductance(resistor(taken.resistor_ohm)), reading);
    if (complete_) taken_.readings.push_back(std::move(reading));
  }

  static void add_load(const Extent& load_S, MeterReading& reading) {
    reading.load_S.low += load_S.low;
    reading.load_S.high += load_S.high;
  }

  const site::Site& site_;
  const site::ZoneTerminalSpec& spec_;
  ReadingsFor asker_;
  Temperatures air_;
  TakenReadings taken_;
  Extent input_S_;
  bool complete_ = true;  ///< the reading being taken
};

const char* reason_of(site::ReadingWay way) {
  switch (way) {
    case site::ReadingWay::open: return "reading_open";
    case site::ReadingWay::loaded: return "reading_loaded";
    default: return "reading_shorted";
  }
}

/// What is missing for a region to have an end.
const char* wanted(const site::ZoneTerminalSpec& spec) {
  const auto any = [&](site::ReadingWay way) {
    return std::any_of(spec.readings.begin(), spec.readings.end(),
                       [&](const auto& entry) { return entry.second.kind.is(way); });
  };
  return reason_of(lacking(any(site::ReadingWay::open), any(site::ReadingWay::loaded)));
}

/// A value of that field of which nothing is known.
Tracked anything(const Value& field, const std::vector<Basis>& why) {
  Value unknown;
  unknown.pointer = field.pointer;
  Tracked value = tracked(unknown, 0.0);
  value.bases = why;
  return value;
}

/// Source and pull-up of which nothing is known, for those reasons.
MeasuredSource nothing_told(const site::ZoneTerminalSpec& spec, const TakenReadings& taken,
                            const std::vector<Basis>& why) {
  MeasuredSource nothing;
  nothing.holds_input = taken.holds_input;
  nothing.ohm = anything(spec.pullup_ohm, why);
  if (taken.same_source) nothing.volts = anything(spec.source_V, why);
  return nothing;
}

Basis lacking_basis(const std::string& pointer, const char* reason) {
  return {pointer, Origin::measured, true, true, false, reason};
}

/// The values of the part that cut the region, each with what is left without it; the input, where the part knows it.
std::vector<std::string> against_the_rest(const site::Site& site, const site::ZoneTerminalSpec& spec,
                                          const std::string& panel, const TakenReadings& taken) {
  std::vector<std::string> odd;
  const auto agrees = [&taken](const TakenReadings& rest) {
    return !terminal_model(rest.readings, taken.same_source, rest.known).empty();
  };
  const auto without = [&](Extent KnownSource::*value, const std::string& pointer) {
    TakenReadings rest = taken;
    rest.known.*value = KnownSource().*value;
    if (agrees(rest)) odd.push_back(pointer);
  };
  without(&KnownSource::ohm, spec.pullup_ohm.pointer);
  without(&KnownSource::volts, spec.source_V.pointer);
  if (taken.holds_input) return odd;
  site::ZoneTerminalSpec held = spec;
  held.input_ohm.state = held.series_ohm.state = Value::State::unknown;
  if (agrees(Taker(site, held, panel, ReadingsFor::screws).take())) odd.push_back(spec.input_ohm.pointer);
  return odd;
}

/// Why readings contradict what they stand beside, or each other.
std::vector<Basis> disagreeing(const site::ZoneTerminalSpec& spec, const TakenReadings& taken,
                               const Contradiction& found) {
  const std::string pointer = readings_pointer(spec);
  std::vector<Basis> why;
  if (found.readings.size() == 1 && found.sheet.empty())
    why.push_back(
        lacking_basis(pointer_child(pointer, taken.readings[found.readings.front()].name), "reading_disagrees"));
  else if (!found.readings.empty() || !found.readings_agree)
    why.push_back(lacking_basis(pointer, "readings_disagree"));
  for (const std::string& value : found.sheet) why.push_back(lacking_basis(value, "sheet_disagrees"));
  return why;
}

/// Why readings that agree with everything are too few; empty where they are not.
std::vector<Basis> too_few(const site::ZoneTerminalSpec& spec, const TakenReadings& taken, const TerminalModel& model) {
  const std::string pointer = readings_pointer(spec);
  const bool enough = std::isfinite(model.mains.ohm().high) && (!taken.same_source || model.bounded());
  return enough ? std::vector<Basis>() : std::vector{lacking_basis(pointer, wanted(spec))};
}

/// A point of the region for the nominal network: the middle of its corners.
TerminalPoint middle_of(const TerminalRegion& region) {
  TerminalPoint middle;
  const auto count = static_cast<double>(region.vertices().size());
  for (const TerminalPoint& corner : region.vertices()) {
    middle.ohm += corner.ohm / count;
    middle.volts += corner.volts / count;
  }
  return middle;
}

/// Source and pull-up of a region that has an end.
MeasuredSource told_by(const site::Site& site, const site::ZoneTerminalSpec& spec, const TakenReadings& taken,
                       const TerminalModel& model, const Temperatures& air) {
  const std::string pointer = readings_pointer(spec);
  const auto told = [&](const circuit::Range& range) {
    Tracked value = {range, {Basis{pointer, Origin::measured, false, true, false}}};
    value.bases.insert(value.bases.end(), taken.bases.begin(), taken.bases.end());
    return value;
  };
  const auto at_place = [&](const circuit::Range& range) {
    return at_other_temperatures(site, told(range), pointer, air);
  };
  const TerminalPoint middle = middle_of(model.mains);
  const Extent ohm = model.mains.ohm(), volts = model.mains.volts();
  MeasuredSource source;
  source.holds_input = taken.holds_input;
  source.ohm = at_place({std::clamp(middle.ohm, ohm.low, ohm.high), ohm.low, ohm.high});
  if (!taken.same_source) return source;
  source.volts = told({std::clamp(middle.volts, volts.low, volts.high), volts.low, volts.high});
  for (const TerminalPoint& corner : model.mains.vertices()) {
    source.corners.push_back({at_place(circuit::Range::exactly(corner.ohm)).range, corner.volts});
  }
  return source;
}

}  // namespace

std::string readings_pointer(const site::ZoneTerminalSpec& spec) {
  return pointer_child(pointer_parent(spec.pullup_ohm.pointer), "readings");
}

std::optional<TakenReadings> taken_readings(const site::Site& site, const site::ZoneTerminalSpec& spec,
                                            const std::string& panel, ReadingsFor asker) {
  const bool no_source =
      spec.refers_to.is(TerminalReference::current_source) || spec.refers_to.is(TerminalReference::optocoupled);
  if (spec.readings.empty() || no_source) return std::nullopt;
  return Taker(site, spec, panel, asker).take();
}

Contradiction contradiction_of(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel,
                               const TakenReadings& taken) {
  Contradiction found;
  found.readings = against_the_others(taken.readings, taken.same_source, taken.known);
  site::ZoneTerminalSpec bare = spec;
  for (Value* value : {&bare.pullup_ohm, &bare.source_V, &bare.input_ohm, &bare.series_ohm})
    value->state = Value::State::unknown;
  const TakenReadings alone = Taker(site, bare, panel, ReadingsFor::screws).take();
  found.readings_agree = !terminal_model(alone.readings, taken.same_source, alone.known).empty();
  found.sheet = against_the_rest(site, spec, panel, taken);
  if (!found.readings_agree || !found.readings.empty() || !found.sheet.empty()) return found;
  const KnownSource& known = taken.known;
  if (std::isfinite(known.ohm.high)) found.sheet.push_back(spec.pullup_ohm.pointer);
  if (std::isfinite(known.volts.width())) found.sheet.push_back(spec.source_V.pointer);
  if (!taken.holds_input) found.sheet.push_back(spec.input_ohm.pointer);
  return found;
}

std::string no_meter_tells(const site::ZoneTerminalSpec& spec) {
  if (pulsed(spec)) return spec.drive.pointer;
  for (const TerminalReference other :
       {TerminalReference::current_source, TerminalReference::optocoupled, TerminalReference::matrix}) {
    if (spec.refers_to.is(other)) return spec.refers_to.pointer;
  }
  return {};
}

std::optional<MeasuredSource> measured_source(const site::Site& site, const site::ZoneTerminalSpec& spec,
                                              const std::string& panel) {
  const std::optional<TakenReadings> taken = taken_readings(site, spec, panel);
  if (!taken) return std::nullopt;
  std::vector<Basis> why;
  std::copy_if(taken->bases.begin(), taken->bases.end(), std::back_inserter(why),
               [](const Basis& basis) { return basis.unknown; });
  if (!why.empty()) return nothing_told(spec, *taken, why);
  const TerminalModel model = terminal_model(taken->readings, taken->same_source, taken->known);
  why = model.empty() ? disagreeing(spec, *taken, contradiction_of(site, spec, panel, *taken))
                      : too_few(spec, *taken, model);
  if (!why.empty()) return nothing_told(spec, *taken, why);
  return told_by(site, spec, *taken, model, air_of(site, panel));
}

}  // namespace zoneproof::electric
