#include "site/number_form.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/json_pointer.hpp"
#include "base/utf8.hpp"
#include "messages/site.hpp"

namespace zoneproof::site {

namespace {

using Json = nlohmann::ordered_json;

/// Enough digits to show a number as it was written, for messages about it.
constexpr int kDigits = 9;

constexpr std::array<std::string_view, 9> kKeys = {"value", "plus",         "minus",  "tolerance_pct", "min",
                                                   "max",   "tempco_ppm_K", "origin", "note"};

/// Reads one number; keeps what every step needs.
class NumberReader {
 public:
  NumberReader(const Field& field, Value& value, const std::string& pointer, Findings& findings)
      : field_(field), value_(value), pointer_(pointer), findings_(findings) {
    const auto unit = field.unit();
    symbol_ = unit ? unit->symbol : "";
    suffix_ = unit ? unit->suffix : "";
    unit_words_ = unit ? std::string(unit->name) : text(say::site_no_unit());
  }

  void read(const Json& json) {
    if (json.is_null()) return;
    if (json.is_object()) {
      Value out = value_;
      if (read_object(json, out)) value_ = out;
      return;
    }
    if (is_none(json)) {
      if (none_allowed(pointer_)) value_.state = Value::State::none;
      return;
    }
    const auto number = number_at(json, "");
    if (number && in_range(number.value(), "")) set_known(value_, *number, *number, *number);
  }

 private:
  static bool is_none(const Json& json) { return json.is_string() && json.get_ref<const std::string&>() == "none"; }

  static void set_known(Value& value, double low, double nominal, double high) {
    value.state = Value::State::known;
    value.low = low;
    value.nominal = nominal;
    value.high = high;
  }

  Measure measure(double value) const { return {value, symbol_, kDigits}; }
  std::string at(const std::string& key) const { return key.empty() ? pointer_ : pointer_child(pointer_, key); }

  bool none_allowed(const std::string& pointer) {
    if (field_.may_be_none) return true;
    findings_.add(say::site_none_not_possible(std::string(field_.key)), pointer);
    return false;
  }

  /// A number, here or under `key` of the object form.
  std::optional<double> number_at(const Json& json, const std::string& key) {
    if (json.is_number()) return json.get<double>();
    const std::string name = key.empty() ? std::string(field_.key) : key;
    if (!json.is_string()) {
      findings_.add(say::site_number_wanted(found_words(json), name, unit_words_), at(key));
      return std::nullopt;
    }
    const std::string& found = json.get_ref<const std::string&>();
    const std::string quote = printable(found, kLongestQuote);
    if (const auto number = number_in_text(found, suffix_)) {
      findings_.add(say::site_number_as_text(quote, name, unit_words_, fmt::format("{:.12g}", *number)), at(key));
    } else {
      findings_.add(say::site_text_not_a_number(quote, name, unit_words_), at(key));
    }
    return std::nullopt;
  }

  bool in_range(double number, const std::string& key) {
    if (number >= field_.low && number <= field_.high) return true;
    const bool named = key == "value" || key == "min" || key == "max";  // else an end that follows from a tolerance
    findings_.add(say::site_out_of_range(named ? key : std::string(field_.key), measure(number), measure(field_.low),
                                         measure(field_.high)),
                  at(key));
    return false;
  }

  static bool has(const Json& json, const char* key) { return json.contains(key); }

  bool read_object(const Json& json, Value& out) {
    bool good = known_keys(json);
    good &= read_beside(json, out);
    good &= one_tolerance(json);
    if (json.contains("value") && is_none(json["value"])) {
      out.state = Value::State::none;
      return none_allowed(at("value")) && good && nothing_stated(json);
    }
    if (has(json, "value") && json["value"].is_null()) return good && nothing_stated(json);
    return good && read_known(json, out);
  }

  bool known_keys(const Json& json) {
    bool good = true;
    for (const auto& item : json.items()) {
      if (std::find(kKeys.begin(), kKeys.end(), item.key()) != kKeys.end()) continue;
      const std::string near = findings_.nearest(item.key(), kKeys);
      Message message = near.empty() ? say::site_unknown_key(item.key(), std::string(field_.key))
                                     : say::site_unknown_key_near(item.key(), std::string(field_.key), near);
      findings_.add(std::move(message), at(item.key()), true);
      good = false;
    }
    return good;
  }

  /// What may stand beside any value: temperature coefficient, origin, note.
  bool read_beside(const Json& json, Value& out) {
    bool good = true;
    if (has(json, "tempco_ppm_K")) {
      const auto tempco = plain(json["tempco_ppm_K"], "tempco_ppm_K", "ppm/K", -kMostTempco, kMostTempco);
      good &= tempco.has_value();
      out.tempco_ppm_K = tempco;
    }
    if (has(json, "origin")) good &= read_origin(json["origin"], out);
    if (has(json, "note")) good &= read_note(json["note"], out);
    return good;
  }

