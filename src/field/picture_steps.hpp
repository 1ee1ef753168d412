#pragma once
#include <optional>
#include <string>
#include <vector>

#include "field/plan.hpp"

namespace zoneproof::field {

/// What the proof says of a check; null where it was not asked.
const chain::Evidence* find_told(const std::vector<chain::Evidence>& told, const std::string& check);
std::string why_of(const chain::Evidence& evidence);

/// The steps by which the picture of a zone is tried, time and clip, in the state in which both an alarm and its clip
/// come: disarmed only where the panel alarms and the unit records while disarmed (timeline/arming_edge.hpp), else with
/// the zone's own partition set and no other one.
class PictureSteps {
 public:
  PictureSteps(Plan& plan, const std::string& zone);

  /// Whether there is a picture to try, and somebody may trip the zone.
  bool wanted() const;
  bool when_armed() const { return armed_; }
  /// Whether nothing that is broken keeps the picture away.
  bool promised() const { return !no_picture(); }
  /// Its clip while mains are off, for a unit.
  void add_on_battery(const std::string& unit, const std::vector<std::string>& after);
  /// `after`: ids of the steps of the same phase that come before.
  void add(const std::vector<std::string>& after);

 private:
  void time(const std::vector<std::string>& after);
  void clip();
  void foresee(Step& step) const;
  Step& step(const std::string& id, Message what, Message proves);
  /// Why no picture is to be counted on; nothing where one is.
  std::optional<std::string> no_picture() const;
  Message expected_clip() const;

  Plan& plan_;
  const std::string id_, words_;
  const std::vector<chain::Evidence> told_;  ///< of the zone
  bool armed_ = true, alarms_disarmed_ = false;
};

}  // namespace zoneproof::field
