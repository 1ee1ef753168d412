#pragma once
#include <map>
#include <optional>
#include <string>

/// Numbers as a site knows them: with tolerance, origin, and the honest states "unknown" and "none".
namespace zoneproof::site {

/// Where a number comes from. A verdict may be proven on the first four; on the last two it holds only "if".
enum class Origin { measured, data_sheet, standard, envelope, typical, assumed };

/// How the file spells the tolerance; kept so that reading and writing is the identity.
/// `range_only`: min and max without a value; the nominal is then their middle.
enum class Spread { plain, plus_minus, tolerance_pct, min_max, range_only };

/// A quantity in the unit of its key. Unknown: absent or null in the file. None: known not to be there ("none").
struct Value {
  enum class State { unknown, none, known };

  State state = State::unknown;
  double nominal = 0.0;
  double low = 0.0;  ///< low <= nominal <= high
  double high = 0.0;
  Spread spread = Spread::plain;
  double stated_plus = 0.0;             ///< as written: plus_minus the distance to high, tolerance_pct the percentage
  double stated_minus = 0.0;            ///< as written: plus_minus the distance to low
  std::optional<double> tempco_ppm_K;   ///< change per kelvin from 20 degC, in parts per million
  std::optional<Origin> stated_origin;  ///< written beside the number itself
  Origin origin = Origin::assumed;      ///< in force: stated here, else by the nearest enclosing object, else assumed
  std::string note;
  std::string pointer;  ///< where it stands (or would stand) in the file, set by the reader: names what is missing

  bool known() const { return state == State::known; }
  bool none() const { return state == State::none; }
  bool unknown() const { return state == State::unknown; }
  /// Known values for code that makes sites; `origin` is written beside the number. Throws std::logic_error where
  /// low <= nominal <= high does not hold.
  static Value exactly(double value, Origin origin);
  static Value between(double low, double nominal, double high, Origin origin);
  /// Known not to be there.
  static Value absent();
  /// Puts another value in this one's place in the file: all of `other` but where it stands.
  void replace_with(Value other);
};

/// A reference to another object of the site by id. Empty: unknown. "none": known absence.
struct Ref {
  std::string id;
  std::string pointer;  ///< where it stands in the file, set by the reader

  bool known() const { return !id.empty() && id != "none"; }
  bool none() const { return id == "none"; }
  bool unknown() const { return id.empty(); }
};

/// A whole number or yes/no that may be unknown.
struct Count {
  std::optional<long long> value;
  std::string pointer;
  bool known() const { return value.has_value(); }
};
struct Flag {
  std::optional<bool> value;
  std::string pointer;
  bool yes() const { return value.value_or(false); }
  bool known() const { return value.has_value(); }
};

/// One of a closed set of words; the words of E stand in words.hpp.
template <class E>
struct Word {
  std::optional<E> value;
  std::string pointer;
  bool is(E word) const { return value == word; }
  bool known() const { return value.has_value(); }
};

template <class T>
using Map = std::map<std::string, T>;  ///< keyed by id, so iteration order is the canonical order

}  // namespace zoneproof::site
