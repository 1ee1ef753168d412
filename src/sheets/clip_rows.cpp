#include "sheets/clip_rows.hpp"

#include <algorithm>

#include "base/message.hpp"
#include "messages/clip.hpp"
#include "timeline/words.hpp"

namespace zoneproof::sheets {

using timeline::AlarmLog;
using timeline::Happens;
using timeline::Line;
using timeline::Span;
using timeline::times_words;
using timeline::Told;

namespace {

constexpr double kLeastAbout_s = 1.0;  ///< what the close axis shows before and after the alarm at least

Span hull(Span a, Span b) { return {std::min(a.low, b.low), std::max(a.high, b.high)}; }

class Rows {
 public:
  Rows(const site::Site& site, const AlarmLog& log, const Told& fast) : site_(site), log_(log), fast_(fast) {
    made_.close = {-kLeastAbout_s, kLeastAbout_s};
  }

  ClipRows make() {
    add_stretch("area", text(say::clip_row_area()), Happens::enters, Happens::leaves);
    add_moment("contact", Happens::trips);
    add_moment("panel", Happens::panel_counts);
    add_moment("entry", Happens::entry_ends);
    add_moment("unit", Happens::unit_counts);
    add_moment("asked", Happens::clip_asked);
    add_stretch("clip", text(say::clip_row_clip()), Happens::clip_begins, Happens::clip_ends);
    add_shown();
    add_moment("picture", Happens::picture_at_station);
    add_moment("screen", Happens::picture_shown);
    add_moment("complete", Happens::clip_at_station);
    made_.whole = made_.close;
    for (const Line& line : log_.lines)
      if (line.at.known) made_.whole = hull(made_.whole, line.at.span);
    return std::move(made_);
  }

 private:
  void add_moment(const char* id, Happens what) {
    const Line* line = log_.find(what);
    if (line == nullptr) return;
    ClipRow row = {id, timeline::moment_words(site_, *line), {words(*line)}, {}, {}};
    if (line->at.known) row.possible = {line->at.span};
    note(*line);
    made_.rows.push_back(std::move(row));
  }

  /// What lasts: for sure from the latest beginning to the earliest end, perhaps before and after.
  void add_stretch(const char* id, std::string says, Happens begins, Happens ends) {
    const Line *from = log_.find(begins), *to = log_.find(ends);
    if (from == nullptr || to == nullptr) return;
    ClipRow row = {id, std::move(says), {}, {}, {}};
    row.figures = {text(say::clip_row_from(words(*from))), text(say::clip_row_until(words(*to)))};
    if (!from->at.known && !to->at.known) row.figures = {words(*from)};
    const Span first = from->at.span, last = to->at.span;
    if (from->at.known && to->at.known && first.high >= last.low) {
      row.possible = {hull(first, last)};
    } else {
      if (from->at.known) row.possible.push_back(first);
      if (to->at.known) row.possible.push_back(last);
      if (from->at.known && to->at.known) row.sure = Span{first.high, last.low};
    }
    note(*from);
    note(*to);
    made_.rows.push_back(std::move(row));
  }

  /// The bar is the case in which least is shown, so it is as long as the figure beside it says. What is common to the
  /// sure parts of area and clip would be shorter: who comes in late leaves late, and is in the clip no less.
  void add_shown() {
    ClipRow row = {"shown", text(say::clip_row_shown()), {}, {}, {}};
    const Told shown = timeline::shown_in_clip(log_, fast_);
    if (!shown.known) {
      row.figures = {times_words(shown)};
      add_missing(fast_);
    } else if (shown.span.low > 0.0) {
      row.figures = {text(say::clip_row_for({shown.span.low, "s", 2}))};
      row.sure = timeline::worst_in_clip(log_, fast_);
      made_.close = hull(made_.close, *row.sure);
    } else {
      row.figures = {text(say::clip_row_not_shown())};
    }
    made_.rows.push_back(std::move(row));
  }

  std::string words(const Line& line) const {
    const bool on_its_way = line.what == Happens::picture_at_station || line.what == Happens::picture_shown ||
                            line.what == Happens::clip_at_station;
    if (!line.at.known && log_.swamped && on_its_way) return text(say::clip_row_never());
    return times_words(line.at);
  }

  /// The close axis holds what decides whether the clip shows the cause: up to the clip being asked for, and where it
  /// begins.
  void note(const Line& line) {
    add_missing(line.at);
    const bool decides = line.what <= Happens::clip_begins && line.what != Happens::entry_ends;
    if (decides && line.at.known) made_.close = hull(made_.close, line.at.span);
  }

  /// What is known from a weak source is known.
  void add_missing(const Told& told) {
    if (told.known) return;
    for (const chain::Gap& gap : told.gaps)
      if (gap.reason != "typical" && gap.reason != "assumed" &&
          std::find(made_.missing.begin(), made_.missing.end(), gap.pointer) == made_.missing.end())
        made_.missing.push_back(gap.pointer);
  }

  const site::Site& site_;
  const AlarmLog& log_;
  const Told& fast_;
  ClipRows made_;
};

}  // namespace

ClipRows clip_rows(const site::Site& site, const AlarmLog& log, const Told& fast) {
  return Rows(site, log, fast).make();
}

}  // namespace zoneproof::sheets
