#include "paper/contents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/paper.hpp"
#include "paper/block_strips.hpp"
#include "paper/grid.hpp"
#include "paper/text_strips.hpp"

namespace zoneproof::paper {

using drawing::Ink;

namespace {

constexpr double kNumber_mm = 12 * kGrid_mm, kDot_mm = 0.3, kBetweenDots_mm = 1.5;

void append(std::vector<Element>& all, std::vector<Strip> strips) {
  for (Strip& strip : strips) all.push_back(std::move(strip));
}

/// In groups of eight: so that two long numbers can be compared by eye.
std::string grouped(const std::string& digits) {
  constexpr std::size_t group = 8;
  std::string out;
  for (std::size_t at = 0; at < digits.size(); at += group) out += (at > 0 ? " " : "") + digits.substr(at, group);
  return out;
}

/// Words at the left, the page at the right of their last line, dots between.
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const ContentsEntry& entry, const std::string& number,
                             const Room& room) {
  const bool chapter = entry.level == 1;
  const double left = kIndent_mm * (entry.level - 1), right = room.width_mm - kNumber_mm;
  const TextLook look{chapter ? kBold : kPlain, chapter ? drawing::kReading_mm : drawing::kLabel_mm, Ink::text,
                      "#" + entry.id};
  std::vector<Strip> lines = text_strips(ruler, entry.says, look, left, right);
  if (lines.empty()) return lines;
  lines.front().before_mm = chapter ? 2 * kGrid_mm : 0.0;
  drawing::Group& last = lines.back().group;
  const auto& words = std::get<drawing::TextLine>(last.items.back().what);
  const double baseline = words.at.y, from = words.box().right + kGrid_mm;
  const drawing::Face face{drawing::Role::label, chapter};
  const SetText page = set_text(ruler, number, face, look.size_mm, kNumber_mm - kGrid_mm);
  if (page.lines.empty()) return lines;
  add_text(last, page,
           {right + kGrid_mm, room.width_mm, baseline - page.lines.front().baseline_mm, drawing::Align::right},
           Ink::text, look.link);
  const double to = room.width_mm - page.lines.front().extent.width - kGrid_mm;
  if (to > from)
    last.items.push_back(
        {drawing::stroked({}, {drawing::line_through({{to, baseline - kDot_mm / 2}, {from, baseline - kDot_mm / 2}})},
                          {Ink::quiet, kDot_mm, {kDot_mm, kBetweenDots_mm}})});
  return lines;
}

/// A last page with a line or two is spared where the gaps before chapters can give so much.
void spare_a_page(std::vector<Strip>& lines, double begun_mm, double page_mm) {
  double all = begun_mm, gaps = 0.0, highest = 0.0;
  for (const Strip& line : lines) {
    all += line.before_mm + line.height_mm;
    gaps += line.before_mm;
    highest = std::max(highest, line.height_mm);
  }
  const double pages = std::floor(all / page_mm);
  const double over = all - pages * page_mm + pages * highest;  // what does not fit at a page's foot leaves a gap there
  if (pages < 1.0 || over > gaps) return;
  for (Strip& line : lines) line.before_mm *= 1.0 - over / gaps;
}

}  // namespace

std::vector<Element> contents(const drawing::Ruler& ruler, const Stamp& stamp,
                              const std::vector<ContentsEntry>& entries,
                              const std::map<std::string, std::size_t>& page_of, const Room& room) {
  std::vector<Element> all;
  append(all, text_strips(ruler, stamp.name, {kBold, drawing::kTitle_mm}, 0.0, room.width_mm));
  append(all, text_strips(ruler, stamp.title, {kPlain, drawing::kHeading_mm, Ink::quiet}, 0.0, room.width_mm));
  KeyValues values;
  for (const auto& [name, value] :
       {std::pair{text(say::paper_revision()), stamp.revision}, std::pair{text(say::paper_date()), stamp.date},
        std::pair{text(say::paper_hash()), grouped(stamp.hash)}})
    values.rows.emplace_back(name, said_or_blank(value));
  append(all, paper::strips_of(ruler, values, room));
  std::vector<Strip> heading = heading_strips(ruler, 2, text(say::paper_contents()), kContentsId, room);
  heading.front().group.bookmark_level = 1;
  append(all, std::move(heading));
  double begun_mm = 0.0;
  for (const Element& element : all)
    if (const auto* strip = std::get_if<Strip>(&element)) begun_mm += strip->before_mm + strip->height_mm;
  std::vector<Strip> lines;
  for (const ContentsEntry& entry : entries) {
    const auto page = page_of.find(entry.id);
    for (Strip& line :
         strips_of(ruler, entry, page == page_of.end() ? std::string() : fmt::format("{}", page->second), room))
      lines.push_back(std::move(line));
  }
  spare_a_page(lines, begun_mm, room.height_mm);
  append(all, std::move(lines));
  return all;
}

}  // namespace zoneproof::paper
