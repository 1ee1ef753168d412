#include "timeline/alarm_log.hpp"

#include <algorithm>
#include <cmath>

#include "chain/limit.hpp"
#include "site/relations.hpp"

namespace zoneproof::timeline {

using std::string;

namespace {

/// What an input asks of a state before it counts.
struct Input {
  const site::Value &filter_s, &period_s, &hold_s;
  Told levels_V;       ///< from the lowest to the highest that it may read, with what that rests on; in volts
  const char* margin;  ///< rulebook entry of the margin that its levels are proven with
};

/// From nothing to what the filter takes from the farthest level to the margin beyond the edge.
Told settling(const site::Site& site, const Input& input) {
  const Told filter = told(input.filter_s);
  if (!filter.known || filter.span.high == 0.0) return filter;
  const chain::Limit margin = chain::limit_of(site, input.margin);
  if (!margin.value || *margin.value <= 0.0) return not_told(margin.pointer, "no_rule");
  Told time = after(filter, input.levels_V);  // rests on both
  const double farthest_V = input.levels_V.span.high - input.levels_V.span.low;
  time.span = {0.0, filter.span.high * std::log1p(farthest_V / *margin.value)};
  return time;
}

Told counting(const site::Site& site, const Input& input) {
  const Told period = up_to(input.period_s), hold = told(input.hold_s);
  Told time = after(settling(site, input), after(period, hold));
  const bool looks_twice = hold.known && hold.span.high > 0.0;
  return looks_twice ? after(time, period) : time;
}

/// Every level between two that the part's sheet tells.
Told levels_between(const site::Value& lowest, const site::Value& highest) {
  return either(told(lowest), told(highest));
}

/// At a zone's terminal. One whose source follows the raw rail, or was only measured, has no voltage of its own in the
/// file: no higher than what the panel may be fed with.
Told levels_at(const site::Site& site, const site::ZoneTerminalSpec& terminal, const site::Ref& panel) {
  const Told nothing;
  if (terminal.source_V.known()) return either(nothing, told(terminal.source_V));
  const site::PanelSpec* spec = site::panel_spec(site, panel.id);
  if (spec == nullptr) return not_told(terminal.source_V.pointer);
  Told rail = either(nothing, told(spec->supply_max_V));
  if (terminal.source_pct.known()) {
    constexpr double all = 100.0;
    rail.span.high *= std::max(1.0, terminal.source_pct.high / all);
  }
  return rail;
}

/// From one picture to the next.
Told between_pictures(const site::Stream& stream) {
  Told time = told(stream.rate_fps);
  if (time.known) time.span = {1.0 / time.span.high, 1.0 / time.span.low};
  return time;
}

class Log {
 public:
  Log(const site::Site& site, const string& trigger, const string& channel)
      : site_(site), trigger_(site.triggers.at(trigger)), channel_(site.channels.at(channel)) {
    log_.zone = trigger_.zone.id;
    log_.trigger = trigger;
    log_.channel = channel;
    log_.camera = channel_.camera.id;
  }

  AlarmLog make(const Crossing& crossing, const Carried& carried) {
    const Told now;
    log_.response = response();
    const Told enters = before(now, log_.response);
    add(Happens::enters, log_.zone, enters);
    add(Happens::trips, detector_, now);
    log_.pause = panel_counts();
    if (has_panel()) add(Happens::panel_counts, site_.zones.at(log_.zone).panel.id, log_.pause);
    add_entry();
    const Told counted = unit_counts();
    add(Happens::unit_counts, trigger_.unit.id, counted);
    log_.asked = after(counted, reaction());
    add(Happens::clip_asked, trigger_.unit.id, log_.asked);
    add_clip();
    add(Happens::leaves, log_.zone, after(enters, either(crossing.fast, crossing.slow)));
    add_delivery(carried);
    return std::move(log_);
  }

 private:
  void add(Happens what, const string& thing, Told at) { log_.lines.push_back({what, thing, std::move(at)}); }

  Told response() {
    if (trigger_.source.is(site::TriggerSource::camera_analytics)) {
      return analytics();
    }
    std::optional<Told> all;
    for (const string& id : site::alarming_detectors_of_zone(site_, log_.zone)) {
      const auto* spec = site::spec_of(site_, site_.detectors.at(id).part, &site::Part::detector);
      const Told one = spec == nullptr ? not_told(site_.detectors.at(id).part.pointer) : told(spec->response_s);
      if (!all) detector_ = id;
      all = all ? either(*all, one) : one;
    }
    return all.value_or(not_told("/zones/" + log_.zone, "undecided"));
  }

