#include "paper/page_frame.hpp"

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "base/utf8.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/paper.hpp"
#include "paper/grid.hpp"

namespace zoneproof::paper {

using drawing::Box;
using drawing::Ink;

namespace {

constexpr double kFiling_mm = 20.0, kOther_mm = 10.0;  ///< as sheets of drawings have it: sheet.hpp
constexpr double kNameShare = 0.45;                    ///< of the head, for the site's name
constexpr std::size_t kHeadLines = 2;
constexpr double kFoot_mm = 4 * kGrid_mm;  ///< with the line above it
constexpr double kAboutText_mm = 3 * kGrid_mm;
constexpr double kFootBelow_mm = 2.0;  ///< from the frame of a page of others to the ink of its foot
constexpr double kFromEdge_mm = 3.0;   ///< what a printer cannot reach
constexpr std::size_t kHashShown = 12;

drawing::Shape line(double from, double to, double y) {
  return drawing::stroked({}, {drawing::line_through({{from, y}, {to, y}})}, {Ink::line, drawing::kFine_mm});
}

}  // namespace

PageFrame::PageFrame(const drawing::Ruler& ruler, const Style& style, const std::vector<std::string>& titles)
    : ruler_(ruler), style_(style) {
  double height = on_grid(drawing::kLabel_mm);
  for (const bool lying : {false, true}) {
    const double width = frame(lying).width();
    height = std::max(height, head_text(style.stamp.name, true, kNameShare * width).height_mm);
    for (const std::string& title : titles)
      height = std::max(height, head_text(title, false, (1.0 - kNameShare) * width - kGrid_mm).height_mm);
  }
  head_mm_ = height + kGrid_mm;
}

drawing::Format PageFrame::format(bool lying) const { return lying ? drawing::landscape(style_.paper) : style_.paper; }

drawing::Margins PageFrame::margins(bool lying) {
  return lying ? drawing::Margins{kOther_mm, kFiling_mm, kOther_mm, kOther_mm}
               : drawing::Margins{kFiling_mm, kOther_mm, kOther_mm, kOther_mm};
}

Box PageFrame::frame(bool lying) const {
  drawing::Sheet sheet;
  sheet.format = format(lying);
  sheet.margins = margins(lying);
  return sheet.frame();
}

Box PageFrame::text(bool lying) const {
  Box box = frame(lying);
  box.top += head_mm_ + kAboutText_mm;
  const double height = box.bottom - kFoot_mm - kAboutText_mm - box.top;
  box.bottom = box.top + kGrid_mm * std::floor(height / kGrid_mm);
  return box;
}

Room PageFrame::room(bool lying) const { return {text(lying).width(), text(lying).height()}; }

/// At most two lines; what is longer ends in an ellipsis, for the first page has all of it.
SetText PageFrame::head_text(const std::string& given, bool strong, double width_mm) const {
  const std::string says = printable(given, given.size());
  const drawing::Face face{drawing::Role::reading, strong};
  SetText set = set_text(ruler_, says, face, drawing::kLabel_mm, width_mm);
  if (set.lines.size() <= kHeadLines) return set;
  std::vector<std::size_t> ends = ruler_.letter_ends(says);
  while (set.lines.size() > kHeadLines && !ends.empty()) {
    ends.resize(ends.size() - std::max<std::size_t>(1, ends.size() / 16));  // a sixteenth at a time is near enough
    set = set_text(ruler_, says.substr(0, ends.empty() ? 0 : ends.back()) + "…", face, drawing::kLabel_mm, width_mm);
  }
  return set;
}

drawing::Group PageFrame::foot(const Box& box, std::size_t number, std::size_t count) const {
  drawing::Group group;
  group.name.id = kFootId;
  const Stamp& stamp = style_.stamp;
  const SetText page =
      set_text(ruler_, zoneproof::text(say::paper_page(static_cast<long long>(number), static_cast<long long>(count))),
               {drawing::Role::label, true}, drawing::kCaption_mm, box.width() / 3);
  const std::string hash = stamp.hash.substr(0, kHashShown);
  const SetText revision =
      set_text(ruler_,
               zoneproof::text(stamp.date.empty() ? say::paper_foot_undated(stamp.revision, hash)
                                                  : say::paper_foot(stamp.revision, hash, stamp.date)),
               {drawing::Role::label, false}, drawing::kCaption_mm, 2 * box.width() / 3 - kGrid_mm);
  add_text(group, revision, {box.left, box.left + 2 * box.width() / 3, box.top}, Ink::quiet);
  add_text(group, page, {box.left + 2 * box.width() / 3, box.right, box.top, drawing::Align::right}, Ink::text);
  return group;
}

void PageFrame::add_to(drawing::Sheet& sheet, bool lying, const std::string& chapter, std::size_t number,
                       std::size_t count) const {
  const Box box = frame(lying);
  drawing::Group head;
  head.name.id = kHeadId;
  const double split = box.left + kNameShare * box.width();
  const SetText name = head_text(style_.stamp.name, true, split - box.left);
  const SetText title = head_text(chapter, false, box.right - split - kGrid_mm);
  const double bottom = box.top + head_mm_ - kGrid_mm;
  add_text(head, name, {box.left, split, bottom - name.height_mm}, Ink::text);
  add_text(head, title, {split + kGrid_mm, box.right, bottom - title.height_mm, drawing::Align::right}, Ink::text);
  head.items.push_back({line(box.left, box.right, bottom + kGrid_mm)});
  sheet.content.items.push_back({std::move(head)});
  const double above = box.bottom - kFoot_mm;
  sheet.content.items.push_back({line(box.left, box.right, above)});
  sheet.content.items.push_back({foot({box.left, above, box.right, box.bottom}, number, count)});
}

void PageFrame::add_foot_below(drawing::Sheet& sheet, std::size_t number, std::size_t count) const {
  const Box box = sheet.frame();
  // What belongs to the page is now all down to where printers reach; its frame line stays where it was drawn.
  sheet.margins.bottom_mm = std::min(sheet.margins.bottom_mm, kFromEdge_mm);
  sheet.content.items.push_back(
      {foot({box.left, box.bottom + kFootBelow_mm - kGrid_mm, box.right, sheet.frame().bottom}, number, count)});
}

}  // namespace zoneproof::paper
