// A high-impedance buffer before the inputs of a unit. Unit and buffer are one part in the changed site: the loops see
// the buffer's inputs, the unit sees each voltage again with the buffer's error in it, and both are fed as one.
//
// Assumed: the buffer stands beside the unit, its supply on the unit's own terminals, a channel before every input; an
// output follows its input within the stated error whatever the loads down to `load_min_ohm` are. So all of the unit's
// input that a loop could feel (impedance, pull-up, clamps) is behind the buffer and moves nothing but that error. Not
// covered: a buffer before some inputs only, or fed from elsewhere.
#include <algorithm>
#include <limits>

#include "electric/naming.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {

namespace {

using site::BufferSpec;
using site::Site;
using site::UnitSpec;
using site::Value;

/// The narrower of two ranges of supply, end by end.
Value higher(const Value& a, const Value& b) { return stated(a.high > b.high ? a : b); }
Value lower(const Value& a, const Value& b) { return stated(a.low < b.low ? a : b); }

/// Least resistance that an input of the unit puts on what drives it.
double load_ohm(const site::UnitInputSpec& input) {
  double siemens = 0.0;
  for (const Value* ohm : {&input.impedance_ohm, &input.pullup_ohm}) {
    if (ohm->unknown() || (ohm->known() && ohm->low <= 0.0)) return 0.0;
    if (ohm->known()) siemens += 1.0 / ohm->low;
  }
  return siemens > 0.0 ? 1.0 / siemens : std::numeric_limits<double>::infinity();
}

bool all_known(const BufferSpec& buffer) {
  const Value* values[] = {&buffer.input_ohm,    &buffer.error_V,      &buffer.output_max_V,
                           &buffer.load_min_ohm, &buffer.damage_min_V, &buffer.damage_max_V,
                           &buffer.supply_min_V, &buffer.supply_max_V, &buffer.current_A};
  return buffer.channels.known() &&
         std::all_of(std::begin(values), std::end(values), [](const Value* value) { return value->known(); });
}

/// Whether the buffer has a channel for each input, can drive it, and can do it no harm.
bool fits(const UnitSpec& unit, const BufferSpec& buffer) {
  const site::UnitInputSpec& input = unit.input;
  const bool known = all_known(buffer) && unit.inputs.known() && input.error_V.known() &&
                     input.measuring_max_V.known() && input.damage_max_V.known() && unit.supply_min_V.known() &&
                     unit.supply_max_V.known();
  if (!known || load_ohm(input) >= buffer.input_ohm.low) return false;  // nothing to be gained
  return *buffer.channels.value >= *unit.inputs.value && load_ohm(input) >= buffer.load_min_ohm.high &&
         buffer.output_max_V.high <= input.damage_max_V.low;
}

site::UnitInputSpec input_behind(const site::UnitInputSpec& bare, const BufferSpec& buffer) {
  site::UnitInputSpec input = bare;
  input.impedance_ohm = stated(buffer.input_ohm);
  input.capacitance_nF = stated(buffer.capacitance_nF);
  input.pullup_ohm = input.clamp_forward_V = input.clamp_on_ohm = Value::absent();
  input.filter_s = sum(bare.filter_s, buffer.filter_s);
  input.error_V = sum(bare.error_V, buffer.error_V);
  const Value reach = Value::exactly(buffer.output_max_V.low, buffer.output_max_V.origin);
  input.measuring_max_V = lower(bare.measuring_max_V, reach);
  input.damage_min_V = stated(buffer.damage_min_V);
  input.damage_max_V = stated(buffer.damage_max_V);
  return input;
}

/// The buffer's current at any voltage that the two may be fed with, as power.
Value power_of(const BufferSpec& buffer, const Value& supply_min, const Value& supply_max) {
  const Value& ampere = buffer.current_A;
  const double least = ampere.low * supply_min.low, most = ampere.high * supply_max.high;
  return Value::between(least, 0.5 * (least + most), most, ampere.origin);
}

UnitSpec unit_behind(const UnitSpec& bare, const BufferSpec& buffer) {
  UnitSpec unit = bare;
  unit.supply_min_V = higher(bare.supply_min_V, buffer.supply_min_V);
  unit.supply_max_V = lower(bare.supply_max_V, buffer.supply_max_V);
  if (bare.power_W.known()) unit.power_W = sum(bare.power_W, power_of(buffer, unit.supply_min_V, unit.supply_max_V));
  if (bare.current_A.known()) unit.current_A = sum(bare.current_A, buffer.current_A);
  if (bare.startup_A.known()) unit.startup_A = sum(bare.startup_A, buffer.current_A);
  unit.input = input_behind(bare.input, buffer);
  return unit;
}

std::optional<Candidate> buffered(const Site& site, const std::string& unit, const std::string& buffer_part) {
  const site::Part& buffer = site::parts_shelf().at(buffer_part);
  const std::string bare_part = site.units.at(unit).part.id;
  const site::Part& bare = site.parts.at(bare_part);
  Candidate made{
      Kind::buffer, say::remedy_buffer(electric::thing_words(site, unit), buffer.name), site, {{{buffer_part}}, {}}};
  site::Part both;
  both.name = text(say::remedy_buffered_part(bare.name, buffer.name));
  both.kind.value = site::PartKind::unit;
  both.source = text(say::remedy_buffered_source(bare.source, buffer.source));
  both.origin = bare.origin;
  both.note = text(say::remedy_buffered_note(bare_part, buffer_part));
  both.unit = unit_behind(*bare.unit, *buffer.buffer);
  const std::string id = fresh_id(site, bare_part + "_buffered");
  made.changed.parts[id] = std::move(both);
  made.changed.units.at(unit).part.id = id;
  for (const std::string& trigger : site::triggers_of_unit(site, unit)) {
    if (site::has_wire(site.triggers.at(trigger))) made.to_fit.push_back(trigger);
  }
  const auto wires = static_cast<double>(made.to_fit.size());
  made.bill.work = {
      {"fit_buffer"}, {"move_wire", wires}, {"terminate", wires}, {"choose_setting", wires}, {"test_zone", wires}};
  return made;
}

}  // namespace

void buffer_ladders(const Site& site, const std::string& unit, std::vector<Ladder>& all) {
  const UnitSpec* spec = site::unit_spec(site, unit);
  if (spec == nullptr) return;
  for (const auto& entry : site::parts_shelf()) {
    const std::string part = entry.first, name = "buffer/" + unit + "/" + part;
    const bool there = std::any_of(all.begin(), all.end(), [&](const Ladder& ladder) { return ladder.name == name; });
    if (there || !entry.second.buffer || entry.second.origin != site::Origin::data_sheet ||
        !fits(*spec, *entry.second.buffer))
      continue;
    all.push_back(one_size(name, [&site, unit, part] { return buffered(site, unit, part); }));
    all.back().last_resort = true;
  }
}

}  // namespace zoneproof::remedies
