#include "sheets/clip_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/title_block.hpp"
#include "drawing/type.hpp"
#include "messages/clip.hpp"
#include "sheets/clip_bars.hpp"
#include "sheets/clip_rows.hpp"
#include "site/file.hpp"
#include "timeline/words.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Group;
using drawing::Ink;
using drawing::Role;
using drawing::Sheet;
using drawing::TextBlock;

namespace {

constexpr double kPadding_mm = 3.0, kSays_mm = 60.0, kFigures_mm = 36.0, kBetweenAxes_mm = 9.0;
constexpr double kShareOfClose = 0.6;  ///< of the room of both axes
constexpr double kAboutSpan = 0.04;    ///< room before and after what an axis has to hold
constexpr double kTicksApart_mm = 8.0, kBetweenFigures_mm = 2.0, kTick_mm = 1.2;
constexpr double kLeastRow_mm = 10.5, kAboutRow_mm = 1.2;
constexpr std::size_t kMostMissing = 6;
constexpr int kMostDigits = 99;  ///< a title block is measured with numbers of two digits

/// What is the same on all sheets of a set.
struct Set {
  const drawing::Ruler& ruler;
  const site::Site& site;
  const ClipSheetOptions& options;
  std::string hash;
};

struct SetRow {
  TextBlock says;
  std::vector<TextBlock> figures;
  double top_mm = 0.0, height_mm = 0.0;
  double middle() const { return top_mm + height_mm / 2; }
};

double height_of(const std::vector<TextBlock>& blocks) {
  double height = 0.0;
  for (const TextBlock& block : blocks) height += block.height_mm;
  return height + kAboutRow_mm * static_cast<double>(blocks.empty() ? 0 : blocks.size() - 1);
}

class ClipPage {
 public:
  ClipPage(const Set& set, const ClipOfAlarm& clip, drawing::Format format)
      : set_(set), rows_(clip_rows(set.site, clip.log, clip.fast)), clip_(timeline::clip_words(set.site, clip.log)) {
    sheet_.format = format;
    sheet_.name = {
        fmt::format("clip-{}-{}", clip.log.trigger, clip.log.channel), text(say::clip_sheet_titled(clip_)), {}};
    const auto unknown = std::count_if(rows_.rows.begin(), rows_.rows.end(),
                                       [](const ClipRow& row) { return row.possible.empty() && !row.sure; });
    sheet_.description = text(say::clip_sheet_shows(clip_, static_cast<long long>(rows_.rows.size()), unknown));
    lay_out();
  }

  /// Draws everything but the title block. Whether all of it has room.
  bool draw() {
    add(drawn_axis("close", text(say::clip_axis_close()), close_));
    add(drawn_axis("whole", text(say::clip_axis_whole()), whole_));
    for (std::size_t i = 0; i < rows_.rows.size(); ++i) add(drawn_row(rows_.rows[i], set_rows_[i]));
    const double free = std::min(add_legend(), add_missing());
    return bottom_ + kPadding_mm <= free;
  }

  Sheet finished(int number, int count) const {
    Sheet sheet = sheet_;
    sheet.content.items.push_back({titled(number, count).group});
    sheet.content.items.push_back({drawing::frame_line(sheet)});
    return sheet;
  }

 private:
  void add(Group group) { sheet_.content.items.push_back({std::move(group)}); }

  drawing::TitleBlockDrawn titled(int number, int count) const {
    return drawing::title_block(set_.ruler,
                                {set_.site.name, sheet_.name.title, fmt::format("{}", set_.site.revision), set_.hash,
                                 set_.options.date, std::nullopt, number, count},
                                sheet_.frame());
  }

