#pragma once
#include <map>
#include <string>
#include <vector>

#include "field/figures.hpp"
#include "field/order_of_work.hpp"
#include "field/readings.hpp"
#include "field/sources.hpp"
#include "field/touched.hpp"

/// The steps while they are being collected, phase by phase; their order comes afterwards (order_of_work.cpp).
namespace zoneproof::field {

class PictureSteps;

class Plan {
 public:
  Plan(const site::Site& site, const std::vector<ToldOfZone>& told);

  void as_found();
  void safety();
  void dead();
  void install();
  void power_up();
  void live();
  void zones();
  void arming();
  void battery();
  void restore();
  void acknowledgement();
  void off_test();
  /// What holds of a step by where and when it is done.
  void common_dangers();

  std::vector<Step> steps;
  const Touched& touched() const { return touched_; }

 private:
  friend class ZoneSteps;
  friend class PictureSteps;

  /// A step with everything that every step has. The reference holds until the next one.
  Step& add(Phase phase, const std::string& id, Place place, Message what, Message state, Message proves);
  /// Puts a reading into a step: interval and blank. No expected value at all: a blank without interval.
  static void reading(Step& step, Probes probes, Expected expected);
  static void looked_at(Step& step, Message expected);

  Place at(const std::string& device) const;
  std::string thing(const std::string& id) const;
  std::string zone(const std::string& id) const;
  std::string panel_of(const std::string& zone) const;
  Probes at_screws(const std::string& zone) const;
  static Probes poles(const std::string& thing);
  /// Every step of a phase so far.
  std::vector<std::string> ids_of(Phase phase) const;
  std::vector<std::string> wires_off(const std::string& panel) const;

  void armed_pictures();
  void armed_partition(const std::string& partition, std::vector<PictureSteps>& zones);
  /// A device that a clip goes over and that hangs on the mains; `backed`: it has a battery of its own.
  struct Carrier {
    std::string id, area;
    bool backed;
  };
  std::vector<Carrier> carriers() const;
  void delivery_on_battery();
  void quiet();
  void prove_dead(const Source& source, const std::vector<std::string>& off);
  void name_others(Step& mains, const Source& source) const;
  Place where(const Source& source) const;
  /// The output of a source in that state of the site; blank where the file does not name it.
  static Expected output_of(SupplySide& supplies, const Source& source,
                            const std::vector<electric::SupplyCondition>& conditions);
  void find_out(Step& mains, const Source& source) const;
  void settled();
  void dead_zone(const ZoneFigures& figures);
  void bridges();
  void bridge(const ZoneFigures& figures, const std::string& after);
  Step& landing(const std::string& id, const std::string& device, Message what);
  void land_trigger(const std::string& id);
  void land_unit(const std::string& id);
  void programming(const std::vector<std::string>& before);
  void set_cameras(const std::string& unit);
  std::string terminal_words(const std::string& trigger) const;
  std::string cable_words(const site::Ref& cable) const;
  void dead_wires();
  void open_trigger(const std::string& id);
  void open_unit(const std::string& id);
  void joined_trigger(const std::string& id);
  void joined_unit(const std::string& id);
  /// A wire that is read at the unit, bridged at its far end.
  static void through_bridge(Step& step, const std::string& unit, const std::string& source, Message red,
                             const electric::Ohms& ohms);
  /// Triggers of the work that have a wire of a cable to a unit, by the number of their zone.
  std::vector<std::string> wired_triggers() const;
  /// The device at the far end of a trigger wire, of the wire that arms a unit; empty: not known.
  std::string source_of(const std::string& trigger) const;
  std::string arming_source_of(const std::string& unit) const;
  std::string place_words(const std::string& device) const;
  void power_supply(const Source& source, SupplySide& bare);
  void power_unit(const std::string& id, const site::Site& on_mains);
  std::vector<std::string> panels_of_unit(const std::string& unit) const;
  /// Where a detector of the zone hangs that somebody can walk up to, one that may be tripped first; of a
  /// camera's own analytics the camera, in whose picture it is; the panel where there is none.
  std::string detector_of(const std::string& zone) const;
  /// The first camera that finds the person in its own picture and calls the zone; empty: none, or not known.
  std::string seen_by_camera(const std::string& zone) const;
  /// The triggers of the work by the number of their zone.
  std::vector<std::string> triggers_in_order() const;
  /// Its name; where it is not known, the whole system.
  std::string partition_words(const site::Ref& partition) const;
  /// Gas, a trapped person: somebody answers for it, and may send help.
  void agree(Step& step, const std::string& zone) const;
  /// A contact that follows a camera's analytics is tripped where the camera looks, not where the contact is.
  void tell_where_tripped(Step& step, const std::string& zone) const;
  /// Of a step at a detector or camera that is mounted up there.
  void warn_of_height(Step& step) const;
  /// What the proof says of a zone; nothing where it was not asked.
  std::vector<chain::Evidence> told_of(const std::string& zone) const;
  /// Whether the zone can be brought into alarm without a detector that is left alone.
  bool may_trip(const std::string& zone) const;
  /// The detectors one of which is the last on the pair that the zone owns; `known`: whether that is all of them.
  std::vector<std::string> on_pair(const std::string& zone, bool& known) const;

  const site::Site& site_;
  const std::vector<ToldOfZone>& told_;
  Touched touched_;
  const std::vector<Source> sources_;
  std::vector<ZoneFigures> figures_;  ///< by number of the zone
};

}  // namespace zoneproof::field
