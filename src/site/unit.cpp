#include "site/unit.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdlib>

namespace zoneproof::site {

namespace {

// Longer suffixes first: "_ohm_per_km" must not be read as "_km", nor "_Mohm_km" as anything else.
constexpr std::array<KeyUnit, 38> kUnits = {{
    {"ohm_per_km", "ohm/km", "ohms per kilometre"},
    {"nF_per_km", "nF/km", "nanofarads per kilometre"},
    {"px_per_m", "px/m", "pixels per metre"},
    {"Mohm_km", "Mohm km", "megohms times kilometres"},
    {"ppm_K", "ppm/K", "parts per million per kelvin"},
    {"years", "years", "years"},
    {"degC", "degC", "degrees Celsius"},
    {"deg", "deg", "degrees"},
    {"mm2", "mm2", "square millimetres"},
    {"m2", "m2", "square metres"},
    {"awg", "AWG", "AWG number"},
    {"ohm", "ohm", "ohms"},
    {"pct", "pct", "percent"},
    {"Mbps", "Mbit/s", "megabits per second"},
    {"kbps", "kbit/s", "kilobits per second"},
    {"bps", "bit/s", "bits per second"},
    {"kbit", "kbit", "kilobits"},
    {"kB", "kB", "kilobytes of 1000 bytes"},
    {"GB", "GB", "gigabytes of 10^9 bytes"},
    {"fps", "1/s", "pictures per second"},
    {"mps", "m/s", "metres per second"},
    {"coefficient", "", "pure number"},
    {"factor", "", "times"},
    {"exponent", "", "pure number"},
    {"Ah", "Ah", "ampere-hours"},
    {"Wh", "W h", "watt-hours"},
    {"px", "px", "pixels"},
    {"mm", "mm", "millimetres"},
    {"um", "um", "micrometres"},
    {"kg", "kg", "kilograms"},
    {"nF", "nF", "nanofarads"},
    {"V", "V", "volts"},
    {"A", "A", "amperes"},
    {"W", "W", "watts"},
    {"d", "d", "days"},
    {"h", "h", "hours"},
    {"s", "s", "seconds"},
    {"m", "m", "metres"},
}};

// A suffix may stand for several units of the file; the key that is wanted, or the unit of the number, decides.
// Multiples of bytes: IEC 80000-13 (Ki = 1024). Mile: 1609.344 m.
constexpr std::array<ForeignUnit, 47> kForeign = {{
    {"kohm", "ohm", 1e3, 0},
    {"Mohm", "ohm", 1e6, 0},
    {"mohm", "ohm", 1e-3, 0},
    {"k", "ohm", 1e3, 0},
    {"mV", "V", 1e-3, 0},
    {"kV", "V", 1e3, 0},
    {"mA", "A", 1e-3, 0},
    {"uA", "A", 1e-6, 0},
    {"mW", "W", 1e-3, 0},
    {"kW", "W", 1e3, 0},
    {"mAh", "Ah", 1e-3, 0},
    {"kWh", "Wh", 1e3, 0},
    {"ms", "s", 1e-3, 0},
    {"us", "s", 1e-6, 0},
    {"min", "h", 1.0 / 60, 0},
    {"d", "h", 24, 0},
    {"days", "h", 24, 0},
    {"h", "d", 1.0 / 24, 0},
    {"days", "d", 1, 0},
    {"weeks", "d", 7, 0},
    {"ft", "m", 0.3048, 0},
    {"feet", "m", 0.3048, 0},
    {"in", "m", 0.0254, 0},
    {"mm", "m", 1e-3, 0},
    {"cm", "m", 1e-2, 0},
    {"km", "m", 1e3, 0},
    {"yd", "m", 0.9144, 0},
    {"kmph", "mps", 1 / 3.6, 0},
    {"mph", "mps", 0.44704, 0},
    {"degF", "degC", 5.0 / 9, -32},
    {"F", "degC", 5.0 / 9, -32},
    {"pF", "nF", 1e-3, 0},
    {"uF", "nF", 1e3, 0},
    {"pF_per_m", "nF_per_km", 1, 0},
    {"kbps", "Mbps", 1e-3, 0},
    {"Gbps", "Mbps", 1e3, 0},
    {"Mbps", "kbps", 1e3, 0},
    {"bps", "kbps", 1e-3, 0},
    {"Mbit", "kbit", 1e3, 0},
    {"MB", "kB", 1e3, 0},
    {"MB", "GB", 1e-3, 0},
    {"TB", "GB", 1e3, 0},
    {"KiB", "kB", 1.024, 0},
    {"MiB", "kB", 1048.576, 0},
    {"MiB", "GB", 1.048576e-3, 0},
    {"GiB", "GB", 1.073741824, 0},
    {"TiB", "GB", 1099.511627776, 0},
}};

bool ends_with_unit(std::string_view key, std::string_view suffix) {
  return key == suffix || (key.size() > suffix.size() && key.substr(key.size() - suffix.size()) == suffix &&
                           key[key.size() - suffix.size() - 1] == '_');
}

/// Units whose own first letter is a prefix: "10 M" of Mbit/s could be ten of them or ten million.
bool has_prefix(std::string_view suffix) {
  static constexpr std::array<std::string_view, 9> kPrefixed = {"Mbps", "kbps", "kbit", "kB", "GB",
                                                                "mm",   "um",   "kg",   "nF"};
  return std::find(kPrefixed.begin(), kPrefixed.end(), suffix) != kPrefixed.end();
}

/// What a letter behind a number multiplies it by, SI and the resistor code of IEC 60062 (R, K, M); 0 for others.
double multiplier(std::string_view letters, std::string_view suffix) {
  if (letters.empty() || letters == "R" || letters == "E") return letters.empty() || suffix == "ohm" ? 1.0 : 0.0;
  if (has_prefix(suffix)) return 0.0;
  if (letters == "k" || letters == "K") return 1e3;
  if (letters == "M") return 1e6;
  if (letters == "m") return 1e-3;
  if (letters == "u" || letters == "µ") return 1e-6;
  return 0.0;
}

/// Letters behind the number: a unit of the file, one of elsewhere, or a bare multiplier.
std::optional<double> scale_of(std::string_view letters, std::string_view suffix) {
  static constexpr std::array<std::string_view, 5> kOhms = {"ohm", "ohms", "Ohm", "Ω", "Ω"};
  for (const std::string_view ohms : kOhms) {
    if (suffix == "ohm" && letters.size() >= ohms.size() && letters.substr(letters.size() - ohms.size()) == ohms) {
      letters.remove_suffix(ohms.size());
      break;
    }
  }
  const auto own = unit_of_key(suffix);
  for (const std::string_view ending : {suffix, own ? own->symbol : std::string_view()}) {  // "mps" and "m/s"
    if (suffix != "ohm" && !ending.empty() && letters.size() >= ending.size() &&
        letters.substr(letters.size() - ending.size()) == ending) {
      letters.remove_suffix(ending.size());
      break;
    }
  }
  if (suffix == "pct" && letters == "%") return 1.0;
  if (suffix == "degC" && (letters == "°C" || letters == "C")) return 1.0;
  if (suffix == "ohm" || letters.size() <= 2) {
    const double scale = multiplier(letters, suffix);
    if (scale != 0.0) return scale;
  }
  for (const ForeignUnit& unit : kForeign) {
    if (unit.unit == suffix && unit.suffix == letters && unit.offset == 0.0) return unit.factor;
  }
  return std::nullopt;
}

std::optional<double> plain_number(std::string text) {
  std::replace(text.begin(), text.end(), ',', '.');
  if (std::count(text.begin(), text.end(), '.') > 1) return std::nullopt;
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  return end == text.c_str() + text.size() && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

}  // namespace

std::optional<KeyUnit> unit_of_key(std::string_view key) {
  for (const KeyUnit& unit : kUnits) {
    if (ends_with_unit(key, unit.suffix)) return unit;
  }
  return std::nullopt;
}

std::string_view stem_of_key(std::string_view key) {
  if (const auto unit = unit_of_key(key))
    return key.substr(0, key.size() - std::min(key.size(), unit->suffix.size() + 1));
  return key;
}

std::vector<ForeignUnit> foreign_units_of_key(std::string_view key) {
  std::vector<ForeignUnit> out;
  for (const ForeignUnit& unit : kForeign) {
    if (key.size() > unit.suffix.size() && ends_with_unit(key, unit.suffix)) out.push_back(unit);
  }
  return out;
}

bool may_be_thousands(std::string_view text, bool decimal_comma) {
  const std::size_t first = std::min(text.find_first_of("0123456789"), text.size());
  std::string_view number = text.substr(first, text.find_first_not_of("0123456789.,", first) - first);
  const std::size_t mark = number.find_first_of(decimal_comma ? ".," : ",");
  return mark != std::string_view::npos && number.size() - mark == 4 && number.find_last_of(".,") == mark && mark <= 3;
}

std::optional<double> number_in_text(std::string_view text, std::string_view suffix) {
  if (text.size() > 40) return std::nullopt;
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  const std::size_t end = std::min(text.find_first_not_of("+-0123456789.,"), text.size());
  if (end == 0) return std::nullopt;
  std::string number(text.substr(0, end));
  std::string_view letters = text.substr(end);
  // "5k6" and "4R7": the letter stands where the decimal point would (IEC 60062).
  const std::size_t digits = letters.find_first_of("0123456789");
  if (digits == 1 && suffix == "ohm" && number.find_first_of(".,") == std::string::npos) {
    number += "." + std::string(letters.substr(1));
    letters = letters.substr(0, 1);
  }
  while (!letters.empty() && letters.front() == ' ') letters.remove_prefix(1);
  const auto value = plain_number(number);
  const auto scale = scale_of(letters, suffix);
  // One digit group of three behind a comma or point could be thousands as well: "1,200".
  const std::size_t comma = number.find(',');
  if (comma != std::string::npos && number.size() - comma == 4) return std::nullopt;
  if (!value || !scale) return std::nullopt;
  return *value * *scale;
}

}  // namespace zoneproof::site
