#include "drawing/legend.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/drawing.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kPadding_mm = 2.5, kRowGap_mm = 1.8, kBesideSample_mm = 2.5;

/// A row with its upper left corner at `at`; the height it takes.
double add_row(Group& group, const Ruler& ruler, const LegendEntry& entry, const TextBlock& block,
               const std::string& id, Point at) {
  const double height = std::max(kSampleHeight_mm, block.height_mm);
  Group row;
  row.name.id = id;
  for (const Item& item : entry.sample) {
    row.items.push_back(moved(item, {at.x, at.y + (height - kSampleHeight_mm) / 2}));
  }
  const Point text_at{at.x + kSampleWidth_mm + kBesideSample_mm, at.y + (height - block.height_mm) / 2};
  row.items.push_back({set(ruler, id + "-text", block, Ink::text, text_at)});
  group.items.push_back({std::move(row)});
  return height;
}

}  // namespace

Legend legend(const Ruler& ruler, const std::vector<LegendEntry>& entries, Point at, double width_mm,
              std::size_t columns) {
  const double column = width_mm / static_cast<double>(columns), room = column - 2 * kPadding_mm;
  const std::size_t in_column = (entries.size() + columns - 1) / columns;
  Group rows;
  const TextBlock heading = broken(ruler, text(say::drawing_legend()), {Role::reading, true}, kReading_mm, room);
  double left = at.x + kPadding_mm;
  rows.items.push_back({set(ruler, "legend-heading", heading, Ink::text, {left, at.y + kPadding_mm})});
  const double top = at.y + kPadding_mm + heading.height_mm;
  double y = top, right = left + heading.width_mm, bottom = top;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (i > 0 && i % in_column == 0) {
      left += column;
      y = top;
    }
    y += kRowGap_mm;
    const TextBlock block =
        broken(ruler, entries[i].says, {Role::reading, false}, kLabel_mm, room - kSampleWidth_mm - kBesideSample_mm);
    y += add_row(rows, ruler, entries[i], block, fmt::format("legend-{}", i + 1), {left, y});
    right = std::max(right, left + kSampleWidth_mm + kBesideSample_mm + block.width_mm);
    bottom = std::max(bottom, y);
  }
  Legend drawn;
  drawn.box = {at.x, at.y, right + kPadding_mm, bottom + kPadding_mm};
  drawn.group.name.id = "legend";
  drawn.group.items.push_back({filled({}, {ring(drawn.box)}, Ink::paper)});
  drawn.group.items.push_back({stroked({}, {ring(drawn.box)}, {Ink::line, kFine_mm})});
  for (Item& item : rows.items) drawn.group.items.push_back(std::move(item));
  return drawn;
}

}  // namespace zoneproof::drawing