  /// Of the camera on the trigger's own channel: the clip may be that of another one beside it.
  Told analytics() {
    const auto own = std::find_if(site_.channels.begin(), site_.channels.end(), [&](const auto& entry) {
      return trigger_.unit.known() && entry.second.unit.id == trigger_.unit.id && trigger_.channel.known() &&
             entry.second.number.value == trigger_.channel.value;
    });
    if (own == site_.channels.end()) return not_told(trigger_.channel.pointer);
    detector_ = own->second.camera.id;
    const site::CameraSpec* spec = spec_of_camera(detector_);
    return spec == nullptr ? not_told("/channels/" + own->first + "/camera") : up_to(spec->analytics_s);
  }

  bool has_panel() const {
    const auto zone = site_.zones.find(log_.zone);
    return zone != site_.zones.end() && zone->second.panel.known();
  }

  /// Of a wired zone; a receiver's or a bus's time stands in the response of the detector.
  Told panel_counts() const {
    const auto zone = site_.zones.find(log_.zone);
    if (zone == site_.zones.end() || !zone->second.medium.is(site::Medium::wired)) return {};
    const auto* terminal = site::spec_of(site_, site::zone_terminal_of(site_, log_.zone), &site::Part::zone_terminal);
    if (terminal == nullptr) return not_told(zone->second.zone_terminal.pointer);
    return counting(site_, {terminal->filter_s, terminal->scan_s, terminal->debounce_s,
                            levels_at(site_, *terminal, zone->second.panel), "loop_margin_V"});
  }

  void add_entry() {
    const auto zone = site_.zones.find(log_.zone);
    if (zone == site_.zones.end() || !zone->second.type.is(site::ZoneType::entry_exit)) return;
    const auto partition = site_.partitions.find(zone->second.partition.id);
    if (partition == site_.partitions.end()) return;
    add(Happens::entry_ends, zone->second.partition.id, after(log_.pause, told(partition->second.entry_s)));
  }

  /// From the contact: at the unit's input, behind the panel's output where that carries the alarm, at once where the
  /// camera itself gives it.
  Told unit_counts() const {
    if (trigger_.source.is(site::TriggerSource::camera_analytics)) return {};
    const site::UnitSpec* spec = site::unit_spec(site_, trigger_.unit.id);
    if (spec == nullptr) return not_told(trigger_.unit.pointer);
    const site::UnitInputSpec& input = spec->input;
    const Told at_input = counting(site_, {input.filter_s, input.sampling_s, input.debounce_s,
                                           levels_between(input.damage_min_V, input.damage_max_V), "trigger_margin_V"});
    return trigger_.source.is(site::TriggerSource::following_output) ? after(log_.pause, at_input) : at_input;
  }

  Told reaction() const {
    const site::UnitSpec* spec = site::unit_spec(site_, trigger_.unit.id);
    return spec == nullptr ? not_told(trigger_.unit.pointer) : told(spec->reaction_s);
  }

  const site::CameraSpec* camera() const { return spec_of_camera(log_.camera); }

  const site::CameraSpec* spec_of_camera(const string& camera) const {
    const auto found = site_.cameras.find(camera);
    return found == site_.cameras.end() ? nullptr : site::spec_of(site_, found->second.part, &site::Part::camera);
  }

  const site::Stream* stream() const {
    const auto found = site_.cameras.find(log_.camera);
    if (found == site_.cameras.end()) return nullptr;
    const auto one = found->second.streams.find(channel_.stream);
    return one == found->second.streams.end() ? nullptr : &one->second;
  }

  const site::Recorder* recorder() const {
    const auto found = site_.recorders.find(channel_.recorder.id);
    return found == site_.recorders.end() ? nullptr : &found->second;
  }

  /// What the clip is cut wrong by: nothing where the unit cuts what it holds itself.
  Told clock_error() const {
    if (channel_.recorder.none()) return {};
    const auto unit = site_.units.find(trigger_.unit.id);
    if (recorder() == nullptr || unit == site_.units.end()) return not_told(channel_.recorder.pointer);
    return after(up_to(unit->second.clock.error_s), up_to(recorder()->clock.error_s));
  }