  bool read_origin(const Json& json, Value& out) {
    out.stated_origin = json.is_string() ? from_word<Origin>(json.get<std::string>()) : std::nullopt;
    if (out.stated_origin) return true;
    const std::vector<std::string> words(Words<Origin>::all.begin(), Words<Origin>::all.end());
    findings_.add(json.is_string() ? say::site_unknown_word(json.get<std::string>(), "origin", words)
                                   : say::site_word_wanted(found_words(json), "origin", words),
                  at("origin"));
    return false;
  }

  bool read_note(const Json& json, Value& out) {
    if (!json.is_string()) {
      findings_.add(say::site_text_wanted(found_words(json), "note"), at("note"));
      return false;
    }
    out.note = json.get<std::string>();
    const std::string hidden = hidden_characters(out.note, true);
    if (!hidden.empty()) findings_.add(say::site_hidden_characters(hidden), at("note"));
    const bool blank = !out.note.empty() && only_blanks(out.note);
    if (blank) findings_.add(say::site_only_blanks("note"), at("note"));
    const std::size_t length = utf8_length(out.note);
    if (length > kLongestNumberNote) {
      findings_.add(
          say::site_text_too_long(static_cast<long long>(length), "note", static_cast<long long>(kLongestNumberNote)),
          at("note"));
    }
    return hidden.empty() && !blank && length <= kLongestNumberNote;
  }

  /// A number with bounds of its own.
  std::optional<double> plain(const Json& json, const std::string& key, const std::string& symbol, double low,
                              double high) {
    const auto number = number_at(json, key);
    if (!number || (*number >= low && *number <= high)) return number;
    findings_.add(say::site_out_of_range(key, {*number, symbol, kDigits}, {low, symbol}, {high, symbol}), at(key));
    return std::nullopt;
  }

  /// At most one of the three ways to state a tolerance, and that one whole.
  bool one_tolerance(const Json& json) {
    std::vector<std::string> ways;
    if (has(json, "plus") || has(json, "minus")) ways.emplace_back(has(json, "plus") ? "plus" : "minus");
    if (has(json, "tolerance_pct")) ways.emplace_back("tolerance_pct");
    if (has(json, "min") || has(json, "max")) ways.emplace_back(has(json, "min") ? "min" : "max");
    if (ways.size() > 1) {
      findings_.add(say::site_tolerance_twice(ways), pointer_);
      return false;
    }
    if (has(json, "plus") != has(json, "minus")) {
      const bool plus = has(json, "plus");
      findings_.add(say::site_tolerance_half(plus ? "plus" : "minus", plus ? "minus" : "plus"), pointer_);
      return false;
    }
    if (has(json, "min") != has(json, "max")) {
      const bool min = has(json, "min");
      findings_.add(say::site_range_half(min ? "min" : "max", min ? "max" : "min"), pointer_);
      return false;
    }
    return true;
  }

  /// Beside an unknown or absent value only an origin and a note make sense.
  bool nothing_stated(const Json& json) {
    std::vector<std::string> stated;
    for (const char* key : {"plus", "minus", "tolerance_pct", "min", "max", "tempco_ppm_K"}) {
      if (has(json, key)) stated.emplace_back(key);
    }
    if (stated.empty()) return true;
    findings_.add(say::site_tolerance_of_nothing(stated), pointer_);
    return false;
  }

  bool read_known(const Json& json, Value& out) {
    if (has(json, "min")) return read_min_max(json, out);
    if (!has(json, "value")) {
      findings_.add(say::site_value_missing(), pointer_);
      return false;
    }
    const auto value = number_at(json["value"], "value");
    if (!value || !in_range(*value, "value")) return false;
    set_known(out, *value, *value, *value);
    if (has(json, "plus")) return read_plus_minus(json, out);
    if (has(json, "tolerance_pct")) return read_tolerance(json, out);
    return true;
  }

  bool read_min_max(const Json& json, Value& out) {
    const auto low = number_at(json["min"], "min");
    const auto high = number_at(json["max"], "max");
    const bool stated = has(json, "value");
    const auto value = stated ? number_at(json["value"], "value") : std::nullopt;
    if (!low || !high || (stated && !value)) return false;
    bool good = in_range(*low, "min");
    good &= in_range(*high, "max");
    if (!good) return false;
    if (*low > *high) {
      findings_.add(say::site_range_reversed(measure(*low), measure(*high)), pointer_);
      return false;
    }
    if (value && (*value < *low || *value > *high)) {
      findings_.add(say::site_value_outside(measure(*value), measure(*low), measure(*high)), at("value"));
      return false;
    }
    out.spread = stated ? Spread::min_max : Spread::range_only;
    set_known(out, *low, value.value_or(*low + (*high - *low) / 2), *high);
    return true;
  }

