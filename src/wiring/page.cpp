#include "wiring/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "base/message.hpp"
#include "drawing/text_block.hpp"
#include "drawing/title_block.hpp"
#include "drawing/type.hpp"
#include "messages/wiring.hpp"

namespace zoneproof::wiring {

using drawing::Box;
using drawing::Format;
using drawing::Sheet;
using drawing::TextBlock;

namespace {

constexpr double kAround_mm = 3.0, kKeyPadding_mm = 3.0, kBetweenKeys_mm = 1.0;
constexpr double kLoosest_mm = 12.5;                  ///< between two columns
constexpr double kTightest_mm = schematic::kGrid_mm;  ///< where nothing else fits the paper
constexpr int kMostDigits = 99;                       ///< a title block is measured with numbers of two digits

drawing::TitleBlockDrawn titled(const Context& context, const std::string& title, const Box& frame,
                                const std::string& hash, int number, int count) {
  return drawing::title_block(context.ruler,
                              {context.site.name, title, fmt::format("{}", context.site.revision), hash,
                               context.options.date, std::nullopt, number, count},
                              frame);
}

const std::string& any_hash() {
  static const std::string hash(64, '0');
  return hash;
}

struct SetKey {
  std::vector<TextBlock> blocks;
  double height_mm = 0.0;
};

SetKey set_key(const Context& context, const std::vector<std::string>& key, double width) {
  SetKey set;
  for (const std::string& says : key) {
    const bool first = set.blocks.empty();
    set.blocks.push_back(
        drawing::broken(context.ruler, says, {drawing::Role::reading, first}, drawing::kCaption_mm, width));
    set.height_mm += set.blocks.back().height_mm + (first ? 0.0 : kBetweenKeys_mm);
  }
  return set;
}

double key_width(const Box& frame, const Box& title) { return title.left - frame.left - 2 * kKeyPadding_mm; }

}  // namespace

std::vector<Format> papers(const Options& options) {
  std::vector<Format> all;
  const Format asked = options.format.value_or(drawing::landscape(drawing::kA4));
  const bool lies = asked.width_mm >= asked.height_mm;
  all.push_back(asked);
  Format next = lies ? asked : drawing::landscape(asked);
  constexpr int sizes = 5;  // A4 to A0
  for (int i = 1; i < sizes; ++i) {
    next = {2 * next.height_mm, next.width_mm};
    if (next.width_mm > asked.width_mm && next.height_mm > asked.height_mm) all.push_back(next);
  }
  return all;
}

Room room_on(const Context& context, Format format, const std::string& title, const std::vector<std::string>& key) {
  Sheet sheet;
  sheet.format = format;
  const Box frame = sheet.frame();
  const Box block = titled(context, title, frame, any_hash(), kMostDigits, kMostDigits).box;
  const double of_key = set_key(context, key, key_width(frame, block)).height_mm + 2 * kKeyPadding_mm;
  const double bottom = std::min(block.top, frame.bottom - of_key);
  return {frame.width() - 2 * kAround_mm, bottom - frame.top - 2 * kAround_mm};
}

Sheet composed(const Context& context, const Page& page, int number, int count) {
  Sheet sheet;
  sheet.format = page.format;
  sheet.name = {page.id, page.title, {}};
  sheet.description = page.description;
  const Box frame = sheet.frame();
  const double left = frame.left + (frame.width() - page.width_mm) / 2;
  drawing::Group content = page.content;
  content.name.id = page.id + "-drawing";
  sheet.content.items.push_back(moved(drawing::Item{std::move(content)}, {left, frame.top + kAround_mm}));
  drawing::TitleBlockDrawn title = titled(context, page.title, frame, context.hash, number, count);
  const SetKey key = set_key(context, page.key, key_width(frame, title.box));
  drawing::Group keys;
  keys.name.id = "key";
  double y = frame.bottom - kKeyPadding_mm - key.height_mm;
  for (std::size_t i = 0; i < key.blocks.size(); ++i) {
    keys.items.push_back(
        {drawing::set(context.ruler, fmt::format("key-{}", i + 1), key.blocks[i],
                      i == 0 ? drawing::Ink::text : drawing::Ink::quiet, {frame.left + kKeyPadding_mm, y})});
    y += key.blocks[i].height_mm + kBetweenKeys_mm;
  }
  sheet.content.items.push_back({std::move(keys)});
  sheet.content.items.push_back({std::move(title.group)});
  sheet.content.items.push_back({drawing::frame_line(sheet)});
  return sheet;
}

schematic::Layout spread(const schematic::Diagram& diagram, schematic::LayoutOptions options, double room_mm) {
  schematic::Layout layout = schematic::laid_out(diagram, options);
  const double slack = room_mm - layout.box.right;
  if (slack < 0) {
    options.channel_mm = std::min(options.channel_mm, kTightest_mm);
    return schematic::laid_out(diagram, options);
  }
  int columns = 0;
  for (const schematic::Device& device : diagram.devices) columns = std::max(columns, device.column);
  if (columns == 0) return layout;
  options.channel_mm = std::min(kLoosest_mm, options.channel_mm + slack / columns);
  schematic::Layout wider = schematic::laid_out(diagram, options);
  return wider.box.right <= room_mm ? wider : layout;
}

std::vector<std::size_t> shared_out(const std::vector<double>& heights, double gap, double room) {
  constexpr double never = std::numeric_limits<double>::infinity();
  struct Best {
    std::size_t pages = std::numeric_limits<std::size_t>::max();
    double unevenness = never;
    std::size_t from = 0;
  };
  std::vector<Best> best(heights.size() + 1);
  best[0] = {0, 0.0, 0};
  for (std::size_t end = 1; end <= heights.size(); ++end) {
    double height = -gap;
    for (std::size_t from = end; from-- > 0;) {
      height += heights[from] + gap;
      if (height > room + 1e-6) break;
      if (best[from].unevenness == never) continue;
      const double left = room - height;
      const Best made{best[from].pages + 1, best[from].unevenness + left * left, from};
      if (made.pages < best[end].pages || (made.pages == best[end].pages && made.unevenness < best[end].unevenness))
        best[end] = made;
    }
    if (best[end].unevenness == never) return {};
  }
  std::vector<std::size_t> ends;
  for (std::size_t end = heights.size(); end > 0; end = best[end].from) ends.push_back(end);
  std::reverse(ends.begin(), ends.end());
  return ends;
}

}  // namespace zoneproof::wiring
