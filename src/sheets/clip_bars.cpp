#include "sheets/clip_bars.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "drawing/hatch.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/clip.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Group;
using drawing::Ink;
using timeline::Span;

namespace {

constexpr double kBar_mm = 3.4, kEnd_mm = 5.0, kMark_mm = 1.8, kBeforeMark_mm = 0.8;
const drawing::Hatch kPossible = {45.0, 0.9, false, {Ink::line, drawing::kFine_mm}};

Box bar(double left, double right, double y) { return {left, y - kBar_mm / 2, right, y + kBar_mm / 2}; }

void add_possible(Group& group, const std::string& id, const Box& box) {
  // Clean paper first: no line of the axis runs through a bar.
  group.items.push_back({drawing::filled(id + "-paper", {drawing::ring(box)}, Ink::paper)});
  drawing::Shape lines = drawing::hatched(id + "-hatch", {drawing::ring(box)}, kPossible);
  if (!lines.path.empty()) group.items.push_back({std::move(lines)});
  group.items.push_back({drawing::stroked(id, {drawing::ring(box)}, {Ink::line, drawing::kFine_mm})});
}

drawing::Shape end_mark(const std::string& id, double x, double y, double width_mm) {
  return drawing::stroked(id, {drawing::line_through({{x, y - kEnd_mm / 2}, {x, y + kEnd_mm / 2}})},
                          {Ink::line, width_mm});
}

drawing::Shape beyond_mark(const std::string& id, double x, double y) {
  const double left = x + kBeforeMark_mm;
  return drawing::stroked(
      id, {drawing::line_through({{left, y - kMark_mm / 2}, {left + kMark_mm / 2, y}, {left, y + kMark_mm / 2}})},
      {Ink::line, drawing::kMedium_mm});
}

/// One bar with its ends, as far as the axis goes.
void add_span(Group& group, const std::string& id, Span span, const TimeAxis& axis, double y, bool sure) {
  const Span shown = {std::max(span.low, axis.span.low), std::min(span.high, axis.span.high)};
  if (shown.low > shown.high) return;
  const Box box = bar(axis.mm(shown.low), axis.mm(shown.high), y);
  if (span.low == span.high) {
    group.items.push_back({end_mark(id, box.left, y, drawing::kFrame_mm)});
    return;
  }
  if (sure) {
    group.items.push_back({drawing::filled(id, {drawing::ring(box)}, Ink::line)});
  } else {
    add_possible(group, id, box);
  }
  if (axis.holds(span.low)) group.items.push_back({end_mark(id + "-begins", box.left, y, drawing::kMedium_mm)});
  if (axis.holds(span.high)) group.items.push_back({end_mark(id + "-ends", box.right, y, drawing::kMedium_mm)});
}

}  // namespace

Group clip_bars(const std::string& id, const ClipRow& row, const TimeAxis& axis, double y_mm, bool& beyond) {
  Group group;
  group.name.id = id;
  double last = axis.span.low;
  for (std::size_t i = 0; i < row.possible.size(); ++i) {
    add_span(group, fmt::format("{}-possible-{}", id, i + 1), row.possible[i], axis, y_mm, false);
    last = std::max(last, row.possible[i].high);
  }
  if (row.sure) {
    add_span(group, id + "-sure", *row.sure, axis, y_mm, true);
    last = std::max(last, row.sure->high);
  }
  if (last <= axis.span.high) return group;
  beyond = true;
  group.items.push_back({beyond_mark(id + "-beyond", axis.right_mm, y_mm)});
  return group;
}

Group zero_line(const std::string& id, double x_mm, double top_mm, double bottom_mm) {
  Group group;
  group.name.id = id;
  group.items.push_back({drawing::stroked(id + "-line", {drawing::line_through({{x_mm, top_mm}, {x_mm, bottom_mm}})},
                                          {Ink::line, drawing::kMedium_mm})});
  group.items.push_back(
      {drawing::filled(id + "-head",
                       {drawing::ring(drawing::Points{
                           {x_mm - kMark_mm / 2, top_mm}, {x_mm + kMark_mm / 2, top_mm}, {x_mm, top_mm + kMark_mm}})},
                       Ink::line)});
  return group;
}

std::vector<drawing::LegendEntry> clip_legend(bool beyond) {
  // An axis of ten seconds, a millimetre each.
  const TimeAxis axis = {{0.0, drawing::kSampleWidth_mm}, 0.0, drawing::kSampleWidth_mm};
  const double y = drawing::kSampleHeight_mm / 2;
  const auto sample = [&](Span span, bool sure) {
    Group group;
    add_span(group, "legend-" + std::string(sure ? "sure" : "possible"), span, axis, y, sure);
    return std::move(group.items);
  };
  std::vector<drawing::LegendEntry> entries;
  entries.push_back({sample({1.0, 9.0}, true), text(say::clip_legend_sure())});
  entries.push_back({sample({1.0, 9.0}, false), text(say::clip_legend_possible())});
  entries.push_back({{{zero_line("legend-zero", drawing::kSampleWidth_mm / 2, 0.0, drawing::kSampleHeight_mm)}},
                     text(say::clip_legend_zero())});
  if (beyond)
    entries.push_back({{{beyond_mark("legend-beyond", drawing::kSampleWidth_mm / 2 - kBeforeMark_mm, y)}},
                       text(say::clip_legend_beyond())});
  return entries;
}

}  // namespace zoneproof::sheets