  std::optional<double> distance(const Json& json, const char* key) {
    const auto number = number_at(json[key], key);
    if (!number || *number >= 0) return number;
    findings_.add(say::site_negative_tolerance(key, measure(*number)), at(key));
    return std::nullopt;
  }

  bool read_plus_minus(const Json& json, Value& out) {
    const auto plus = distance(json, "plus");
    const auto minus = distance(json, "minus");
    if (!plus || !minus) return false;
    out.spread = Spread::plus_minus;
    out.stated_plus = *plus;
    out.stated_minus = *minus;
    out.low = out.nominal - *minus;
    out.high = out.nominal + *plus;
    // Both ends are told, so that one reading finds all.
    const bool low_fits = in_range(out.low, "minus");
    const bool high_fits = in_range(out.high, "plus");
    return low_fits && high_fits;
  }

  bool read_tolerance(const Json& json, Value& out) {
    const auto number = number_at(json["tolerance_pct"], "tolerance_pct");
    if (!number) return false;
    const Measure share = {*number, "pct", kDigits};
    if (*number < 0) {
      findings_.add(say::site_negative_tolerance("tolerance_pct", share), at("tolerance_pct"));
      return false;
    }
    if (*number > kMostTolerance) {
      findings_.add(say::site_tolerance_too_large(share), at("tolerance_pct"));
      return false;
    }
    out.spread = Spread::tolerance_pct;
    out.stated_plus = *number;
    const double half = std::fabs(out.nominal) * *number / 100;
    out.low = out.nominal - half;
    out.high = out.nominal + half;
    const bool low_fits = in_range(out.low, "tolerance_pct");
    const bool high_fits = in_range(out.high, "tolerance_pct");
    return low_fits && high_fits;
  }

  const Field& field_;
  Value& value_;
  const std::string& pointer_;
  Findings& findings_;
  std::string symbol_;
  std::string suffix_;
  std::string unit_words_;
};

}  // namespace

std::string found_words(const Json& json) {
  if (json.is_null()) return text(say::site_found_null());
  if (json.is_string()) return text(say::site_found_text());
  if (json.is_number()) return text(say::site_found_number());
  if (json.is_boolean()) return text(say::site_found_flag());
  return json.is_array() ? text(say::site_found_list()) : text(say::site_found_object());
}

std::string hidden_characters(std::string_view bytes, bool lines) {
  std::string found;
  std::size_t listed = 0;
  for (std::size_t offset = 0; offset < bytes.size() && listed < 5;) {
    const Utf8Step step = utf8_at(bytes, offset);
    const char32_t c = step.code_point;
    if (is_hidden(c) && !(lines && c == '\n')) {
      found += fmt::format("{}U+{:04X}", found.empty() ? "" : " ", static_cast<unsigned>(c));
      ++listed;
    }
    offset += step.size;
  }
  return found;
}

void read_number(const Field& field, Value& value, const Json& json, const std::string& pointer,
                 std::optional<Origin> inherited, Findings& findings) {
  value.pointer = pointer;
  NumberReader(field, value, pointer, findings).read(json);
  value.origin = value.stated_origin.value_or(inherited.value_or(Origin::assumed));
}

Json write_number(const Value& value) {
  const bool bare = !value.tempco_ppm_K && !value.stated_origin && value.note.empty();
  if (bare && value.unknown()) return nullptr;
  if (bare && value.none()) return "none";
  if (bare && value.spread == Spread::plain) return value.nominal;
  Json out = Json::object();
  if (value.unknown()) out["value"] = nullptr;
  if (value.none()) out["value"] = "none";
  if (value.known()) {
    if (value.spread != Spread::range_only) out["value"] = value.nominal;
    if (value.spread == Spread::min_max || value.spread == Spread::range_only) {
      out["min"] = value.low;
      out["max"] = value.high;
    }
    if (value.spread == Spread::plus_minus) {
      out["plus"] = value.stated_plus;
      out["minus"] = value.stated_minus;
    }
    if (value.spread == Spread::tolerance_pct) out["tolerance_pct"] = value.stated_plus;
    if (value.tempco_ppm_K) out["tempco_ppm_K"] = *value.tempco_ppm_K;
  }
  if (value.stated_origin) out["origin"] = word_of(*value.stated_origin);
  if (!value.note.empty()) out["note"] = value.note;
  return out;
}

}  // namespace zoneproof::site
