#pragma once
#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// JSON pointers (RFC 6901): the address of a value inside a document, "" for the whole of it.
namespace zoneproof {

/// One reference token with ~ and / escaped (section 3).
std::string pointer_escaped(std::string_view token);

/// The pointer of a member or of a list's item.
std::string pointer_child(std::string_view parent, std::string_view key);
std::string pointer_child(std::string_view parent, std::size_t index);

/// The pointer one level up; "" for "" and for a first level.
std::string pointer_parent(std::string_view pointer);

/// The unescaped reference tokens; nothing where the text is no pointer: it must be empty or start with "/", and
/// "~" may only stand in "~0" and "~1".
std::optional<std::vector<std::string>> pointer_tokens(std::string_view pointer);

/// Whether `pointer` addresses the same value as `ancestor` or one inside it.
bool pointer_within(std::string_view pointer, std::string_view ancestor);

/// A list index as section 4 allows it: digits without a leading zero. "-" is none.
std::optional<std::size_t> pointer_index(std::string_view token);

/// The value that `pointer` addresses; null pointer where there is none or where `pointer` is malformed.
/// A member is found by a linear search among its object's keys.
const nlohmann::ordered_json* value_at(const nlohmann::ordered_json& document, std::string_view pointer);
nlohmann::ordered_json* value_at(nlohmann::ordered_json& document, std::string_view pointer);

}  // namespace zoneproof
