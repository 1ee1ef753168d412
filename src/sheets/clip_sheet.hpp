#pragma once
#include <optional>
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "sheets/place_words.hpp"
#include "timeline/alarm_log.hpp"

/// The moments of one alarm on an axis of time.
namespace zoneproof::sheets {

struct ClipOfAlarm {
  timeline::AlarmLog log;
  timeline::Told fast;  ///< how long the fastest whom the rule names is in the detection area
};

struct ClipSheetOptions {
  std::string date;                       ///< as it is to be read; empty: the title block leaves it blank
  std::optional<drawing::Format> format;  ///< paper, lying; nothing: A4, or A3 where long names need it
  PlaceWords called;                      ///< in what is said to be missing
};

/// A page for each clip: a row for each step from cause to operator, with its times in figures and as a bar from its
/// earliest to its latest. What lasts for sure is solid, what may be is hatched; what is not known says so and has no
/// bar. Two axes stand side by side over the same rows: a pre-event of seconds and reactions of tenths do not read on
/// the axis of a minute that an entry time or an upload needs, and a logarithm has no place for what is before 0. The
/// close one holds what decides whether the clip shows the cause, the other everything.
///
/// Ids: the page "clip-TRIGGER-CHANNEL"; "row-STEP" with STEP one of area, contact, panel, entry, unit, asked, clip,
/// shown, picture, screen, complete; "row-STEP-AXIS-possible-N", "row-STEP-AXIS-sure" and "row-STEP-AXIS-beyond" with
/// AXIS close or whole; "AXIS-axis" is the line of an axis, from its first second to its last, "AXIS-tick-N" the
/// figures at it. No text meets another or leaves the frame.
std::vector<drawing::Sheet> clip_sheets(const drawing::Ruler& ruler, const site::Site& site,
                                        const std::vector<ClipOfAlarm>& clips, const ClipSheetOptions& options);

}  // namespace zoneproof::sheets
