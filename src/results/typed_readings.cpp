#include "results/typed_readings.hpp"

#include <algorithm>
#include <cmath>

#include "messages/results.hpp"
#include "site/model.hpp"
#include "site/number_form.hpp"
#include "site/record_json.hpp"
#include "site/unit.hpp"

namespace zoneproof::results {

namespace {

using site::Origin;
using site::ReadingWay;
using site::Value;

constexpr const char* kShownExample = "4.98V";
constexpr const char* kCurrentExample = "0.88mA";
constexpr const char* kOverExample = "4k7/1%=2.51V";
constexpr const char* kMeterExample = "10M/1%";
constexpr const char* kBurdenExample = "100/10%";
constexpr const char* kErrorExample = "0.5%+3";
constexpr const char* kLoadExample = "5k6/1%";
/// A reading of more digits than this is no meter's.
constexpr std::size_t kMostDigits = 12;
/// Enough digits to show a number as it was typed, for messages about it.
constexpr int kShownDigits = 9;
constexpr const char* kNumberLetters = "+-0123456789.,";

/// What is before and behind the first `mark`; all of it before where there is none.
struct Halves {
  std::string before, behind;
  bool marked = false;
};
Halves split(const std::string& text, char mark) {
  const std::size_t at = text.find(mark);
  if (at == std::string::npos) return {text, {}, false};
  return {text.substr(0, at), text.substr(at + 1), true};
}

std::string without_blanks(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  return first == std::string::npos ? std::string() : text.substr(first, text.find_last_not_of(' ') - first + 1);
}

std::string units_of(std::string_view suffix) {
  if (suffix == "V") return text(say::typed_volt_units());
  if (suffix == "A") return text(say::typed_ampere_units());
  return text(suffix == "ohm" ? say::typed_ohm_units() : say::typed_share_units());
}

/// Why `typed` is no number in the unit of `suffix`.
Message why_no_number(const std::string& typed, std::string_view suffix) {
  const std::size_t end = std::min(typed.find_first_not_of(kNumberLetters), typed.size());
  const std::string number = typed.substr(0, end), letters = typed.substr(end);
  if (number.find_first_of("0123456789") == std::string::npos) return say::typed_number_missing(typed);
  if (number.size() > kMostDigits) return say::typed_too_long(number);
  if (!site::number_in_text(number, "")) {
    const bool thousands = site::may_be_thousands(number, false);
    return thousands ? say::typed_thousands(number) : say::typed_no_number(number);
  }
  if (letters.empty()) return say::typed_unit_missing(units_of(suffix));
  return say::typed_unit_unknown(letters, units_of(suffix));
}

/// A number typed with its unit, or why there is none.
struct Number {
  std::optional<double> value;
  Message why;
};
Number number_typed(const std::string& typed, std::string_view suffix) {
  const std::size_t end = typed.find_first_not_of(kNumberLetters);
  const bool bare = end == std::string::npos, may_be_bare = suffix == "ohm" || suffix.empty();
  const auto value = site::number_in_text(typed, suffix);
  if (value && (!bare || may_be_bare) && std::min(end, typed.size()) <= kMostDigits) return {value, {}};
  return {std::nullopt, why_no_number(typed, suffix)};
}

Value stated(double value) { return Value::exactly(value, Origin::measured); }
Value stated(const circuit::Range& range) {
  return Value::between(range.low, range.nominal, range.high, Origin::measured);
}

/// The bounds of a field of the site file, in the unit of its key.
template <class Struct>
const site::Field& field_of(const char* key) {
  return *site::record_of<Struct>().find(key);
}

/// One option's value being read; says what is wrong with it once.
class Reader {
 public:
  Reader(std::string found, const char* option, const char* example, std::vector<Message>& problems)
      : found_(std::move(found)), option_(option), example_(example), problems_(problems) {}

  std::nullopt_t bad(const Message& why) {
    problems_.push_back(say::terminal_bad_value(found_, option_, text(why), example_));
    return std::nullopt;
  }

  std::optional<double> number(const std::string& typed, std::string_view suffix) {
    const Number number = number_typed(typed, suffix);
    return number.value ? number.value : bad(number.why);
  }

  /// Whether all of it is possible.
  bool possible(const circuit::Range& range, double low, double high, const char* unit, const Message& what) {
    if (range.low >= low && range.high <= high) return true;
    const bool nominal_fits = range.nominal >= low && range.nominal <= high;
    const double wrong = !nominal_fits ? range.nominal : range.low < low ? range.low : range.high;
    problems_.push_back(say::terminal_out_of_range(found_, option_, text(what), {wrong, unit, kShownDigits},
                                                   {low, unit}, {high, unit}, example_));
    return false;
  }
  bool possible(const circuit::Range& range, const site::Field& field, const Message& what) {
    const auto unit = field.unit();
    return possible(range, field.low, field.high, unit ? std::string(unit->symbol).c_str() : "", what);
  }

