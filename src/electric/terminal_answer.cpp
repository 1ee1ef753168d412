#include "electric/terminal_answer.hpp"

#include <algorithm>
#include <cmath>

#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Range;
using site::ReadingWay;

bool any_on(const std::vector<MeterReading>& readings, ReadingSupply supply) {
  return std::any_of(readings.begin(), readings.end(),
                     [&](const MeterReading& reading) { return reading.supply == supply; });
}

/// A meter that was used for a reading of that kind; null where none was.
const site::Meter* meter_of(const site::ZoneTerminalSpec& spec, bool current) {
  for (const auto& [id, reading] : spec.readings) {
    if (reading.kind.known() && reading.kind.is(ReadingWay::shorted) == current) return &reading.meter;
  }
  return nullptr;
}

/// Readings that could be taken next: the open voltage, a voltage over each load, the current into a short.
std::vector<OfferedReading> offers(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel,
                                   const std::vector<Range>& loads_ohm, ReadingSupply supply) {
  std::vector<OfferedReading> all;
  const auto offer = [&](ReadingWay way, const Range& resistor) {
    const site::Meter* meter = meter_of(spec, way == ReadingWay::shorted);
    if (meter == nullptr) return;
    site::TerminalReading reading;
    reading.kind.value = way;
    reading.supply.value = supply;
    (way == ReadingWay::shorted ? reading.shown_A : reading.shown_V) =
        site::Value::exactly(0.0, site::Origin::measured);
    if (way == ReadingWay::loaded) {
      reading.resistor_ohm =
          site::Value::between(resistor.low, resistor.nominal, resistor.high, site::Origin::measured);
    }
    reading.meter = *meter;
    site::ZoneTerminalSpec one = spec;
    one.readings = {{"offered", reading}};
    const auto taken = taken_readings(site, one, panel, ReadingsFor::screws);
    if (taken && !taken->readings.empty()) all.push_back({way, resistor, taken->readings.front()});
  };
  offer(ReadingWay::open, {});
  for (const Range& load : loads_ohm) offer(ReadingWay::loaded, load);
  offer(ReadingWay::shorted, {});
  return all;
}

class Answering {
 public:
  Answering(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel,
            const std::vector<Range>& loads_ohm)
      : site_(site), spec_(spec), panel_(panel) {
    answer_.loads_ohm = loads_ohm;
  }

  TerminalAnswer answer() {
    if (const std::string pointer = no_meter_tells(spec_); !pointer.empty()) {
      answer_.gaps.push_back({pointer, "not_by_meter"});
      return std::move(answer_);
    }
    const std::optional<TakenReadings> taken = taken_readings(site_, spec_, panel_, ReadingsFor::screws);
    if (!taken) return std::move(answer_);
    known_ = taken->known;
    answer_.holds_input = taken->holds_input;
    answer_.readings = taken->readings;
    for (const Basis& basis : taken->bases) {
      if (basis.unknown) chain::add_gap(answer_.gaps, {basis.pointer, basis.weakness()});
    }
    for (ReadingSupply supply : {ReadingSupply::mains, ReadingSupply::battery}) {
      if (any_on(answer_.readings, supply)) answer_.supplies.push_back(supply);
    }
    answer_.same_source = taken->same_source || answer_.supplies.size() < 2;
    answer_.model = terminal_model(answer_.readings, answer_.same_source, known_);
    if (!answer_.gaps.empty()) return std::move(answer_);
    if (answer_.model.empty()) {
      contradiction(*taken);
    } else {
      further();
    }
    return std::move(answer_);
  }

 private:
  void contradiction(const TakenReadings& taken) {
    TakenReadings of_supply = taken;
    of_supply.same_source = answer_.same_source;
    answer_.contradiction = contradiction_of(site_, spec_, panel_, of_supply);
    answer_.follows_rail =
        answer_.same_source && answer_.supplies.size() == 2 && !terminal_model(answer_.readings, false, known_).empty();
  }

  void further() {
    if (answer_.supplies.size() == 2 && !answer_.same_source)
      answer_.follows_rail = terminal_model(answer_.readings, true, known_).empty();
    if (!answer_.model.bounded()) {
      const auto any = [&](ReadingWay way) {
        return std::any_of(spec_.readings.begin(), spec_.readings.end(),
                           [&](const auto& entry) { return entry.second.kind.is(way); });
      };
      answer_.lacking = lacking(any(ReadingWay::open), any(ReadingWay::loaded));
    }
    if (answer_.loads_ohm.empty() || answer_.supplies.empty()) return;
    TerminalQuestion question = {{Extent{}}};  // the open screws
    for (const Range& load : answer_.loads_ohm) question.loads_S.push_back({1.0 / load.high, 1.0 / load.low});
    if (answer_.lacking) question.loads_S.erase(question.loads_S.begin());
    answer_.offered = offers(site_, spec_, panel_, answer_.loads_ohm, answer_.supplies.front());
    std::vector<MeterReading> candidates;
    for (const OfferedReading& offered : answer_.offered) candidates.push_back(offered.reading);
    answer_.next = next_reading(answer_.readings, answer_.same_source, known_, candidates, question);
  }

  const site::Site& site_;
  const site::ZoneTerminalSpec& spec_;
  const std::string& panel_;
  KnownSource known_;
  TerminalAnswer answer_;
};

/// Sums of an end-of-line resistor with any of the resistors that contacts add to it.
std::vector<Range> sums(const Range& eol, const std::vector<Range>& added) {
  std::vector<Range> all = {eol};
  for (const Range& more : added) {
    const std::size_t before = all.size();
    for (std::size_t i = 0; i < before; ++i) {
      all.push_back({all[i].nominal + more.nominal, all[i].low + more.low, all[i].high + more.high});
    }
  }
  return all;
}

}  // namespace

TerminalAnswer terminal_answer(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel,
                               const std::vector<Range>& loads_ohm) {
  return Answering(site, spec, panel, loads_ohm).answer();
}

std::vector<Range> loads_of_terminal(const site::Site& site, const std::string& part) {
  std::vector<Range> all;
  for (const auto& [id, zone] : site.zones) {
    if (site::zone_terminal_of(site, id).id != part || !zone.loop.eol_ohm.known()) continue;
    const Temperatures air = temperatures_of(site, {});
    std::vector<Range> added;
    for (const site::Value* value : {&zone.loop.alarm_ohm, &zone.loop.mask_ohm, &zone.loop.second_alarm_ohm}) {
      if (value->known()) added.push_back(component_ohm(site, *value, 0.0, air).range);
    }
    for (const Range& load : sums(component_ohm(site, zone.loop.eol_ohm, 0.0, air).range, added)) {
      if (load.low > 0.0 && std::isfinite(load.high)) all.push_back(load);
    }
  }
  std::sort(all.begin(), all.end(), [](const Range& a, const Range& b) { return a.nominal < b.nominal; });
  all.erase(std::unique(all.begin(), all.end(), [](const Range& a, const Range& b) { return a.nominal == b.nominal; }),
            all.end());
  return all;
}

std::string panel_of_terminal(const site::Site& site, const std::string& part) {
  for (const auto& [id, zone] : site.zones) {
    if (site::zone_terminal_of(site, id).id == part) return zone.panel.id;
  }
  for (const auto& [id, panel] : site.panels) {
    if (panel.zone_terminal.id == part) return id;
  }
  return {};
}

}  // namespace zoneproof::electric
