#include "paper/block_strips.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "base/utf8.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "paper/caution_sign.hpp"
#include "paper/grid.hpp"
#include "paper/table_cells.hpp"
#include "paper/text_strips.hpp"

namespace zoneproof::paper {

using drawing::Ink;

namespace {

constexpr double kHandLine_mm = 9 * kGrid_mm;  ///< from rule to rule where a hand writes
constexpr double kFigureRoom_mm = 2 * kGrid_mm;

drawing::Shape rule(double from, double to, double y) {
  return drawing::stroked({}, {drawing::line_through({{from, y}, {to, y}})}, {Ink::line, drawing::kFine_mm});
}

/// Rows without a head, in columns of given widths, which begin and end where running text does.
std::vector<Strip> plain_rows(const drawing::Ruler& ruler, const Table& table, const std::vector<double>& widths,
                              double size_mm, const Room& room) {
  std::vector<Strip> strips;
  for (const Row& row : table.groups.front().rows) {
    bool first = true;
    for (const SetRow& part : parts_of(set_row(ruler, table, row, widths, size_mm), room.height_mm)) {
      Strip strip;
      strip.height_mm = part.height_mm;
      double left = -kPadding_mm;
      for (std::size_t i = 0; i < widths.size(); ++i) {
        const CellPlace place{left + kPadding_mm, left + widths[i] - kPadding_mm,
                              kPadding_mm + part.lift_mm + on_grid(size_mm)};
        add_text(strip.group, part.texts[i],
                 {place.left_mm, place.right_mm, kPadding_mm + part.lift_mm, table.columns[i].align},
                 table.columns[i].weight > 0.0 ? Ink::text : Ink::quiet);
        if (first) add_mark(strip.group, ruler, row.cells[i], place, table.columns[i].align);
        left += widths[i];
      }
      first = false;
      strips.push_back(std::move(strip));
    }
  }
  if (!strips.empty()) strips.front().before_mm = kBetweenBlocks_mm;
  return strips;
}

/// An item with what stands before it: a dash, a number.
void add_item(std::vector<Strip>& strips, const drawing::Ruler& ruler, const std::string& before,
              const std::string& says, const Room& room) {
  std::vector<Strip> lines = text_strips(ruler, says, {kPlain, drawing::kReading_mm}, kIndent_mm, room.width_mm);
  if (lines.empty()) return;
  const SetText mark = set_text(ruler, before, kPlain, drawing::kReading_mm, kIndent_mm - kGrid_mm);
  const auto& first = std::get<drawing::TextLine>(lines.front().group.items.front().what);
  if (!mark.lines.empty())  // on the baseline of the item's own first line, which marks above letters may have lowered
    add_text(lines.front().group, mark, {0.0, kIndent_mm - kGrid_mm, first.at.y - mark.lines.front().baseline_mm},
             Ink::text);
  lines.front().before_mm = strips.empty() ? kBetweenBlocks_mm : kGrid_mm;
  for (Strip& line : lines) strips.push_back(std::move(line));
}

}  // namespace

HeadingLook look_of(int level) {
  switch (level) {
    case 1: return {drawing::kTitle_mm, 0.0, 2 * kGrid_mm};
    case 2: return {drawing::kHeading_mm, 6 * kGrid_mm, 0.0};
    case 3: return {drawing::kReading_mm, 5 * kGrid_mm, 0.0};
    default: return {drawing::kLabel_mm, 4 * kGrid_mm, 0.0};
  }
}

std::vector<Strip> heading_strips(const drawing::Ruler& ruler, int level, const std::string& says,
                                  const std::string& id, const Room& room) {
  const HeadingLook look = look_of(level);
  std::vector<Strip> lines = text_strips(ruler, says, {kBold, look.size_mm}, 0.0, room.width_mm);
  if (lines.empty()) throw std::invalid_argument("a heading without words");
  for (Strip& line : lines) line.stays_with_next = true;
  lines.front().before_mm = look.before_mm;
  lines.front().group.name.id = id;
  lines.front().group.bookmark = printable(says, says.size());
  lines.front().group.bookmark_level = level;
  lines.back().height_mm += look.after_mm;
  return lines;
}

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Paragraph& paragraph, const Room& room) {
  const TextLook look{paragraph.strong ? kBold : kPlain, paragraph.quiet ? drawing::kLabel_mm : drawing::kReading_mm,
                      paragraph.quiet ? Ink::quiet : Ink::text, paragraph.link};
  std::vector<Strip> lines = text_strips(ruler, paragraph.says, look, 0.0, room.width_mm);
  if (!lines.empty()) lines.front().before_mm = kBetweenBlocks_mm;
  return lines;
}

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const List& list, const Room& room) {
  std::vector<Strip> strips;
  for (std::size_t i = 0; i < list.items.size(); ++i)
    add_item(strips, ruler, list.numbered ? fmt::format("{}.", i + 1) : "–", list.items[i], room);
  return strips;
}

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Caution& caution, const Room& room) {
  constexpr double sign = 9 * kGrid_mm, about = 2 * kGrid_mm;
  const double left = sign + 3 * about, right = room.width_mm - about;
  std::vector<Strip> lines = text_strips(ruler, caution.word, {kBold, drawing::kReading_mm}, left, right);
  for (const std::string& says : caution.says)
    for (Strip& line : text_strips(ruler, says, {kPlain, drawing::kReading_mm}, left, right))
      lines.push_back(std::move(line));
  std::vector<Strip> boxes;
  for (std::size_t i = 0; i < lines.size();) {
    Strip box;
    box.before_mm = kBetweenBlocks_mm;
    box.group.items.push_back({caution_sign({about, about}, sign)});
    box.height_mm = about;
    for (; i < lines.size() && (box.height_mm == about || box.height_mm + lines[i].height_mm + about <= room.height_mm);
         ++i) {
      box.group.items.push_back(drawing::moved(drawing::Item{std::move(lines[i].group)}, {0.0, box.height_mm}));
      box.height_mm += lines[i].height_mm;
    }
    box.height_mm = std::max(box.height_mm, on_grid(caution_sign_height(sign)) + about) + about;
    box.group.items.push_back({drawing::stroked(
        {}, {drawing::ring(drawing::Box{0.0, 0.0, room.width_mm, box.height_mm})}, {Ink::text, drawing::kThick_mm})});
    boxes.push_back(std::move(box));
  }
  if (!boxes.empty()) boxes.back().stays_with_next = true;  // it warns of what follows
  return boxes;
}

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const KeyValues& values, const Room& room) {
  constexpr double most = 0.45;  // of the width, for names
  if (values.rows.empty()) return {};
  Table table;
  table.columns = {{"name", {}, {}, drawing::Align::left, 0.0}, {"value", {}}};
  table.groups.push_back({});
  double widest = 0.0;
  for (const auto& [name, value] : values.rows) {
    widest = std::max(widest, widths_of(ruler, name, kPlain, drawing::kLabel_mm).natural_mm);
    table.groups.front().rows.push_back({{Words{name}, value}});
  }
  const double left = std::min(widest + 6 * kPadding_mm, most * room.width_mm);
  return plain_rows(ruler, table, {left, room.width_mm + 2 * kPadding_mm - left}, drawing::kLabel_mm, room);
}

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Figure& figure, const Room& room) {
  const double height = on_grid(figure.height_mm) + kFigureRoom_mm;
  if (figure.width_mm > room.width_mm || height > room.height_mm)
    throw std::invalid_argument(fmt::format("figure {} is larger than a page", figure.id));
  Strip strip;
  strip.before_mm = kBetweenBlocks_mm;
  strip.height_mm = height;
  drawing::Group content = figure.content;
  content = with_prefix(std::move(content), figure.id);
  strip.group.name = {figure.id, printable(figure.title, figure.title.size()), {}};
  strip.group.items.push_back({std::move(content)});
  std::vector<Strip> strips;
  strip.stays_with_next = !figure.caption.empty();
  strips.push_back(std::move(strip));
  for (Strip& line : text_strips(ruler, figure.caption, {kPlain, drawing::kLabel_mm, Ink::quiet}, 0.0, room.width_mm))
    strips.push_back(std::move(line));
  return strips;
}

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const FillIn& fill_in, const Room& room) {
  constexpr double most = 0.6;  // of the width, for the name
  std::vector<Strip> strips;
  const SetText name = set_text(ruler, fill_in.says, kPlain, drawing::kLabel_mm, most * room.width_mm);
  double widest = 0.0;
  for (const SetLine& line : name.lines) widest = std::max(widest, line.extent.box.width());
  for (int i = 0; i < std::max(1, fill_in.lines); ++i) {
    Strip strip;
    strip.height_mm = kHandLine_mm;
    double from = 0.0;
    if (i == 0 && !name.lines.empty()) {
      strip.height_mm = std::max(kHandLine_mm, name.height_mm);
      add_text(strip.group, name, {0.0, most * room.width_mm, strip.height_mm - name.height_mm}, Ink::text);
      from = widest + 2 * kPadding_mm;
    }
    strip.group.items.push_back({rule(from, room.width_mm, strip.height_mm - kGrid_mm / 2)});
    strip.before_mm = i == 0 ? kGrid_mm : 0.0;
    strip.stays_with_next = i == 0 && fill_in.lines > 1;
    strips.push_back(std::move(strip));
  }
  return strips;
}

}  // namespace zoneproof::paper
