#include "sheets/clip_specimen.hpp"

#include <stdexcept>

namespace zoneproof::sheets {

using timeline::Happens;
using timeline::Told;

namespace {

Told between(double low, double high) {
  Told told;
  told.span = {low, high};
  return told;
}

}  // namespace

ClipOfAlarm round_alarm() {
  timeline::AlarmLog log;
  log.zone = "z";
  log.trigger = "t";
  log.channel = "ch";
  log.camera = "c";
  log.response = between(1, 2);
  log.asked = between(0.5, 1);
  log.pre = between(5, 6.5);
  log.post = between(8.5, 11);
  log.pause = between(0.2, 0.4);
  log.lines = {{Happens::enters, "z", between(-2, -1)},
               {Happens::trips, "d", between(0, 0)},
               {Happens::panel_counts, "panel", between(0.2, 0.4)},
               {Happens::entry_ends, "house", between(30.2, 30.4)},
               {Happens::unit_counts, "unit", between(0.1, 0.3)},
               {Happens::clip_asked, "unit", between(0.5, 1)},
               {Happens::clip_begins, "unit", between(-6, -4)},
               {Happens::clip_ends, "unit", between(9, 12)},
               {Happens::leaves, "z", between(1, 20)},
               {Happens::picture_at_station, "path", between(1, 5)},
               {Happens::picture_shown, "path", between(1, 6)},
               {Happens::clip_at_station, "path", between(20, 90)}};
  return {log, between(3, 3)};
}

Told& moment(ClipOfAlarm& clip, Happens what) {
  for (timeline::Line& line : clip.log.lines)
    if (line.what == what) return line.at;
  throw std::logic_error("the log has no such moment");
}

site::Site site_of_alarm(std::size_t letters) {
  // Words of seven letters, as names have them.
  const auto name = [&](const std::string& own) {
    std::string made = own;
    while (made.size() < letters) made += made.size() % 8 == 7 ? ' ' : 'm';
    return made;
  };
  site::Site site;
  site.name = name("Ash Wharf Store");
  site.cameras["c"].name = name("Yard camera");
  site.detectors["d"].name = name("Yard PIR");
  site.panels["panel"].name = name("Panel");
  site.units["unit"].name = name("Unit");
  return site;
}

}  // namespace zoneproof::sheets
