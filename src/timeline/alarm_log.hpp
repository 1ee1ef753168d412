#pragma once
#include <string>
#include <vector>

#include "timeline/crossing.hpp"
#include "timeline/told.hpp"

/// The moments of one alarm of a zone, from its cause to the last picture of its clip.
///
/// Time 0 is the moment at which the detector's contact goes into alarm; every other moment is an interval around it.
/// A unit or panel that looks at its input every p seconds, through a filter, and counts a state that lasted d, has
/// counted it after at least d and at most s + p + d + p (p alone where d is none), where s is what the filter takes to
/// the edge: its time constant times ln(1 + f/m). m is the margin beyond the edge that the link before this one is
/// proven with, f the farthest that the level at rest can lie on the other side, the whole range that the input
/// survives, or the voltage of the panel's terminal (first-order step response; electric/catch_time.hpp). Where that
/// link is not proven, neither is this.
///
/// A clip begins with a key frame. Asked for P seconds before its trigger, it begins for sure P less one key interval
/// before (the buffer may end at the first key frame that it holds), at the earliest P and one interval before; without
/// key frames of its own, one picture takes the place of the interval. What a
/// camera sends shows what was `delay_s` ago. Where a recorder cuts the clip by its clock, both clocks' errors widen
/// both ends. Sources: docs/methods/timeline.md.
namespace zoneproof::timeline {

enum class Happens {
  enters,        ///< somebody comes into the detection area
  trips,         ///< the detector's contact goes into alarm: time 0
  panel_counts,  ///< the panel has counted the alarm
  entry_ends,    ///< an entry zone: the time to disarm is over
  unit_counts,
  clip_asked,
  clip_begins,  ///< what its first picture shows
  clip_ends,    ///< what its last picture shows
  leaves,       ///< somebody who crosses has left the area
  picture_at_station,
  picture_shown,
  clip_at_station
};

struct Line {
  Happens what = Happens::trips;
  std::string thing;  ///< id of what does it
  Told at;
};

/// One clip of one trigger.
struct AlarmLog {
  std::string zone, trigger, channel, camera;
  std::vector<Line> lines;  ///< as they follow each other in cause; those that are known by their middle
  Told response, asked;     ///< from the cause to time 0; from there to the clip being asked for
  Told pre, post;           ///< what of the time before and after being asked the clip shows for sure
  Told between;             ///< from one picture to the next
  Told pause;               ///< from trip to being counted by the panel
  bool swamped = false;     ///< as Carried::swamped

  const Line* find(Happens what) const;
};

/// How long the network takes for one clip, in seconds from when it is asked for.
struct Carried {
  Told first_picture, complete;  ///< at the station
  bool swamped = false;          ///< more comes for ever than its way carries: it may never arrive
};

/// The log of a trigger's clip on a channel. `carried` may be not known.
AlarmLog alarm_log(const site::Site& site, const std::string& trigger, const std::string& channel,
                   const Crossing& crossing, const Carried& carried);

/// When somebody who is in the area for `presence` is in the clip, in the case in which that is shortest. It ends
/// before it begins where there is a case in which nothing of them is shown. All that goes into it has to be known.
Span worst_in_clip(const AlarmLog& log, const Told& presence);

/// How long somebody who is in the area for `presence` is in the clip for sure, in seconds: low and high are the same.
/// Nothing where that is less than from one picture to the next: they may come and go between the two.
Told shown_in_clip(const AlarmLog& log, const Told& presence);

}  // namespace zoneproof::timeline
