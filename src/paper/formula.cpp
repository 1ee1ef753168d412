#include "paper/formula.hpp"

namespace zoneproof::paper {

namespace {

Reference reference_of(std::string_view inside) {
  constexpr std::string_view above = ":above", group = ":group";
  const auto without = [&](std::string_view ending) {
    return std::string(inside.substr(0, inside.size() - ending.size()));
  };
  if (inside.ends_with(above)) return {without(above), Reach::above};
  if (inside.ends_with(group)) return {without(group), Reach::group};
  return {std::string(inside), Reach::same_row};
}

}  // namespace

std::string with_references(std::string_view formula, const std::function<std::string(const Reference&)>& named) {
  std::string out;
  while (!formula.empty()) {
    const std::size_t open = std::min(formula.find('{'), formula.size());
    const std::size_t close = std::min(formula.find('}', open), formula.size());
    out += formula.substr(0, open);
    if (open == formula.size()) break;
    out += named(reference_of(formula.substr(open + 1, close - open - 1)));
    formula.remove_prefix(std::min(close + 1, formula.size()));
  }
  return out;
}

std::vector<Reference> references_in(std::string_view formula) {
  std::vector<Reference> found;
  with_references(formula, [&](const Reference& reference) {
    found.push_back(reference);
    return std::string();
  });
  return found;
}

std::optional<std::size_t> column_named(const Table& table, std::string_view id) {
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    if (table.columns[i].id == id) return i;
  return std::nullopt;
}

}  // namespace zoneproof::paper
