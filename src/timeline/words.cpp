#include "timeline/words.hpp"

#include "base/message.hpp"
#include "base/outward.hpp"
#include "electric/naming.hpp"
#include "messages/timeline.hpp"
#include "site/relations.hpp"

namespace zoneproof::timeline {

namespace {

Measure seconds(double value, int digits) { return {value, "s", digits}; }

}  // namespace

std::string times_words(const Told& at) {
  if (!at.known) return text(say::clip_time_open());
  // As few digits as tell the two apart: an entry time ends between 30.2 and 30.4 s, not "between 30 and 30".
  constexpr int fewest = 2, most = 4;
  for (int digits = fewest; digits <= most; ++digits) {
    const Measure low = seconds(at.span.low, digits), high = seconds(at.span.high, digits);
    if (shown(low) != shown(high)) return text(say::clip_time_between(lowest(low), highest(high)));
  }
  return shown(seconds(at.span.low, fewest));
}

std::string moment_words(const site::Site& site, const Line& line) {
  const std::string thing = electric::thing_words(site, line.thing);
  switch (line.what) {
    case Happens::enters: return text(say::moment_enters());
    case Happens::trips: return text(say::moment_trips(thing));
    case Happens::panel_counts: return text(say::moment_panel_counts(thing));
    case Happens::entry_ends: return text(say::moment_entry_ends());
    case Happens::unit_counts: return text(say::moment_unit_counts(thing));
    case Happens::clip_asked: return text(say::moment_clip_asked(thing));
    case Happens::clip_begins: return text(say::moment_clip_begins());
    case Happens::clip_ends: return text(say::moment_clip_ends());
    case Happens::leaves: return text(say::moment_leaves());
    case Happens::picture_at_station: return text(say::moment_picture_at_station());
    case Happens::picture_shown: return text(say::moment_picture_shown());
    case Happens::clip_at_station: break;
  }
  return text(say::moment_clip_at_station());
}

std::string clip_words(const site::Site& site, const AlarmLog& log) {
  return text(say::clip_of_channel(site::called(site.cameras, log.camera), electric::thing_words(site, log.trigger)));
}

}  // namespace zoneproof::timeline
