#include "paper/table_cells.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "paper/grid.hpp"
#include "paper/table_widths.hpp"

namespace zoneproof::paper {

using drawing::Align;
using drawing::Ink;

namespace {

/// Where a hand writes, a line is so much higher than printed ones.
constexpr double kHandLift_mm = 2 * kGrid_mm;
constexpr double kRuleBelow_mm = 0.5 * kGrid_mm;  ///< below the baseline

double left_of(const CellPlace& place, double width, Align align) {
  if (align == Align::right) return place.right_mm - width;
  if (align == Align::middle) return (place.left_mm + place.right_mm - width) / 2;
  return place.left_mm;
}

void add_verdict(drawing::Group& group, const drawing::Ruler& ruler, const Verdict& verdict, const CellPlace& place,
                 Align align) {
  const double room = place.right_mm - place.left_mm;
  double size = drawing::kLabel_mm;
  drawing::VerdictMarkDrawn drawn = drawing::verdict_mark(ruler, {}, verdict.mark, verdict.word, {}, size);
  if (drawn.box.width() > room) {
    size *= 0.999 * room / drawn.box.width();
    drawn = drawing::verdict_mark(ruler, {}, verdict.mark, verdict.word, {}, size);
  }
  const double left = left_of(place, drawn.box.width(), align);
  group.items.push_back(
      drawing::moved(drawing::Item{std::move(drawn.group)}, {left - drawn.box.left, place.baseline_mm}));
}

/// As many lines from `first` on as fit into `room_mm`, at least one.
SetText lines_that_fit(const SetText& text, std::size_t first, double room_mm) {
  SetText best = part_of(text, first, 1);
  for (std::size_t count = 2; first + count <= text.lines.size(); ++count) {
    SetText more = part_of(text, first, count);
    if (more.height_mm > room_mm) break;
    best = std::move(more);
  }
  return best;
}

double height_of(const SetRow& row) {
  double height = on_grid(drawing::kLabel_mm) + kGrid_mm;
  for (const SetText& text : row.texts) height = std::max(height, text.height_mm);
  return height + row.lift_mm + 2 * kPadding_mm;
}

}  // namespace

std::string short_heading(const Column& column) {
  if (column.unit.empty()) return column.heading;
  return fmt::format("{} ({})", column.heading, shown_unit(column.unit));
}

drawing::Face face_of(const Cell& cell, bool strong) {
  if (std::holds_alternative<Number>(cell)) return {drawing::Role::label, strong};
  const auto* words = std::get_if<Words>(&cell);
  return {drawing::Role::reading, strong || (words != nullptr && words->strong)};
}

void add_mark(drawing::Group& group, const drawing::Ruler& ruler, const Cell& cell, const CellPlace& place,
              Align align) {
  if (std::holds_alternative<Blank>(cell)) {
    const double y = place.baseline_mm + kRuleBelow_mm;
    group.items.push_back({drawing::stroked({}, {drawing::line_through({{place.left_mm, y}, {place.right_mm, y}})},
                                            {Ink::line, drawing::kFine_mm})});
  } else if (std::holds_alternative<Tick>(cell)) {
    const double side = std::min(kTickSide_mm, place.right_mm - place.left_mm);
    const double left = left_of(place, side, align), bottom = place.baseline_mm + kRuleBelow_mm;
    group.items.push_back({drawing::stroked({}, {drawing::ring(drawing::Box{left, bottom - side, left + side, bottom})},
                                            {Ink::line, drawing::kThin_mm})});
  } else if (const auto* verdict = std::get_if<Verdict>(&cell)) {
    add_verdict(group, ruler, *verdict, place, align);
  }
}

SetRow set_row(const drawing::Ruler& ruler, const Table& table, const Row& row, const std::vector<double>& widths,
               double size_mm) {
  SetRow made;
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    const Cell& cell = row.cells[i];
    const bool written = std::holds_alternative<Words>(cell) || std::holds_alternative<Number>(cell);
    made.texts.push_back(written ? set_text(ruler, words_of(cell, table.columns[i]), face_of(cell, row.strong), size_mm,
                                            widths[i] - 2 * kPadding_mm)
                                 : SetText{});
    const bool by_hand = std::holds_alternative<Blank>(cell) || std::holds_alternative<Tick>(cell);
    if (by_hand) made.lift_mm = kHandLift_mm;
  }
  made.height_mm = height_of(made);
  return made;
}

std::vector<SetRow> parts_of(const SetRow& row, double most_mm) {
  if (row.height_mm <= most_mm) return {row};
  std::vector<SetRow> parts;
  std::vector<std::size_t> done(row.texts.size(), 0);
  const auto left_over = [&] {
    for (std::size_t i = 0; i < done.size(); ++i)
      if (done[i] < row.texts[i].lines.size()) return true;
    return false;
  };
  while (left_over() || parts.empty()) {
    SetRow part;
    part.lift_mm = parts.empty() ? row.lift_mm : 0.0;
    const double room = most_mm - part.lift_mm - 2 * kPadding_mm;
    for (std::size_t i = 0; i < done.size(); ++i) {
      part.texts.push_back(lines_that_fit(row.texts[i], done[i], room));
      done[i] += part.texts.back().lines.size();
    }
    part.height_mm = height_of(part);
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace zoneproof::paper
