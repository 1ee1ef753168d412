#pragma once
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "electric/site_circuit.hpp"
#include "electric/threshold.hpp"
#include "site/relations.hpp"

/// Inside of the look at faults: which voltages everybody on a site looks at, and what they make of them. Nominal
/// values: what a fault does, not how closely.
namespace zoneproof::electric {

/// The voltages looked at, and whether one was so near a limit that a glance (circuit/variation.hpp) cannot tell the
/// side. NaN is on no side of anything.
class Volts {
 public:
  explicit Volts(const std::vector<double>& volts) : volts_(volts) {}

  double over(int plus, int minus) const {
    return volts_[static_cast<std::size_t>(plus)] - volts_[static_cast<std::size_t>(minus)];
  }
  bool at_least(double level, double limit) { return note(level, limit), level >= limit; }
  bool at_most(double level, double limit) { return note(level, limit), level <= limit; }
  bool near_a_limit() const { return room_ < near_volts; }
  /// V between any of the levels and the limit that it was held against. While no node moves by more than a quarter of
  /// it, all comes out the same: a level is the difference of two, and a limit may be a share of another.
  double room() const { return room_; }

 private:
  static constexpr double near_volts = 1e-4;  ///< far beyond what a glance loses
  void note(double level, double limit) {
    const double apart = level < limit ? limit - level : level - limit;
    if (apart < room_) room_ = apart;
  }

  const std::vector<double>& volts_;
  double room_ = std::numeric_limits<double>::infinity();
};

/// Poles of something that is fed, and the voltages that it works at. Positions of a Volts, here and below: nodes where
/// that holds the whole network.
struct WatchedFeed {
  int plus = 0, minus = 0;
  std::optional<double> min_V, max_V;

  bool without_supply(Volts& volts) const;  ///< less than its lowest voltage, or more than its highest
  bool too_high(Volts& volts) const;
};

/// The terminal of a zone.
struct WatchedTerminal {
  struct Window {
    std::optional<site::Reading> means;
    double min = 0.0, max = 0.0;
    bool min_is_share = false, max_is_share = false;  ///< of the source
  };
  int sense = 0, against = 0, source = 0;
  double sign = 1.0;
  std::vector<Window> windows;

  std::optional<site::Reading> reads(Volts& volts) const;
};

/// An input of a unit.
struct WatchedInput {
  int point = 0, minus = 0;
  NormalRange range;
  bool of_alarm = false;  ///< the range is of alarm, not of normal

  bool outside_of_normal(Volts& volts) const;
};

/// The arming input of a unit.
struct WatchedArming {
  int point = 0, minus = 0;
  std::optional<double> high_min_V, low_max_V;
  bool armed_is_high = false;

  std::optional<bool> armed(Volts& volts) const;
};

/// Everything of a site that looks at a voltage, by the nodes of its network.
struct Watch {
  std::map<std::string, WatchedFeed> feeds;          ///< of panels, units, detectors
  std::map<std::string, WatchedTerminal> terminals;  ///< by zone
  std::map<std::string, WatchedInput> inputs;        ///< by trigger
  std::map<std::string, WatchedArming> arming;       ///< by unit, where it can be told
};

Watch watch_of(const site::Site& site, const SiteCircuit& circuit);

/// Some of it, by positions in `nodes`. With a terminal goes the feed of its panel, with an input that of its unit.
struct PartOfWatch {
  std::vector<circuit::Node> nodes;
  Watch watch;
};
/// All of it, in parts that share a panel, a unit or, of detectors, a supply.
std::vector<PartOfWatch> parts_of(const site::Site& site, const Watch& watch);

/// What is to be seen of one state of one zone, by positions in `nodes`.
struct ZoneWatch {
  struct Picture {
    std::string trigger;
    std::optional<WatchedFeed> unit;
    WatchedArming arming;
    std::optional<WatchedInput> input;  ///< nothing: no wire, it always moves
  };
  std::vector<circuit::Node> nodes;
  std::optional<WatchedFeed> panel;
  std::optional<WatchedTerminal> terminal;  ///< nothing: its way to the panel is no wire
  std::vector<site::Reading> right;         ///< what the panel has to read
  std::vector<Picture> pictures;            ///< triggers that can move: quiet at rest

  bool panel_right(Volts& volts) const;
  bool pictured(Volts& volts) const;  ///< a trigger moves at a unit that is fed and reads armed
};

/// What is outside of the voltages that it works at, by id.
struct Unsupplied {
  std::set<std::string> all;
  std::set<std::string> too_high;  ///< of these, what has more than its highest voltage
};

/// Everything that is fed, by positions in `nodes`.
struct FeedWatch {
  std::vector<circuit::Node> nodes;
  std::map<std::string, WatchedFeed> feeds;

  Unsupplied without_supply(Volts& volts) const;
};

FeedWatch feed_watch(const Watch& watch);

/// `quiet`: triggers that do not move at rest.
ZoneWatch zone_watch(const site::Site& site, const Watch& watch, const std::string& zone,
                     std::vector<site::Reading> right, const std::vector<std::string>& quiet);

}  // namespace zoneproof::electric
