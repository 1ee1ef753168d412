#include "results/typed_readings.hpp"

#include <cmath>

#include "messages/results.hpp"
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
/// A reading of more digits than this is no meter's.
constexpr std::size_t kMostDigits = 12;

/// What is before and behind the first `mark`; nothing where there is none.
std::optional<std::pair<std::string_view, std::string_view>> split(std::string_view text, char mark) {
  const std::size_t at = text.find(mark);
  if (at == std::string_view::npos) return std::nullopt;
  return std::pair(text.substr(0, at), text.substr(at + 1));
}

/// "1%": 1.
std::optional<double> percent(std::string_view text) {
  const auto value = site::number_in_text(text, "pct");
  return !text.empty() && text.back() == '%' && value && *value >= 0.0 && *value < 100.0 ? value : std::nullopt;
}

/// What a meter showed, and what its last digit is worth, both in the unit of `suffix`.
struct Shown {
  double value = 0.0;
  double digit = 0.0;
};

std::optional<Shown> shown_typed(std::string_view typed, std::string_view suffix) {
  const std::size_t end = std::min(typed.find_first_not_of("+-0123456789.,"), typed.size());
  const std::string_view number = typed.substr(0, end), letters = typed.substr(end);
  const auto value = site::number_in_text(typed, suffix);
  const auto unit = site::number_in_text("1" + std::string(letters), suffix);
  if (!value || !unit || letters.empty() || number.size() > kMostDigits) return std::nullopt;
  const std::size_t point = number.find_first_of(".,");
  const int decimals = point == std::string_view::npos ? 0 : static_cast<int>(number.size() - point) - 1;
  return Shown{*value, *unit * std::pow(10.0, -decimals)};
}

Value stated(double value) { return Value::exactly(value, Origin::measured); }
Value stated(const circuit::Range& range) {
  return Value::between(range.low, range.nominal, range.high, Origin::measured);
}

class Typed {
 public:
  Typed(const TerminalQuestion& asked, std::vector<Message>& problems) : asked_(asked), problems_(problems) {}

  site::ZoneTerminalSpec spec() {
    spec_.input_ohm.state = Value::State::none;
    meter();
    for (const std::string& typed : asked_.open) voltage("--open", ReadingWay::open, typed);
    for (const std::string& typed : asked_.over) voltage("--over", ReadingWay::loaded, typed);
    for (const std::string& typed : asked_.shorted) current(typed);
    if (spec_.readings.empty() && problems_.empty()) problems_.push_back(say::terminal_no_readings());
    return std::move(spec_);
  }

 private:
  void bad(const std::string& found, const char* option, const char* example) {
    problems_.push_back(say::terminal_bad_value(found, option, example));
  }

  void resistance(const std::string& typed, const char* option, const char* example, bool needed, Value& out) {
    if (typed.empty()) {
      if (needed) problems_.push_back(say::terminal_sheet_missing(option, example));
    } else if (const auto range = resistance_typed(typed)) {
      out = stated(*range);
    } else {
      bad(typed, option, example);
    }
  }

  /// "0.5%+3", or a share alone.
  void error(const std::string& typed, const char* option, bool needed, site::Meter& out) {
    if (typed.empty()) {
      if (needed) problems_.push_back(say::terminal_sheet_missing(option, kErrorExample));
      return;
    }
    const auto parts = split(typed, '+');
    const auto share = percent(parts ? parts->first : std::string_view(typed));
    const auto digits = parts ? site::number_in_text(parts->second, "") : std::optional(0.0);
    if (!share || !digits || *digits != std::floor(*digits) || *digits < 0.0 || *digits > 1000.0) {
      return bad(typed, option, kErrorExample);
    }
    out.error_pct = stated(*share);
    out.error_digits.value = static_cast<long long>(*digits);
  }

