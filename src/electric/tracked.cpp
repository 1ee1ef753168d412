#include "electric/tracked.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "chain/evidence.hpp"
#include "chain/limit.hpp"
#include "site/field_help.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Range;

std::vector<Basis> joined(const std::vector<Basis>& a, const std::vector<Basis>& b) {
  std::vector<Basis> all = a;
  all.insert(all.end(), b.begin(), b.end());
  return all;
}

Tracked unknown_value(const site::Value& value) {
  const auto [low, high] = site::allowed_range(value.pointer).value_or(std::pair(0.0, circuit::infinite));
  const double nominal = high == circuit::infinite ? low : 0.5 * (low + high);
  Basis basis = basis_of(value);
  basis.wide = true;
  return {Range{nominal, low, high}, {basis}};
}

/// A resistance that an unknown count makes arbitrary.
Tracked anything(Tracked value, const std::string& unknown_pointer) {
  value.range.low = 0.0;
  value.range.high = circuit::infinite;
  value.bases.push_back({unknown_pointer, site::Origin::assumed, true, true, false});
  return value;
}

/// Widens `ohm` by up to `share` of itself either way.
void widen(Tracked& ohm, double share) {
  ohm.range.low *= std::max(0.0, 1.0 - share);
  ohm.range.high *= 1.0 + share;
}

/// The number of a rulebook entry; where there is none `ohm` becomes unknown, for want of that entry.
std::optional<double> rule_or_anything(const site::Site& site, const char* rule_id, Tracked& ohm) {
  const site::RuleEntry* entry = site::rule(site, rule_id);
  if (entry != nullptr && entry->value.known()) return entry->value.high;
  ohm = anything(ohm, chain::limit_of(site, rule_id).pointer);
  return std::nullopt;
}

/// The rulebook's envelope in place of an unknown value; what it stands for is named first.
Tracked envelope(const site::RuleEntry& entry, const std::string& stands_for) {
  Tracked result = tracked(entry.value, 0.0);
  for (Basis& basis : result.bases) basis.origin = site::Origin::envelope;
  if (!stands_for.empty()) {
    result.bases.insert(result.bases.begin(), Basis{stands_for, site::Origin::envelope, false, false, false});
  }
  return result;
}

}  // namespace

const char* Basis::weakness() const { return lacks != nullptr ? lacks : chain::weakness(unknown, origin); }

Basis basis_of(const site::Value& value) {
  return {value.pointer, value.origin, value.unknown(), value.low < value.high, false};
}

Tracked tracked(const site::Value& value, double if_none) {
  if (value.unknown()) return unknown_value(value);
  if (value.none()) return {Range::exactly(if_none), {}};
  return {Range{value.nominal, value.low, value.high}, {basis_of(value)}};
}

Tracked tracked_or_envelope(const site::Site& site, const site::Value& value, const char* rule_id, double if_none) {
  if (!value.unknown()) return tracked(value, if_none);
  const site::RuleEntry* entry = site::rule(site, rule_id);
  return entry != nullptr && entry->value.known() ? envelope(*entry, value.pointer) : unknown_value(value);
}

Tracked at_temperature(Tracked value, const site::Value& source, const Temperatures& air) {
  // R(T) = R20 (1 + alpha (T - 20)), at both ends of the air; nominal at 20 degC or the nearest temperature that
  // occurs.
  if (!source.tempco_ppm_K) return value;
  const double alpha = *source.tempco_ppm_K * 1e-6;
  const auto factor = [alpha](double degC) { return 1.0 + alpha * (degC - 20.0); };
  value.range.low *= std::min(factor(air.low), factor(air.high));
  value.range.high *= std::max(factor(air.low), factor(air.high));
  value.range.nominal *= factor(std::clamp(20.0, air.low, air.high));
  for (Basis basis : air.bases) {
    basis.inverse = alpha < 0.0;
    value.bases.push_back(basis);
  }
  return value;
}

Tracked operator+(const Tracked& a, const Tracked& b) {
  return {Range{a.range.nominal + b.range.nominal, a.range.low + b.range.low, a.range.high + b.range.high},
          joined(a.bases, b.bases)};
}

Tracked operator*(const Tracked& a, const Tracked& b) {
  return {Range{a.range.nominal * b.range.nominal, a.range.low * b.range.low, a.range.high * b.range.high},
          joined(a.bases, b.bases)};
}

Tracked scaled(const Tracked& a, double factor) {
  Tracked result = a;
  result.range.nominal *= factor;
  result.range.low *= factor;
  result.range.high *= factor;
  if (factor < 0.0) std::swap(result.range.low, result.range.high);
  return result;
}

Tracked spanning(const Tracked& a, const Tracked& b) {
  return {Range{a.range.nominal, std::min(a.range.low, b.range.low), std::max(a.range.high, b.range.high)},
          joined(a.bases, b.bases)};
}

Tracked operator/(const Tracked& a, const Tracked& b) {
  // By the least that b may be: an end of a moves outward, without end where b may be nothing.
  const auto outward = [&](double end) {
    return b.range.low > 0.0 ? end / b.range.low : std::copysign(circuit::infinite, end);
  };
  const double high = a.range.high >= 0.0 ? outward(a.range.high) : a.range.high / b.range.high;
  const double low = a.range.low < 0.0 ? outward(a.range.low) : a.range.low / b.range.high;
  const double nominal = b.range.nominal > 0.0 ? a.range.nominal / b.range.nominal : high;
  Tracked quotient{Range{nominal, low, high}, joined(a.bases, b.bases)};
  for (std::size_t i = a.bases.size(); i < quotient.bases.size(); ++i)
    quotient.bases[i].inverse = !quotient.bases[i].inverse;
  return quotient;
}

