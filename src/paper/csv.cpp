#include "paper/csv.hpp"

#include <algorithm>
#include <array>

#include "base/utf8.hpp"

namespace zoneproof::paper {

namespace {

constexpr std::array<std::string_view, 8> kFormulaBegins = {"=", "+", "-", "@", "＝", "＋", "－", "＠"};

bool looks_like_formula(std::string_view text) {
  text.remove_prefix(std::min(text.find_first_not_of(" \t\r\n"), text.size()));
  return std::any_of(kFormulaBegins.begin(), kFormulaBegins.end(),
                     [&](std::string_view begin) { return text.starts_with(begin); });
}

/// A field: quoted where it must be, and always where blanks at its ends could be lost.
std::string field(const std::string& says) {
  const bool plain = says.find_first_of(",\"\r\n") == std::string::npos &&
                     (says.empty() || (says.front() != ' ' && says.back() != ' '));
  if (plain) return says;
  std::string out = "\"";
  for (const char c : says) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string words(const std::string& says) {
  const std::string shown = printable(says, says.size());
  return field(looks_like_formula(says) ? "'" + shown : shown);
}

/// Whether what a cell shows is figures and nothing else: then a minus is no formula.
bool only_figures(const Cell& cell, const Column& column) {
  const auto* number = std::get_if<Number>(&cell);
  return number != nullptr && (number->unit.empty() || number->unit == column.unit);
}

void end(std::string& out) {
  if (!out.empty() && out.back() == ',') out.pop_back();
  out += "\r\n";
}

}  // namespace

std::string csv(const Table& table) {
  require_sound(table);
  const bool grouped = has_groups(table);
  std::string out;
  if (grouped) out += words(group_heading(table)) + ",";
  for (const Column& column : table.columns) out += words(full_heading(column)) + ",";
  end(out);
  for (const Group& group : table.groups) {
    for (const Row& row : group.rows) {
      std::string line;
      if (grouped) line += words(group.heading) + ",";
      for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const Cell& cell = row.cells[i];
        const bool number = only_figures(cell, table.columns[i]);
        line += (number ? figures_of(std::get<Number>(cell)) : words(words_of(cell, table.columns[i]))) + ",";
      }
      end(line);
      out += line;
    }
  }
  return out;
}

}  // namespace zoneproof::paper
