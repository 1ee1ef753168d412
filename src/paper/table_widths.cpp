#include "paper/table_widths.hpp"

#include <algorithm>
#include <numeric>

#include "drawing/type.hpp"
#include "paper/grid.hpp"
#include "paper/set_text.hpp"
#include "paper/table_cells.hpp"

namespace zoneproof::paper {

namespace {

struct Needs {
  double words_mm = 0.0;  ///< the longest word
  double least_mm = 0.0;  ///< the same, or all where it is not to wrap
  double natural_mm = 0.0;
};

TextWidths cell_widths(const drawing::Ruler& ruler, const Cell& cell, const Column& column, bool strong) {
  if (const auto* blank = std::get_if<Blank>(&cell)) return {blank->width_mm, blank->width_mm};
  if (std::holds_alternative<Tick>(cell)) return {kTickSide_mm, kTickSide_mm};
  if (const auto* verdict = std::get_if<Verdict>(&cell)) {
    const double width =
        drawing::verdict_mark(ruler, {}, verdict->mark, verdict->word, {}, drawing::kLabel_mm).box.width();
    return {width, width};
  }
  TextWidths widths = widths_of(ruler, words_of(cell, column), face_of(cell, strong), drawing::kLabel_mm);
  if (std::holds_alternative<Number>(cell)) widths.least_mm = widths.natural_mm;
  return widths;
}

Needs needs_of(const drawing::Ruler& ruler, const Table& table, std::size_t index) {
  const Column& column = table.columns[index];
  Needs needs;
  const TextWidths head = widths_of(ruler, short_heading(column), kHeadFace, drawing::kCaption_mm);
  TextWidths cells;
  for (const Group& group : table.groups) {
    for (const Row& row : group.rows) {
      const TextWidths widths = cell_widths(ruler, row.cells[index], column, row.strong);
      cells.least_mm = std::max(cells.least_mm, widths.least_mm);
      cells.natural_mm = std::max(cells.natural_mm, widths.natural_mm);
    }
  }
  needs.words_mm = std::max({head.least_mm, cells.least_mm, column.min_mm}) + 2 * kPadding_mm;
  needs.least_mm = std::max(column.wrap ? 0.0 : cells.natural_mm + 2 * kPadding_mm, needs.words_mm);
  needs.natural_mm = std::max(std::max(head.least_mm, cells.natural_mm) + 2 * kPadding_mm, needs.least_mm);
  return needs;
}

double sum(const std::vector<Needs>& all, double Needs::*which) {
  return std::accumulate(all.begin(), all.end(), 0.0,
                         [&](double before, const Needs& needs) { return before + needs.*which; });
}

/// Between a lower and an upper width, each the same share of the way.
std::vector<double> between(const std::vector<Needs>& all, double Needs::*low, double Needs::*high, double width) {
  const double least = sum(all, low), most = sum(all, high);
  const double share = most > least ? std::clamp((width - least) / (most - least), 0.0, 1.0) : 0.0;
  std::vector<double> widths;
  for (const Needs& needs : all) widths.push_back(needs.*low + share * (needs.*high - needs.*low));
  return widths;
}

/// Where words are too wide for the page, the widest columns give way, to one width, and break theirs: one word without
/// an end must not leave the others columns in which every letter has a line.
void cap(std::vector<double>& widths, double width_mm) {
  std::vector<double> narrowest = widths;
  std::sort(narrowest.begin(), narrowest.end());
  double left = width_mm;
  for (std::size_t i = 0; i < narrowest.size(); ++i) {
    const double share = left / static_cast<double>(narrowest.size() - i);
    if (narrowest[i] > share) {
      for (double& width : widths) width = std::min(width, share);
      return;
    }
    left -= narrowest[i];
  }
}

}  // namespace

std::vector<double> column_widths(const drawing::Ruler& ruler, const Table& table, double width_mm) {
  std::vector<Needs> all;
  for (std::size_t i = 0; i < table.columns.size(); ++i) all.push_back(needs_of(ruler, table, i));
  const double natural = sum(all, &Needs::natural_mm);
  std::vector<double> widths;
  if (natural <= width_mm) {
    double weights = 0.0;
    for (const Column& column : table.columns) weights += column.weight;
    for (std::size_t i = 0; i < all.size(); ++i)
      widths.push_back(all[i].natural_mm +
                       (weights > 0.0 ? (width_mm - natural) * table.columns[i].weight / weights : 0.0));
  } else if (sum(all, &Needs::least_mm) <= width_mm) {
    widths = between(all, &Needs::least_mm, &Needs::natural_mm, width_mm);
  } else {
    widths = between(all, &Needs::words_mm, &Needs::least_mm, width_mm);
  }
  cap(widths, width_mm);
  return widths;
}

}  // namespace zoneproof::paper