  /// Words, figures, both axes from left to right; a row below the other.
  void lay_out() {
    const Box frame = sheet_.frame();
    title_ = titled(kMostDigits, kMostDigits).box;
    says_left_ = frame.left + kPadding_mm;
    figures_left_ = says_left_ + kSays_mm + kPadding_mm;
    const double left = figures_left_ + kFigures_mm + kPadding_mm;
    const double room = frame.right - kBetweenAxes_mm / 2 - left - kBetweenAxes_mm;
    close_ = {with_room(rows_.close), left, left + kShareOfClose * room};
    whole_ = {with_room(rows_.whole), close_.right_mm + kBetweenAxes_mm, close_.right_mm + kBetweenAxes_mm};
    whole_.right_mm += (1.0 - kShareOfClose) * room;
    headings_ = frame.top + kPadding_mm;
    const double heading = std::max(heading_of(text(say::clip_axis_close()), close_).height_mm,
                                    heading_of(text(say::clip_axis_whole()), whole_).height_mm);
    const drawing::Extent figure = set_.ruler.measure("0", {Role::label, true}, drawing::kCaption_mm);
    figures_at_ = headings_ + heading + kBetweenFigures_mm - figure.box.top;
    axis_ = figures_at_ + figure.box.bottom + kTick_mm + kAboutRow_mm;
    bottom_ = axis_ + kAboutRow_mm;
    for (const ClipRow& row : rows_.rows) set_rows_.push_back(set_below(row));
  }

  SetRow set_below(const ClipRow& row) {
    SetRow made;
    made.says = drawing::broken(set_.ruler, row.says, {Role::reading, false}, drawing::kLabel_mm, kSays_mm);
    for (const std::string& figures : row.figures)
      made.figures.push_back(
          drawing::broken(set_.ruler, figures, {Role::label, false}, drawing::kLabel_mm, kFigures_mm));
    made.top_mm = bottom_;
    made.height_mm = std::max(kLeastRow_mm, std::max(made.says.height_mm, height_of(made.figures)) + 2 * kAboutRow_mm);
    bottom_ += made.height_mm;
    return made;
  }

  static timeline::Span with_room(timeline::Span span) {
    const double about = kAboutSpan * (span.high - span.low);
    return {span.low - about, span.high + about};
  }

  TextBlock heading_of(const std::string& says, const TimeAxis& axis) const {
    return drawing::broken(set_.ruler, says, {Role::reading, true}, drawing::kLabel_mm, axis.right_mm - axis.left_mm);
  }

  double ticks_apart(const TimeAxis& axis) const {
    double widest = 0.0;
    for (const double end : {axis.span.low, axis.span.high})
      widest = std::max(widest,
                        set_.ruler.measure(shown({end, {}, 2}), {Role::label, true}, drawing::kCaption_mm).box.width());
    return std::max(kTicksApart_mm, widest + kBetweenFigures_mm);
  }

  Group drawn_axis(const std::string& id, const std::string& says, const TimeAxis& axis) const {
    Group group;
    group.name = {id, says, {}};
    group.items.push_back(
        {drawing::set(set_.ruler, id + "-heading", heading_of(says, axis), Ink::text, {axis.left_mm, headings_})});
    group.items.push_back(
        {drawing::stroked(id + "-axis", {drawing::line_through({{axis.left_mm, axis_}, {axis.right_mm, axis_}})},
                          {Ink::line, drawing::kThin_mm})});
    std::vector<drawing::Subpath> ticks, guides;
    const std::vector<double> times = round_times(axis, ticks_apart(axis));
    for (std::size_t i = 0; i < times.size(); ++i) {
      const double x = axis.mm(times[i]);
      ticks.push_back(drawing::line_through({{x, axis_ - kTick_mm}, {x, axis_}}));
      if (times[i] != 0.0) guides.push_back(drawing::line_through({{x, axis_}, {x, bottom_}}));
      constexpr int digits = 6;
      group.items.push_back({drawing::text_line(
          set_.ruler, fmt::format("{}-tick-{}", id, i + 1), shown({times[i], {}, digits}),
          {Role::label, times[i] == 0.0}, drawing::kCaption_mm, Ink::text, {x, figures_at_}, drawing::Align::middle)});
    }
    group.items.push_back({drawing::stroked(id + "-ticks", std::move(ticks), {Ink::line, drawing::kFine_mm})});
    group.items.push_back(
        {drawing::stroked(id + "-guides", std::move(guides), {Ink::faint, drawing::kHairline_mm, {0.4, 1.2}})});
    group.items.push_back({zero_line(id + "-zero", axis.mm(0.0), axis_, bottom_)});
    return group;
  }

