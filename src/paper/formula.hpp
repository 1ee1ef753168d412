#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "paper/table.hpp"

/// References to columns in the formulas of a table's numbers.
namespace zoneproof::paper {

enum class Reach { same_row, above, group };

struct Reference {
  std::string column;
  Reach reach = Reach::same_row;
};

/// All references of a formula, in order. What stands in braces and is no reference is one to a column of that name,
/// which no table has.
std::vector<Reference> references_in(std::string_view formula);

/// The formula with each reference replaced.
std::string with_references(std::string_view formula, const std::function<std::string(const Reference&)>& named);

/// The index of the column with an id.
std::optional<std::size_t> column_named(const Table& table, std::string_view id);

}  // namespace zoneproof::paper
