#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

#include "site/model.hpp"

/// The closed sets of words: how each enumerator is spelled in files and in results. The word is the enumerator's own
/// name; words.cpp holds each table against the compiler's names, so a forgotten enumerator does not compile.
namespace zoneproof::site {

template <class E>
struct Words;  // one specialisation for each enumeration below

/// The word of an enumerator, e.g. "twenty_four_hour".
template <class E>
constexpr std::string_view word_of(E value) {
  return Words<E>::all.at(static_cast<std::size_t>(value));
}

/// The enumerator of a word; nothing where the set has no such word.
template <class E>
constexpr std::optional<E> from_word(std::string_view word) {
  for (std::size_t i = 0; i < Words<E>::all.size(); ++i) {
    if (Words<E>::all[i] == word) return static_cast<E>(i);
  }
  return std::nullopt;
}

using Spelling = std::string_view;

// value.hpp
template <>
struct Words<Origin> {
  static constexpr std::array<Spelling, 6> all = {"measured", "data_sheet", "standard",
                                                  "envelope", "typical",    "assumed"};
};

// scene.hpp
template <>
struct Words<Surface> {
  static constexpr std::array<Spelling, 3> all = {"solid", "glass", "mesh"};
};
template <>
struct Words<OpeningKind> {
  static constexpr std::array<Spelling, 4> all = {"doorway", "door", "window", "shutter"};
};
template <>
struct Words<OpeningState> {
  static constexpr std::array<Spelling, 3> all = {"open", "closed", "either"};
};
template <>
struct Words<BlockKind> {
  static constexpr std::array<Spelling, 6> all = {"column", "racking", "counter", "shelf", "machine", "other"};
};
template <>
struct Words<Fill> {
  static constexpr std::array<Spelling, 3> all = {"solid", "open", "either"};
};
template <>
struct Words<PictureTurn> {
  static constexpr std::array<Spelling, 4> all = {"upright", "left", "right", "upside_down"};
};

// parts.hpp
template <>
struct Words<PatternShape> {
  static constexpr std::array<Spelling, 7> all = {"fan", "curtain", "ceiling", "beam", "opening", "panes", "mat"};
};
template <>
struct Words<Projection> {
  static constexpr std::array<Spelling, 2> all = {"pinhole", "equidistant"};
};
template <>
struct Words<PartKind> {
  static constexpr std::array<Spelling, 21> all = {
      "cable",  "resistor", "battery",        "supply",   "panel",       "expander", "zone_terminal",
      "unit",   "detector", "output",         "relay",    "optocoupler", "buffer",   "load",
      "camera", "lens",     "network_switch", "injector", "router",      "recorder", "ups"};
};
template <>
struct Words<Material> {
  static constexpr std::array<Spelling, 3> all = {"copper", "copper_clad_aluminium", "aluminium"};
};
template <>
struct Words<Protection> {
  static constexpr std::array<Spelling, 4> all = {"constant_current", "foldback", "ptc", "fuse"};
};
template <>
struct Words<TerminalReference> {
  static constexpr std::array<Spelling, 6> all = {"negative", "positive",       "floating",
                                                  "matrix",   "current_source", "optocoupled"};
};
template <>
struct Words<TerminalDrive> {
  static constexpr std::array<Spelling, 4> all = {"steady", "scanned", "bipolar", "alternating"};
};
template <>
struct Words<TerminalWave> {
  static constexpr std::array<Spelling, 4> all = {"sine", "square", "half_wave", "full_wave"};
};
template <>
struct Words<TerminalSource> {
  static constexpr std::array<Spelling, 2> all = {"regulated", "raw_rail"};
};
template <>
struct Words<Reading> {
  static constexpr std::array<Spelling, 9> all = {"secure", "alarm",  "tamper",       "open",      "shorted",
                                                  "fault",  "masked", "second_alarm", "both_alarm"};
};
template <>
struct Words<ReadingWay> {
  static constexpr std::array<Spelling, 3> all = {"open", "loaded", "shorted"};
};
template <>
struct Words<ReadingSupply> {
  static constexpr std::array<Spelling, 2> all = {"mains", "battery"};
};
template <>
struct Words<ChannelBinding> {
  static constexpr std::array<Spelling, 2> all = {"fixed", "free"};
};
template <>
struct Words<Judging> {
  static constexpr std::array<Spelling, 3> all = {"ranges", "threshold", "presets"};
};
template <>
struct Words<ContactKind> {
  static constexpr std::array<Spelling, 3> all = {"relay", "solid_state", "reed"};
};
template <>
struct Words<RestPosition> {
  static constexpr std::array<Spelling, 2> all = {"closed", "open"};
};
template <>
struct Words<WithoutSupply> {
  static constexpr std::array<Spelling, 3> all = {"open", "closed", "unaffected"};
};
template <>
struct Words<ContactReports> {
  static constexpr std::array<Spelling, 5> all = {"alarm", "tamper", "mask", "fault", "programmable"};
};
template <>
struct Words<Technology> {
  static constexpr std::array<Spelling, 11> all = {"passive_infrared", "microwave",   "dual",  "beam",
                                                   "magnetic_contact", "glass_break", "shock", "floor_mat",
                                                   "push_button",      "smoke",       "heat"};
};
template <>
struct Words<OutputKind> {
  static constexpr std::array<Spelling, 3> all = {"open_collector", "switched_positive", "relay"};
};

// rulebook.hpp
template <>
struct Words<TriggerClass> {
  static constexpr std::array<Spelling, 3> all = {"must_trigger", "must_not", "either"};
};

// model.hpp
template <>
struct Words<KnownState> {
  static constexpr std::array<Spelling, 2> all = {"known", "unknown"};
};
template <>
struct Words<OutputUse> {
  static constexpr std::array<Spelling, 2> all = {"free", "used"};
};
template <>
struct Words<ZoneType> {
  static constexpr std::array<Spelling, 9> all = {
      "intruder", "entry_exit", "follower", "twenty_four_hour", "tamper", "fire", "hold_up", "technical", "access"};
};
template <>
struct Words<Medium> {
  static constexpr std::array<Spelling, 3> all = {"wired", "wireless", "addressable"};
};
template <>
struct Words<Arrangement> {
  static constexpr std::array<Spelling, 8> all = {"normally_closed", "normally_open",   "single_eol_closed",
                                                  "single_eol_open", "double_eol",      "triple_eol",
                                                  "doubled_series",  "doubled_parallel"};
};
template <>
struct Words<EolPlace> {
  static constexpr std::array<Spelling, 2> all = {"at_end", "at_panel"};
};
template <>
struct Words<ContactRole> {
  static constexpr std::array<Spelling, 4> all = {"alarm", "tamper", "mask", "fault"};
};
template <>
struct Words<FollowedEvent> {
  static constexpr std::array<Spelling, 3> all = {"armed", "zone_state", "alarm_memory"};
};
template <>
struct Words<ActiveWhen> {
  static constexpr std::array<Spelling, 4> all = {"armed", "disarmed", "alarm", "normal"};
};
template <>
struct Words<OutputMode> {
  static constexpr std::array<Spelling, 2> all = {"level", "pulse"};
};
template <>
struct Words<PartitionRule> {
  static constexpr std::array<Spelling, 2> all = {"any", "all"};
};
template <>
struct Words<ArmingMoment> {
  static constexpr std::array<Spelling, 2> all = {"exit_start", "exit_end"};
};
template <>
struct Words<Level> {
  static constexpr std::array<Spelling, 2> all = {"low", "high"};
};
template <>
struct Words<MissedBy> {
  static constexpr std::array<Spelling, 3> all = {"station", "zone", "nobody"};
};
template <>
struct Words<TriggerSource> {
  static constexpr std::array<Spelling, 6> all = {"loop_tap",       "spare_contact",    "following_output",
                                                  "receiver_relay", "camera_analytics", "live_view"};
};
template <>
struct Words<BondKind> {
  static constexpr std::array<Spelling, 5> all = {"wire", "coaxial_screen", "data_screen", "serial_line", "earth"};
};

// network.hpp
template <>
struct Words<Transport> {
  static constexpr std::array<Spelling, 2> all = {"tcp", "udp"};
};
template <>
struct Words<AddressBy> {
  static constexpr std::array<Spelling, 3> all = {"fixed", "reserved", "pool"};
};
template <>
struct Words<ReachedFrom> {
  static constexpr std::array<Spelling, 3> all = {"own_network", "site", "anywhere"};
};
template <>
struct Words<PathCategory> {
  static constexpr std::array<Spelling, 10> all = {"sp1", "sp2", "sp3", "sp4", "sp5",
                                                   "sp6", "dp1", "dp2", "dp3", "dp4"};
};
template <>
struct Words<Codec> {
  static constexpr std::array<Spelling, 3> all = {"mjpeg", "h264", "h265"};
};
template <>
struct Words<RateControl> {
  static constexpr std::array<Spelling, 2> all = {"capped", "free"};
};
template <>
struct Words<ClipSending> {
  static constexpr std::array<Spelling, 2> all = {"while_recording", "when_complete"};
};
template <>
struct Words<ClockSource> {
  static constexpr std::array<Spelling, 3> all = {"time_server", "station", "free_running"};
};

}  // namespace zoneproof::site