  const site::Clip* clip() const {
    if (recorder() != nullptr) return &recorder()->clip;
    const auto unit = site_.units.find(trigger_.unit.id);
    return unit == site_.units.end() || !channel_.recorder.none() ? nullptr : &unit->second.clip;
  }

  void add_clip() {
    const string holder = recorder() != nullptr ? channel_.recorder.id : trigger_.unit.id;
    const site::Stream* sent = stream();
    const site::CameraSpec* spec = camera();
    Told missing;
    if (sent == nullptr) missing = not_told("/channels/" + log_.channel + "/stream");
    if (spec == nullptr) missing = not_told("/channels/" + log_.channel + "/camera");
    if (clip() == nullptr) missing = not_told(channel_.recorder.pointer);
    if (!missing.known) {
      log_.pre = log_.post = missing;
    } else {
      log_.between = between_pictures(*sent);
      Told key = sent->key_frame_s.none() ? log_.between : told(sent->key_frame_s);
      key.span.low = 0.0;
      const Told error = clock_error(), delay = told(spec->delay_s);
      const Told wide = either(before(Told{}, error), error);
      // Back from being asked to what its first picture shows; on to what its last shows.
      log_.pre = after(after(told(clip()->pre_s), either(before(Told{}, key), key)), after(wide, delay));
      log_.post = before(after(told(clip()->post_s), wide), delay);
    }
    add(Happens::clip_begins, holder, before(log_.asked, log_.pre));
    add(Happens::clip_ends, holder, after(log_.asked, log_.post));
  }

  void add_delivery(const Carried& carried) {
    const auto unit = site_.units.find(trigger_.unit.id);
    const string station = unit == site_.units.end() ? "" : unit->second.monitoring.id;
    const auto path = site_.monitoring_paths.find(station);
    log_.swamped = carried.swamped;
    // A recorder whose clock is slow ends the clip as much later, and is later with what waits for its end.
    const Told slow = clock_error();
    const bool waits = clip() != nullptr && clip()->sending.is(site::ClipSending::when_complete);
    const Told first = after(log_.asked, waits ? after(carried.first_picture, slow) : carried.first_picture);
    add(Happens::picture_at_station, station, first);
    const Told shown = path == site_.monitoring_paths.end() ? not_told("/units/" + trigger_.unit.id + "/monitoring")
                                                            : up_to(path->second.shown_s);
    add(Happens::picture_shown, station, after(first, shown));
    add(Happens::clip_at_station, station, after(log_.asked, after(carried.complete, slow)));
  }

  const site::Site& site_;
  const site::Trigger& trigger_;
  const site::Channel& channel_;
  string detector_;
  AlarmLog log_;
};

}  // namespace

const Line* AlarmLog::find(Happens what) const {
  const auto found = std::find_if(lines.begin(), lines.end(), [&](const Line& line) { return line.what == what; });
  return found == lines.end() ? nullptr : &*found;
}

AlarmLog alarm_log(const site::Site& site, const string& trigger, const string& channel, const Crossing& crossing,
                   const Carried& carried) {
  return Log(site, trigger, channel).make(crossing, carried);
}

// Who trips the contact r before time 0 is there from -r to D - r; the clip, asked for at a, shows -P to Q around that.
// With x = r + a that is min(Q, D - x) - max(-P, -x) seconds of them: concave in x, a least of linear functions less a
// largest of them, so it is least at an end of what x can be.
Span worst_in_clip(const AlarmLog& log, const Told& presence) {
  const auto seen = [&](double response, double asked) {
    return Span{std::max(-response, asked - log.pre.span.low),
                std::min(presence.span.low - response, asked + log.post.span.low)};
  };
  const Span soon = seen(log.response.span.low, log.asked.span.low);
  const Span late = seen(log.response.span.high, log.asked.span.high);
  return soon.high - soon.low < late.high - late.low ? soon : late;
}

Told shown_in_clip(const AlarmLog& log, const Told& presence) {
  Told shown = after(after(after(log.response, log.asked), presence), after(after(log.pre, log.post), log.between));
  const Span worst = worst_in_clip(log, presence);
  const double seconds = worst.high - worst.low;
  const double least = seconds < log.between.span.high ? 0.0 : std::max(0.0, seconds);
  shown.span = {least, least};
  return shown;
}

}  // namespace zoneproof::timeline