  Group drawn_row(const ClipRow& row, const SetRow& at) {
    const std::string id = "row-" + row.id;
    Group group;
    group.name = {id, row.says, {}};
    group.items.push_back({drawing::set(set_.ruler, id + "-says", at.says, Ink::text,
                                        {says_left_, at.middle() - at.says.height_mm / 2})});
    double y = at.middle() - height_of(at.figures) / 2;
    for (std::size_t i = 0; i < at.figures.size(); ++i) {
      group.items.push_back({drawing::set(set_.ruler, fmt::format("{}-figures-{}", id, i + 1), at.figures[i], Ink::text,
                                          {figures_left_, y})});
      y += at.figures[i].height_mm + kAboutRow_mm;
    }
    group.items.push_back({clip_bars(id + "-close", row, close_, at.middle(), beyond_)});
    group.items.push_back({clip_bars(id + "-whole", row, whole_, at.middle(), beyond_)});
    const Box frame = sheet_.frame();
    const double below = at.top_mm + at.height_mm;
    group.items.push_back(
        {drawing::stroked(id + "-below", {drawing::line_through({{frame.left, below}, {frame.right, below}})},
                          {Ink::faint, drawing::kHairline_mm})});
    return group;
  }

  /// In the lower left corner; how far down it leaves room.
  double add_legend() {
    const Box frame = sheet_.frame();
    drawing::Legend made =
        drawing::legend(set_.ruler, clip_legend(beyond_), {0.0, 0.0}, title_.left - frame.left - 2 * kPadding_mm);
    const double top = frame.bottom - kPadding_mm - made.box.height();
    add(std::get<Group>(moved(drawing::Item{std::move(made.group)}, {frame.left + kPadding_mm, top}).what));
    return top;
  }

  /// Above the title block.
  double add_missing() {
    if (rows_.missing.empty()) return title_.top;
    std::vector<std::string> told = rows_.missing;
    const auto more = static_cast<long long>(told.size()) - static_cast<long long>(kMostMissing);
    if (more > 0) told.resize(kMostMissing);
    for (std::string& place : told) place = words_of(set_.options.called, place);
    const TextBlock block =
        drawing::broken(set_.ruler, text(more > 0 ? say::clip_missing_more(told, more) : say::clip_missing(told)),
                        {Role::reading, false}, drawing::kLabel_mm, title_.width() - kPadding_mm);
    const double top = title_.top - kPadding_mm - block.height_mm;
    add(drawing::set(set_.ruler, "missing", block, Ink::text, {title_.left, top}));
    return top;
  }

  const Set& set_;
  ClipRows rows_;
  std::string clip_;
  Sheet sheet_;
  Box title_;
  TimeAxis close_, whole_;
  double says_left_ = 0.0, figures_left_ = 0.0;
  double headings_ = 0.0, figures_at_ = 0.0, axis_ = 0.0;  ///< from above: headings, baseline of figures, axes
  double bottom_ = 0.0;                                    ///< of the rows
  std::vector<SetRow> set_rows_;
  bool beyond_ = false;
};

/// A clip on the paper that is asked for, else on the smaller where all has room, else on the larger.
std::unique_ptr<ClipPage> page_of(const Set& set, const ClipOfAlarm& clip) {
  auto page = std::make_unique<ClipPage>(set, clip, set.options.format.value_or(drawing::landscape(drawing::kA4)));
  if (page->draw() || set.options.format) return page;
  page = std::make_unique<ClipPage>(set, clip, drawing::landscape(drawing::kA3));
  page->draw();
  return page;
}

}  // namespace

std::vector<Sheet> clip_sheets(const drawing::Ruler& ruler, const site::Site& site,
                               const std::vector<ClipOfAlarm>& clips, const ClipSheetOptions& options) {
  const Set set = {ruler, site, options, site::site_hash(site)};
  std::vector<Sheet> sheets;
  for (const ClipOfAlarm& clip : clips)
    sheets.push_back(page_of(set, clip)->finished(static_cast<int>(sheets.size()) + 1, static_cast<int>(clips.size())));
  return sheets;
}

}  // namespace zoneproof::sheets
