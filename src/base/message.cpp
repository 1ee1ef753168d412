#include "base/message.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stdexcept>

#include "base/language.hpp"
#include "base/utf8.hpp"
#include "messages/base.hpp"

namespace zoneproof {

namespace {

/// `value` rounded to `digits` significant decimal digits.
double rounded(double value, int digits) {
  return std::strtod(fmt::format("{:.{}e}", value, digits - 1).c_str(), nullptr);
}

struct Prefix {
  std::string_view unit;
  double from;   ///< smallest rounded magnitude that takes the prefix
  double until;  ///< and the magnitude from which it no longer does
  double scale;
  std::string_view shown;
};

constexpr double kNoEnd = HUGE_VAL;
constexpr Prefix kPrefixes[] = {
    {"ohm", 1e6, kNoEnd, 1e-6, "Mohm"},
    {"ohm", 1e3, 1e6, 1e-3, "kohm"},
    {"A", 1e-3, 1.0, 1e3, "mA"},
    {"A", 1e-9, 1e-3, 1e6, "uA"},
    {"V", 1e-6, 0.1, 1e3, "mV"},
    {"degC", 0.0, kNoEnd, 1.0, "°C"},
    {"deg", 0.0, kNoEnd, 1.0, "°"},
    {"mm2", 0.0, kNoEnd, 1.0, "mm²"},
    {"pct", 0.0, kNoEnd, 1.0, "%"},
    {"m2", 0.0, kNoEnd, 1.0, "m²"},
    {"px_per_m", 0.0, kNoEnd, 1.0, "px/m"},
    {"bit/s", 1e9, kNoEnd, 1e-9, "Gbit/s"},
    {"bit/s", 1e6, 1e9, 1e-6, "Mbit/s"},
    {"bit/s", 1e3, 1e6, 1e-3, "kbit/s"},
    {"kbit/s", 1e6, kNoEnd, 1e-6, "Gbit/s"},
    {"kbit/s", 1e3, 1e6, 1e-3, "Mbit/s"},
    {"Mbit/s", 1e3, kNoEnd, 1e-3, "Gbit/s"},
    {"kbit", 1e3, kNoEnd, 1e-3, "Mbit"},
    {"kB", 1e6, kNoEnd, 1e-6, "GB"},
    {"kB", 1e3, 1e6, 1e-3, "MB"},
    {"GB", 1e3, kNoEnd, 1e-3, "TB"},
    {"W h", 1e3, kNoEnd, 1e-3, "kW h"},
};

/// Plain decimal digits without trailing zeros after the point; an exponent only where plain digits would be absurd.
std::string digits(double value, int significant) {
  const double magnitude = std::fabs(value);
  if (magnitude == 0.0) return "0";
  if (magnitude < 1e-6 || magnitude >= 1e12) return fmt::format("{:.{}g}", value, significant);
  const int exponent = static_cast<int>(std::floor(std::log10(magnitude) + 1e-12));
  std::string out = fmt::format("{:.{}f}", value, std::max(0, significant - 1 - exponent));
  if (out.find('.') == std::string::npos) return out;
  out.erase(out.find_last_not_of('0') + 1);
  if (out.back() == '.') out.pop_back();
  return out;
}

/// An argument may be a sentence of the program's own, or several of them: all of it is told, on paper as well. Names
/// are kept short where files are read; this only keeps a text of megabytes from filling a terminal.
constexpr std::size_t kLongestArgument = 4000;

std::string words(const Argument& argument) {
  if (const auto* value = std::get_if<std::string>(&argument)) return printable(*value, kLongestArgument);
  if (const auto* value = std::get_if<long long>(&argument)) return fmt::format("{}", *value);
  if (const auto* value = std::get_if<Measure>(&argument)) return shown(*value);
  std::string joined;
  for (const std::string& item : std::get<std::vector<std::string>>(argument)) {
    if (!joined.empty()) joined += ", ";
    joined += printable(item, kLongestArgument);
  }
  return joined;
}

/// The name where `sentence` starts with "{name}"; empty where its brace is one of the sentence.
std::string_view placeholder(std::string_view sentence) {
  const std::size_t end = sentence.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_", 1);
  if (end == std::string_view::npos || sentence[end] != '}') return {};
  return sentence.substr(1, end - 1);
}

/// The sentence with every {name} replaced. That each name is an argument is checked where the catalogue is generated;
/// a message built by hand with others is a programming fault.
std::string filled(std::string_view sentence, const Message& message) {
  std::string out;
  while (!sentence.empty()) {
    const std::size_t open = std::min(sentence.find('{'), sentence.size());
    out += sentence.substr(0, open);
    sentence.remove_prefix(open);
    if (sentence.empty()) break;
    const std::string_view name = placeholder(sentence);
    if (name.empty()) {
      out += '{';
      sentence.remove_prefix(1);
      continue;
    }
    const auto found = std::find_if(message.arguments.begin(), message.arguments.end(),
                                    [&](const auto& argument) { return argument.first == name; });
    if (found == message.arguments.end()) {
      throw std::logic_error(fmt::format("message {} has no argument {}", message.code, name));
    }
    out += words(found->second);
    sentence.remove_prefix(name.size() + 2);
  }
  return out;
}

struct Sentences {
  std::string_view says, remedy;
};

/// Every message in the order of the catalogue, in each language after English; empty where nobody has translated it.
constexpr Sentences kTranslated[] = {
#include "messages/translations.inc"
};

/// The sentences of a message in the spoken language; in English where it has none of its own.
Sentences sentences_of(const Message& message) {
  const MessageKind& kind = kind_of(message.code);
  const auto language = static_cast<std::size_t>(spoken_language());
  if (language > 0) {
    const auto row = static_cast<std::size_t>(&kind - catalogue().data());
    const Sentences& own = kTranslated[(language - 1) * catalogue().size() + row];
    if (!own.says.empty()) return own;
  }
  return {kind.says, kind.remedy};
}

}  // namespace

const std::vector<MessageKind>& catalogue() {
  static const std::vector<MessageKind> kinds = {
#include "messages/catalogue.inc"
  };
  return kinds;
}

const MessageKind& kind_of(std::string_view code) {
  const std::vector<MessageKind>& kinds = catalogue();
  const auto found =
      std::lower_bound(kinds.begin(), kinds.end(), code,
                       [](const MessageKind& kind, std::string_view wanted) { return kind.code < wanted; });
  if (found == kinds.end() || found->code != code) {
    throw std::logic_error(fmt::format("no message \"{}\" in the catalogue", code));
  }
  return *found;
}

std::string text(const Message& message) { return filled(sentences_of(message).says, message); }

std::string remedy(const Message& message) { return filled(sentences_of(message).remedy, message); }

std::string full_text(const Message& message) {
  const Place& place = message.place;
  std::string out = printable(place.file);
  if (place.line > 0) out += fmt::format(":{}:{}", place.line, place.column);
  if (!out.empty()) out += ": ";
  if (!place.pointer.empty()) out += printable(place.pointer) + ": ";
  out += text(message);
  const std::string what_to_do = remedy(message);
  if (!what_to_do.empty()) out += " " + what_to_do;
  return out;
}

namespace {

/// Nobody measures less; a solver's last digits are no voltage.
constexpr double kLeastVolts = 1e-6;

/// Units that are words are said in the spoken language; symbols are the same in all.
std::string in_words(std::string_view unit, double value) {
  if (unit == "years") return text(value == 1.0 ? say::unit_year() : say::unit_years());
  if (unit == "days") return text(say::unit_days());
  if (unit == "lines") return text(say::unit_lines());
  return std::string(unit);
}

}  // namespace

std::string shown(const Measure& measure) {
  if (std::isnan(measure.value)) return "?";
  const int significant = std::max(1, measure.significant);
  double value = std::isfinite(measure.value) ? rounded(measure.value, significant) : measure.value;
  if (measure.unit == "V" && std::fabs(value) < kLeastVolts) value = 0.0;
  std::string_view unit = measure.unit;
  for (const Prefix& prefix : kPrefixes) {
    const double magnitude = std::fabs(value);
    if (prefix.unit == measure.unit && magnitude >= prefix.from && magnitude < prefix.until) {
      value *= prefix.scale;
      unit = prefix.shown;
      break;
    }
  }
  const std::string number =
      std::isfinite(value) ? with_decimal_sign(digits(value, significant)) : fmt::format("{}", value);
  return unit.empty() ? number : fmt::format("{} {}", number, in_words(unit, value));
}

Measure lasting(double seconds, int significant) {
  constexpr double minute = 60.0, hour = 60.0 * minute, day = 24.0 * hour;
  const double magnitude = std::fabs(seconds);
  if (magnitude >= 2.0 * day) return {seconds / day, "days", significant};
  if (magnitude >= hour) return {seconds / hour, "h", significant};
  if (magnitude >= 5.0 * minute) return {seconds / minute, "min", significant};
  return {seconds, "s", significant};
}

bool any_error(const std::vector<Message>& messages) {
  return std::any_of(messages.begin(), messages.end(),
                     [](const Message& message) { return kind_of(message.code).severity == Severity::error; });
}

}  // namespace zoneproof