Temperatures temperatures_of(const site::Site& site, const std::vector<site::Ref>& areas) {
  Temperatures result{circuit::infinite, -circuit::infinite, {}};
  for (const site::Ref& ref : areas) {
    const auto area = site.areas.find(ref.id);
    if (area == site.areas.end()) continue;
    const Tracked low = tracked_or_envelope(site, area->second.temperature_min_degC, "area_temperature_degC", 20.0);
    const Tracked high = tracked_or_envelope(site, area->second.temperature_max_degC, "area_temperature_degC", 20.0);
    result.low = std::min(result.low, low.range.low);
    result.high = std::max(result.high, high.range.high);
    result.bases = joined(result.bases, joined(low.bases, high.bases));
    // The air itself is one datum for everything in the area.
    result.bases.push_back(
        {"/areas/" + area->first, site::Origin::measured, false, low.range.low < high.range.high, false});
  }
  if (result.low > result.high) {  // no area named: the envelope stands for all of them
    const Tracked anywhere = tracked_or_envelope(site, site::Value{}, "area_temperature_degC", 20.0);
    result = {anywhere.range.low, anywhere.range.high, anywhere.bases};
  }
  return result;
}

Tracked component_ohm(const site::Site& site, const site::Value& value, double if_none, const Temperatures& air) {
  Tracked ohm = tracked(value, if_none);
  if (!value.known()) return ohm;
  if (value.spread == site::Spread::plain && value.origin != site::Origin::measured) {
    ohm.bases.push_back({value.pointer + "/tolerance_pct", site::Origin::assumed, false, true, false});
    if (const auto pct = rule_or_anything(site, "resistor_tolerance_pct", ohm)) widen(ohm, *pct / 100.0);
  }
  const double apart_K = std::max(std::fabs(air.low - 20.0), std::fabs(air.high - 20.0));
  if (apart_K == 0.0 || ohm.range.high == circuit::infinite) return ohm;
  std::optional<double> ppm = value.tempco_ppm_K;
  const bool whole_range = value.spread == site::Spread::min_max || value.spread == site::Spread::range_only;
  if (!ppm && whole_range) return ohm;
  if (!ppm) {
    ppm = rule_or_anything(site, "resistor_tempco_ppm_K", ohm);
    if (ppm) ohm.bases.push_back({value.pointer + "/tempco_ppm_K", site::Origin::envelope, false, true, false});
  }
  if (!ppm || *ppm == 0.0) return ohm;
  widen(ohm, std::fabs(*ppm) * 1e-6 * apart_K);
  // Which way it drifts is each resistor's own: the air of the area is no datum that two of them share.
  for (Basis basis : air.bases) {
    basis.wide = false;
    ohm.bases.push_back(basis);
  }
  return ohm;
}

Tracked at_other_temperatures(const site::Site& site, Tracked ohm, const std::string& pointer,
                              const Temperatures& air) {
  const double apart_K = air.high - air.low;
  if (!(apart_K > 0.0)) return ohm;
  const auto ppm = rule_or_anything(site, "resistor_tempco_ppm_K", ohm);
  if (!ppm || *ppm == 0.0) return ohm;
  ohm.bases.push_back({pointer, site::Origin::envelope, false, true, false});
  widen(ohm, std::fabs(*ppm) * 1e-6 * apart_K);
  return ohm;
}

namespace {

/// A conductor of some cores of a cable joined, with its joints.
Tracked cores_ohm(const site::Site& site, const std::string& cable_id, const site::Count& cores) {
  const site::Cable& cable = site.cables.at(cable_id);
  const site::CableSpec* spec = site::spec_of(site, cable.part, &site::Part::cable);
  if (spec == nullptr) {
    return {Range{0.0, 0.0, circuit::infinite}, {Basis{cable.part.pointer, site::Origin::assumed, true, true, false}}};
  }
  const Temperatures air = temperatures_of(site, cable.areas);
  Tracked per_m = scaled(tracked(spec->resistance_ohm_per_km, 0.0), 1e-3);
  per_m = at_temperature(per_m, spec->resistance_ohm_per_km, air);
  Tracked ohm = per_m * tracked(cable.length_m, 0.0);
  // The conductor itself is named first: its resistance is no single datum of the file.
  ohm.bases.insert(ohm.bases.begin(), Basis{"/cables/" + cable_id, site::Origin::measured, false, false, false});
  const Tracked joints = tracked_or_envelope(site, cable.joint_ohm, "joint_ohm", 0.0);
  if (!cores.known() || !cable.joints.known()) {
    Tracked any = ohm + joints;
    if (!cores.known()) any = anything(any, cores.pointer);
    if (!cable.joints.known()) any = anything(any, cable.joints.pointer);
    return any;
  }
  return scaled(ohm, 1.0 / static_cast<double>(*cores.value)) +
         scaled(joints, static_cast<double>(*cable.joints.value));
}

}  // namespace

Tracked conductor_ohm(const site::Site& site, const std::string& cable_id) {
  return cores_ohm(site, cable_id, site.cables.at(cable_id).cores_in_parallel);
}

Tracked core_ohm(const site::Site& site, const std::string& cable_id) {
  return cores_ohm(site, cable_id, site::Count{1, {}});
}

Tracked leakage_ohm(const site::Site& site, const std::string& cable_id) {
  return tracked_or_envelope(site, site.cables.at(cable_id).leakage_ohm, "leakage_ohm", circuit::infinite);
}

}  // namespace zoneproof::electric