  void meter() {
    const bool volts = !asked_.open.empty() || !asked_.over.empty(), amps = !asked_.shorted.empty();
    resistance(asked_.meter, "--meter", kMeterExample, volts, volts_.input_ohm);
    if (volts_.input_ohm.known() && !(volts_.input_ohm.low > 0.0)) bad(asked_.meter, "--meter", kMeterExample);
    error(asked_.error, "--error", volts, volts_);
    resistance(asked_.burden, "--burden", kBurdenExample, amps, amps_.burden_ohm);
    error(asked_.current_error, "--current-error", amps, amps_);
  }

  /// Takes "@mains" or "@battery" off; on mains without either.
  std::optional<std::string> supply(const std::string& typed, site::TerminalReading& reading) {
    reading.supply.value = site::ReadingSupply::mains;
    const auto parts = split(typed, '@');
    if (!parts) return typed;
    if (parts->second == "battery") reading.supply.value = site::ReadingSupply::battery;
    if (parts->second != "battery" && parts->second != "mains") return std::nullopt;
    return std::string(parts->first);
  }

  void add(const char* name, site::TerminalReading reading) {
    const std::string id = std::string(name) + "_" + std::to_string(spec_.readings.size() + 1);
    spec_.readings[id] = std::move(reading);
  }

  void voltage(const char* option, ReadingWay way, const std::string& typed) {
    const char* example = way == ReadingWay::open ? kShownExample : kOverExample;
    site::TerminalReading reading;
    reading.kind.value = way;
    const auto bare = supply(typed, reading);
    if (!bare) return bad(typed, option, example);
    std::string_view shown_part = *bare;
    if (way == ReadingWay::loaded) {
      const auto parts = split(*bare, '=');
      const auto resistor = parts ? resistance_typed(parts->first) : std::nullopt;
      if (!resistor || !(resistor->low > 0.0)) return bad(typed, option, example);
      reading.resistor_ohm = stated(*resistor);
      shown_part = parts->second;
    }
    const auto shown = shown_typed(shown_part, "V");
    if (!shown) return bad(typed, option, example);
    reading.shown_V = stated(shown->value);
    reading.meter = volts_;
    reading.meter.digit_V = stated(shown->digit);
    add(way == ReadingWay::open ? "open" : "over", std::move(reading));
  }

  void current(const std::string& typed) {
    site::TerminalReading reading;
    reading.kind.value = ReadingWay::shorted;
    const auto bare = supply(typed, reading);
    const auto shown = bare ? shown_typed(*bare, "A") : std::nullopt;
    if (!shown) return bad(typed, "--short", kCurrentExample);
    reading.shown_A = stated(shown->value);
    reading.meter = amps_;
    reading.meter.digit_A = stated(shown->digit);
    add("short", std::move(reading));
  }

  const TerminalQuestion& asked_;
  std::vector<Message>& problems_;
  site::Meter volts_, amps_;
  site::ZoneTerminalSpec spec_;
};

}  // namespace

std::optional<circuit::Range> resistance_typed(std::string_view typed) {
  const auto parts = split(typed, '/');
  if (!parts) return std::nullopt;
  const auto ohm = site::number_in_text(parts->first, "ohm");
  const auto tolerance = percent(parts->second);
  if (!ohm || !tolerance || *ohm < 0.0) return std::nullopt;
  return circuit::Range{*ohm, *ohm * (1.0 - *tolerance / 100.0), *ohm * (1.0 + *tolerance / 100.0)};
}

site::ZoneTerminalSpec terminal_typed(const TerminalQuestion& asked, std::vector<Message>& problems) {
  return Typed(asked, problems).spec();
}

std::vector<circuit::Range> loads_typed(const TerminalQuestion& asked, std::vector<Message>& problems) {
  std::vector<circuit::Range> loads;
  for (const std::string& typed : asked.eol) {
    const auto load = resistance_typed(typed);
    if (load && load->low > 0.0) {
      loads.push_back(*load);
    } else {
      problems.push_back(say::terminal_bad_value(typed, "--eol", "5k6/1%"));
    }
  }
  return loads;
}

}  // namespace zoneproof::results