  /// "4k7/1%", within the bounds of the field.
  std::optional<circuit::Range> resistance(const std::string& typed, const site::Field& field) {
    const Halves parts = split(typed, '/');
    const auto ohm = number(parts.before, "ohm");
    if (ohm && !parts.marked) return bad(say::typed_tolerance_missing());
    const auto tolerance = ohm ? number(parts.behind, "pct") : std::nullopt;
    if (!tolerance ||
        !possible(circuit::Range::exactly(*tolerance), 0.0, site::kMostTolerance, "pct", say::typed_tolerance()))
      return std::nullopt;
    const double off = std::fabs(*ohm) * *tolerance / 100.0;
    const circuit::Range range = {*ohm, *ohm - off, *ohm + off};
    return possible(range, field, say::typed_resistance()) ? std::optional(range) : std::nullopt;
  }

 private:
  std::string found_;
  const char* option_;
  const char* example_;
  std::vector<Message>& problems_;
};

class Typed {
 public:
  Typed(const TerminalQuestion& asked, std::vector<Message>& problems) : asked_(asked), problems_(problems) {}

  TypedTerminal terminal() {
    const bool volts = !asked_.open.empty() || !asked_.over.empty(), amps = !asked_.shorted.empty();
    if (!volts && !amps) {
      problems_.push_back(say::terminal_no_readings());
      return std::move(typed_);
    }
    resistance("--meter", asked_.meter, kMeterExample, volts, kVolts, "input_ohm", volts_.input_ohm);
    error("--error", asked_.error, volts, kVolts, volts_);
    resistance("--burden", asked_.burden, kBurdenExample, amps, kAmps, "burden_ohm", amps_.burden_ohm);
    error("--current-error", asked_.current_error, amps, kAmps, amps_);
    for (const std::string& typed : asked_.open) open(typed);
    for (const std::string& typed : asked_.over) over(typed);
    for (const std::string& typed : asked_.shorted) shorted(typed);
    return std::move(typed_);
  }

 private:
  static constexpr const char* kVolts = "--open or --over";
  static constexpr const char* kAmps = "--short";

  /// Whether an option of the meter's sheet stands and belongs to a reading.
  bool to_be_read(const char* option, const std::string& typed, const char* example, bool needed,
                  const char* readings) {
    if (typed.empty() && needed) problems_.push_back(say::terminal_sheet_missing(option, example));
    if (!typed.empty() && !needed) problems_.push_back(say::terminal_unused(option, readings));
    return !typed.empty() && needed;
  }

  void resistance(const char* option, const std::string& typed, const char* example, bool needed, const char* readings,
                  const char* key, Value& out) {
    if (!to_be_read(option, typed, example, needed, readings)) return;
    Reader reader(typed, option, example, problems_);
    if (const auto range = reader.resistance(typed, field_of<site::Meter>(key))) out = stated(*range);
  }

  /// "0.5%+3". Whoever has no digits says so: a share alone may have been copied without them.
  void error(const char* option, const std::string& typed, bool needed, const char* readings, site::Meter& out) {
    if (!to_be_read(option, typed, kErrorExample, needed, readings)) return;
    Reader reader(typed, option, kErrorExample, problems_);
    const Halves parts = split(typed, '+');
    const auto share = reader.number(parts.before, "pct");
    if (!share) return;
    if (!parts.marked) return problems_.push_back(say::terminal_digits_missing(typed, option, kErrorExample));
    const Number digits = number_typed(parts.behind, "");
    if (!digits.value || *digits.value != std::floor(*digits.value)) {
      reader.bad(say::typed_digits_not_whole(parts.behind));
      return;
    }
    if (!reader.possible(circuit::Range::exactly(*share), field_of<site::Meter>("error_pct"), say::typed_share()) ||
        !reader.possible(circuit::Range::exactly(*digits.value), field_of<site::Meter>("error_digits"),
                         say::typed_digits()))
      return;
    out.error_pct = stated(*share);
    out.error_digits.value = static_cast<long long>(*digits.value);
  }

