#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "site/field.hpp"
#include "site/findings.hpp"

/// The forms of a number in a file: 5600, "none", null, or an object
/// {"value", "plus" and "minus" | "tolerance_pct" | "min" and "max", "tempco_ppm_K", "origin", "note"}.
/// With min and max the value may be left out: the nominal is then their middle. "value" may be null or "none" where
/// only a note is to be kept.
namespace zoneproof::site {

/// Reads one number of a field. `inherited`: the origin in force where it states none. Faults leave it unknown.
void read_number(const Field& field, Value& value, const nlohmann::ordered_json& json, const std::string& pointer,
                 std::optional<Origin> inherited, Findings& findings);

/// The shortest form that reads back as the same Value; null where it is unknown without a note.
nlohmann::ordered_json write_number(const Value& value);

/// What kind of JSON value stands somewhere, in words.
std::string found_words(const nlohmann::ordered_json& json);

/// Longest note beside a number, in code points.
inline constexpr std::size_t kLongestNumberNote = 1000;

/// Characters that no text of a file may hold, as U+XXXX separated by blanks: is_hidden() of base/utf8.hpp, without
/// line feeds where `lines`. What is read is so the same on every paper.
std::string hidden_characters(std::string_view text, bool lines);

/// Bounds of a temperature coefficient that can exist, in parts per million per kelvin, either way.
inline constexpr double kMostTempco = 100'000;

/// Bounds of a relative tolerance: with more than 100 % not even the sign would be known.
inline constexpr double kMostTolerance = 100;

}  // namespace zoneproof::site
