#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Units in keys: the one table of suffixes that the file knows, and those of elsewhere that people write by habit.
namespace zoneproof::site {

/// A suffix of a key ("_ohm") and what it stands for.
struct KeyUnit {
  std::string_view suffix;  ///< without the underscore: "ohm", "mm2", "ohm_per_km"
  std::string_view symbol;  ///< for Measure: "ohm", "mm2"; empty for pure numbers
  std::string_view name;    ///< in words: "ohms", "square millimetres"
};

/// The unit of a key by its suffix; nothing where the key carries none ("peukert_exponent" is a pure number).
std::optional<KeyUnit> unit_of_key(std::string_view key);

/// A key without its unit suffix: "length" of "length_m".
std::string_view stem_of_key(std::string_view key);

/// A unit that the file does not use for a quantity, and its factor to the one it does: 1 ft = 0.3048 m.
struct ForeignUnit {
  std::string_view suffix;  ///< "ft"
  std::string_view unit;    ///< suffix of the file's unit: "m"
  double factor;
  double offset;  ///< value in the file's unit = (number + offset) * factor; only degrees Fahrenheit have one
};

/// By the ending of a key ("length_ft", "current_mA"); none where the ending is no unit that is known here, several
/// where people use it for values of several units of the file ("retention_days": days or hours).
std::vector<ForeignUnit> foreign_units_of_key(std::string_view key);

/// Whether a point may be a thousands mark: in a table whose decimal sign may be a comma, "5.600" is 5.6 or 5600. So is
/// "5,600" anywhere.
bool may_be_thousands(std::string_view text, bool decimal_comma);

/// A number that somebody wrote as text ("5.6k", "5k6", "12 V", "4,7", "120 mA"), in the file's unit `suffix`; nothing
/// where it could mean more than one thing or is no number.
std::optional<double> number_in_text(std::string_view text, std::string_view suffix);

}  // namespace zoneproof::site