  /// Takes "@mains" or "@battery" off; on mains without either.
  static std::optional<std::string> supply(const std::string& typed, Reader& reader, site::TerminalReading& reading) {
    reading.supply.value = site::ReadingSupply::mains;
    const Halves parts = split(typed, '@');
    if (!parts.marked) return without_blanks(typed);
    if (parts.behind == "battery") reading.supply.value = site::ReadingSupply::battery;
    if (parts.behind != "battery" && parts.behind != "mains")
      return reader.bad(say::typed_supply_unknown(parts.behind));
    return without_blanks(parts.before);
  }

  /// What a meter showed, and what its last digit is worth, both in the unit of `suffix`.
  struct Shown {
    double value = 0.0;
    double digit = 0.0;
    std::string words;
  };
  static std::optional<Shown> shown(const std::string& typed, std::string_view suffix, Reader& reader) {
    const auto value = reader.number(typed, suffix);
    if (!value) return std::nullopt;
    const bool volts = suffix == "V";
    if (!reader.possible(circuit::Range::exactly(*value),
                         field_of<site::TerminalReading>(volts ? "shown_V" : "shown_A"),
                         volts ? say::typed_voltage() : say::typed_current()))
      return std::nullopt;
    const std::size_t end = typed.find_first_not_of(kNumberLetters), unit = typed.find_first_not_of(' ', end);
    const std::string number = typed.substr(0, end), letters = typed.substr(unit);
    const std::size_t point = number.find_first_of(".,");
    const int decimals = point == std::string::npos ? 0 : static_cast<int>(number.size() - point) - 1;
    const double scale = site::number_in_text("1" + letters, suffix).value_or(1.0);
    return Shown{*value, scale * std::pow(10.0, -decimals), number + " " + letters};
  }

  void add(const char* name, site::TerminalReading reading, const Shown& shown) {
    const std::string id = std::string(name) + "_" + std::to_string(typed_.spec.readings.size() + 1);
    typed_.spec.readings[id] = std::move(reading);
    typed_.shown[id] = shown.words;
  }

  void add_voltage(const char* name, site::TerminalReading reading, const Shown& shown) {
    reading.shown_V = stated(shown.value);
    reading.meter = volts_;
    reading.meter.digit_V = stated(shown.digit);
    add(name, std::move(reading), shown);
  }

  void open(const std::string& typed) {
    Reader reader(typed, "--open", kShownExample, problems_);
    site::TerminalReading reading;
    reading.kind.value = ReadingWay::open;
    const auto bare = supply(typed, reader, reading);
    const auto value = bare ? shown(*bare, "V", reader) : std::nullopt;
    if (value) add_voltage("open", std::move(reading), *value);
  }

  void over(const std::string& typed) {
    Reader reader(typed, "--over", kOverExample, problems_);
    site::TerminalReading reading;
    reading.kind.value = ReadingWay::loaded;
    const auto bare = supply(typed, reader, reading);
    if (!bare) return;
    const Halves parts = split(*bare, '=');
    if (!parts.marked) {
      reader.bad(say::typed_equals_missing());
      return;
    }
    const auto resistor = reader.resistance(parts.before, field_of<site::TerminalReading>("resistor_ohm"));
    const auto value = resistor ? shown(without_blanks(parts.behind), "V", reader) : std::nullopt;
    if (!value) return;
    reading.resistor_ohm = stated(*resistor);
    add_voltage("over", std::move(reading), *value);
  }

  void shorted(const std::string& typed) {
    Reader reader(typed, "--short", kCurrentExample, problems_);
    site::TerminalReading reading;
    reading.kind.value = ReadingWay::shorted;
    const auto bare = supply(typed, reader, reading);
    const auto value = bare ? shown(*bare, "A", reader) : std::nullopt;
    if (!value) return;
    reading.shown_A = stated(value->value);
    reading.meter = amps_;
    reading.meter.digit_A = stated(value->digit);
    add("short", std::move(reading), *value);
  }

  const TerminalQuestion& asked_;
  std::vector<Message>& problems_;
  site::Meter volts_, amps_;
  TypedTerminal typed_;
};

}  // namespace

TypedTerminal terminal_typed(const TerminalQuestion& asked, std::vector<Message>& problems) {
  return Typed(asked, problems).terminal();
}

std::vector<circuit::Range> loads_typed(const TerminalQuestion& asked, std::vector<Message>& problems) {
  std::vector<circuit::Range> loads;
  for (const std::string& typed : asked.eol) {
    Reader reader(typed, "--eol", kLoadExample, problems);
    const auto load = reader.resistance(typed, field_of<site::Loop>("eol_ohm"));
    if (load && load->low > 0.0) loads.push_back(*load);
    if (load && !(load->low > 0.0)) reader.bad(say::typed_load_zero());
  }
  return loads;
}

}  // namespace zoneproof::results
