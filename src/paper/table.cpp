#include "paper/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

#include "base/fixed.hpp"
#include "base/language.hpp"
#include "base/message.hpp"
#include "messages/paper.hpp"
#include "paper/formula.hpp"

namespace zoneproof::paper {

namespace {

bool well_formed(const std::string& id) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const auto further = [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '_' || c == '-' || c == '.'; };
  return !id.empty() && letter(id.front()) && std::all_of(id.begin(), id.end(), further);
}

void look_at(const Table& table, const Row& row, std::vector<std::string>& found) {
  if (row.cells.size() != table.columns.size())
    found.push_back(fmt::format("table {}: a row of {} cells", table.id, row.cells.size()));
  for (const Cell& cell : row.cells) {
    const auto* number = std::get_if<Number>(&cell);
    if (number == nullptr) continue;
    if (!std::isfinite(number->value)) found.push_back(fmt::format("table {}: a number that is none", table.id));
    for (const Reference& reference : references_in(number->formula))
      if (!column_named(table, reference.column))
        found.push_back(fmt::format("table {}: a formula with the column \"{}\"", table.id, reference.column));
  }
}

}  // namespace

std::vector<std::string> faults(const Table& table) {
  std::vector<std::string> found;
  if (!well_formed(table.id)) found.push_back(fmt::format("the id of a table is \"{}\"", table.id));
  if (table.columns.empty()) found.push_back(fmt::format("table {} has no column", table.id));
  std::set<std::string> ids;
  for (const Column& column : table.columns) {
    if (!well_formed(column.id) || !ids.insert(column.id).second)
      found.push_back(fmt::format("table {}: the id of a column is \"{}\"", table.id, column.id));
    if (!(column.weight >= 0.0) || !(column.min_mm >= 0.0))
      found.push_back(fmt::format("table {}: column {} has no width", table.id, column.id));
  }
  ids.clear();
  for (const Group& group : table.groups) {
    for (const Row& row : group.rows) {
      look_at(table, row, found);
      if (!row.id.empty() && (!well_formed(row.id) || !ids.insert(row.id).second))
        found.push_back(fmt::format("table {}: the id of a row is \"{}\"", table.id, row.id));
    }
  }
  return found;
}

void require_sound(const Table& table) {
  const std::vector<std::string> found = faults(table);
  if (!found.empty()) throw std::invalid_argument(fmt::format("no table: {}", fmt::join(found, "; ")));
}

std::string row_id(const Table& table, const Row& row, std::size_t number) {
  return row.id.empty() ? fmt::format("{}-{}", table.id, number) : row.id;
}

std::string shown_unit(const std::string& unit) {
  if (unit.empty()) return unit;
  return shown(Measure{1.0, unit}).substr(2);  // behind "1 "
}

std::string figures_of(const Number& number) {
  return number.kind == Digits::decimals ? fixed(number.value, number.digits)
                                         : significant(number.value, number.digits);
}

namespace {

std::string words_of(const Number& number, const Column& column) {
  if (number.unit.empty() || number.unit == column.unit) return with_decimal_sign(figures_of(number));
  if (number.kind == Digits::significant) return shown(Measure{number.value, number.unit, number.digits});
  return fmt::format("{} {}", with_decimal_sign(figures_of(number)), shown_unit(number.unit));
}

}  // namespace

std::string words_of(const Cell& cell, const Column& column) {
  if (const auto* words = std::get_if<Words>(&cell)) return words->says;
  if (const auto* number = std::get_if<Number>(&cell)) return words_of(*number, column);
  if (const auto* verdict = std::get_if<Verdict>(&cell)) return verdict->word;
  return {};
}

std::string full_heading(const Column& column) {
  std::string out = column.over;
  if (!out.empty() && !column.heading.empty()) out += ", ";
  out += column.heading;
  if (!column.unit.empty()) out += fmt::format(" ({})", shown_unit(column.unit));
  return out;
}

bool has_groups(const Table& table) {
  return std::any_of(table.groups.begin(), table.groups.end(),
                     [](const Group& group) { return !group.heading.empty(); });
}

std::string group_heading(const Table& table) {
  return table.grouped_by.empty() ? text(say::paper_group()) : table.grouped_by;
}

std::size_t row_count(const Table& table) {
  std::size_t count = 0;
  for (const Group& group : table.groups) count += group.rows.size();
  return count;
}

}  // namespace zoneproof::paper
