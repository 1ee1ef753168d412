#include "wiring/row_pages.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "base/message.hpp"
#include "messages/wiring.hpp"

namespace zoneproof::wiring {

namespace {

constexpr double kBetweenRows_mm = 2 * schematic::kGrid_mm;

/// Widths of ladders that are tried on a paper of this width, widest first: shares of it.
constexpr double kLadderShares[] = {0.34, 0.26, 0.2};

Page page_of(const RowSet& set, const Rows& rows, std::size_t from, std::size_t to, drawing::Format format, Room room,
             int sheet) {
  Board board(sheet);
  double y = 0.0;
  Page page;
  std::vector<std::string> names;
  for (std::size_t i = from; i < to; ++i) {
    rows[i]->build(board, y);
    y += rows[i]->height_mm() + kBetweenRows_mm;
    names.push_back(rows[i]->name());
  }
  schematic::LayoutOptions options;
  options.reorder = false;
  const schematic::Layout layout = spread(board.diagram(), options, room.width_mm);
  page.title = set.title;
  page.description = text(say::wiring_shows_rows(names));
  page.format = format;
  page.key = set.key;
  page.content = schematic::drawn(board.diagram(), layout);
  page.width_mm = layout.box.right;
  page.height_mm = layout.box.bottom;
  page.things = board.things();
  page.things.insert(set.things.begin(), set.things.end());
  return page;
}

std::vector<Page> tried(const Context& context, const RowSet& set, drawing::Format format, int first) {
  const Room room = room_on(context, format, set.title, set.key);
  const Rows rows = set.rows(context);
  std::vector<double> heights;
  for (const auto& row : rows) heights.push_back(row->height_mm());
  std::vector<Page> pages;
  std::size_t from = 0;
  for (const std::size_t to : shared_out(heights, kBetweenRows_mm, room.height_mm)) {
    const int number = static_cast<int>(pages.size());
    Page page = page_of(set, rows, from, to, format, room, first + number);
    if (page.width_mm > room.width_mm + 1e-6 || page.height_mm > room.height_mm + 1e-6) return {};
    page.id = fmt::format("{}-{}", set.id, number + 1);
    pages.push_back(std::move(page));
    from = to;
  }
  return pages;
}

}  // namespace

std::vector<Page> row_pages(Context context, const RowSet& set, int first) {
  if (set.rows(context).empty()) return {};
  for (const drawing::Format format : papers(context.options))
    for (const double share : kLadderShares) {
      Context own{context.ruler, context.site, context.hash,       context.options,
                  context.marks, context.book, context.feed_homes, share * format.width_mm};
      std::vector<Page> pages = tried(own, set, format, first);
      if (!pages.empty()) return pages;
    }
  throw std::length_error("no paper holds the wiring of " + set.id);
}

}  // namespace zoneproof::wiring
