#pragma once
#include <string>
#include <vector>

#include "circuit/network.hpp"
#include "site/model.hpp"

/// Numbers on their way from the site file into the network, with the memory of where they come from.
namespace zoneproof::electric {

/// One datum that an element's value rests on.
struct Basis {
  std::string pointer;  ///< in the site file
  site::Origin origin = site::Origin::measured;
  bool unknown = false;         ///< nothing is known: the range is all that is physically possible
  bool wide = false;            ///< it has a tolerance of its own
  bool inverse = false;         ///< the element's high end is the datum's low end
  const char* lacks = nullptr;  ///< unknown for a reason of its own (of chain::Gap), e.g. "readings_disagree"

  /// Why nothing is proven on it, of chain::Gap; null where it bears a proof.
  const char* weakness() const;
};

Basis basis_of(const site::Value& value);

struct Tracked {
  circuit::Range range;
  std::vector<Basis> bases;

  /// A number that is a fact of the model, not of the site (a short circuit, an open wire).
  static Tracked fact(double value) { return {circuit::Range::exactly(value), {}}; }
};

/// The value as it stands in the file. Unknown: the field's whole physical range, marked. None: `if_none`.
Tracked tracked(const site::Value& value, double if_none);

/// The value, or where it is unknown the rulebook's envelope of that id, or else unknown.
Tracked tracked_or_envelope(const site::Site& site, const site::Value& value, const char* rule_id, double if_none);

Tracked operator+(const Tracked& a, const Tracked& b);
/// Product of two non-negative quantities.
Tracked operator*(const Tracked& a, const Tracked& b);
Tracked scaled(const Tracked& a, double factor);
/// From the lowest of a to the highest of b, nominal of a: a quantity that may be anything between the two.
Tracked spanning(const Tracked& a, const Tracked& b);
/// Quotient of any and a positive quantity.
Tracked operator/(const Tracked& a, const Tracked& b);

/// Where things stand: lowest and highest temperature of an area, in degC, the rulebook's envelope where it is unknown.
struct Temperatures {
  double low, high;
  std::vector<Basis> bases;
};
Temperatures temperatures_of(const site::Site& site, const std::vector<site::Ref>& areas);

/// Resistance at those temperatures of a value given at 20 degC with its temperature coefficient.
Tracked at_temperature(Tracked value, const site::Value& source, const Temperatures& air);

/// A resistor as a component, over its tolerance and the temperatures of its place. Its temperature coefficient counts
/// either way: data sheets state how far it may be, not in which direction. A range (min, max) without one is the range
/// over temperature too. A tolerance that is not stated is the rulebook's `resistor_tolerance_pct`, assumed (it is
/// printed on the part: the answer stays open until it is read); a coefficient that is not stated is the rulebook's
/// envelope `resistor_tempco_ppm_K` (0: there is none). A plain number that was measured stands as it was read. Without
/// the entry the resistance is unknown.
Tracked component_ohm(const site::Site& site, const site::Value& value, double if_none, const Temperatures& air);

/// A resistance that was measured at some temperature of its place, at any other one of it: either way by the
/// rulebook's `resistor_tempco_ppm_K`, with `pointer` as what it stands for. Without the entry it is unknown.
Tracked at_other_temperatures(const site::Site& site, Tracked ohm, const std::string& pointer, const Temperatures& air);

/// Resistance of one conductor of a cable, from end to end with its joints, over its temperatures.
Tracked conductor_ohm(const site::Site& site, const std::string& cable_id);
/// Resistance of one of its cores, whatever is joined to make a conductor: the same with its joints.
Tracked core_ohm(const site::Site& site, const std::string& cable_id);
/// Leakage between two cores of a cable; infinite where the file says it is none.
Tracked leakage_ohm(const site::Site& site, const std::string& cable_id);

}  // namespace zoneproof::electric
