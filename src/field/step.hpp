#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "chain/evidence.hpp"

/// One step of the order of work: what is done, where, in which state of the site, what is expected and what is then
/// known. Plain data; sentences are messages of the catalogue (field.json), so that page, paper and program share them.
namespace zoneproof::field {

/// The phases in the order in which they are worked through.
enum class Phase {
  as_found,         ///< on test, sounders and lid tampers held off; everything is read before anything is touched
  safety,           ///< mains isolated, batteries off
  dead,             ///< everything dead: resistances
  install,          ///< still dead: every wire on its terminal, or compared where it lies there already
  power_up,         ///< supplies, batteries, panels, units, in this order
  live,             ///< supply voltages, shifted negatives, every zone at rest
  zones,            ///< zone by zone: rest, alarm, tamper, time, clip
  arming,           ///< both ways
  battery,          ///< mains off, the batteries on load
  restore,          ///< mains on, covers closed, everything read once more
  acknowledgement,  ///< the far end says what it saw of each zone's test alarm
  off_test,         ///< the station takes the site off test
};
const char* word(Phase phase);
const std::vector<Phase>& all_phases();

/// Where somebody stands to do it. Both empty: anywhere.
struct Place {
  std::string area;    ///< id of an area; empty: unknown
  std::string device;  ///< id of a panel, unit, detector, supply ...
};

/// Where the probes of the meter go: labels.
struct Probes {
  Message red, black;
};

/// What the meter, or the watch, is to show.
///
/// `low` and `high` enclose every real site whose data lie within their tolerances in the state of the step, as the
/// one circuit gives them at all corners; the error and the load of the meter are not counted. Without `high` the
/// reading has no upper end: the meter may show "open". Without both nothing is expected, and `gaps` say why: such a
/// field is left blank and never guessed. With numbers `gaps` hold what is only typical or assumed: then the interval
/// is no better than that.
struct Expected {
  std::string unit;  ///< "V", "ohm", "s"
  std::optional<double> low, nominal, high;
  bool unbounded = false;  ///< the reading has no upper end
  bool exact = false;      ///< both ends are attained by a corner that a real site can have; else safe, but wider
  std::vector<chain::Gap> gaps;

  bool blank() const { return !low && !high; }
};

/// What is written down by hand.
enum class BlankKind { reading, time, yes_no, words };
const char* word(BlankKind kind);
struct Blank {
  BlankKind kind = BlankKind::reading;
  std::string unit;  ///< of a reading
  Message label;     ///< what it is
};

struct Step {
  std::string id;  ///< stable: "dead.loop.z1", "zones.alarm.z1.d_front_door_alarm"
  Phase phase = Phase::as_found;
  Place place;
  std::string zone;            ///< that it is about; empty: none
  std::string subject;         ///< id of the thing that it is about: a zone, unit, supply, battery ...; empty: the site
  Message what;                ///< what to do
  std::vector<Message> notes;  ///< what to heed while it is done
  Message state;               ///< the state in which the site is while it is done
  std::optional<Probes> probes;
  std::optional<Expected> expected;       ///< of steps at which something is read
  std::optional<Message> expected_words;  ///< of steps at which something is looked at
  Message proves;                         ///< what is known when it fits
  std::vector<Message> dangers;
  std::vector<Blank> blanks;
  /// Ids of the steps that must have been done before. That every step of an earlier phase has been is understood:
  /// of a thousand zones each step would name a thousand others.
  std::vector<std::string> after;
};

}  // namespace zoneproof::field
