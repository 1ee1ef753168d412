#pragma once
#include <string>
#include <vector>

#include "field/plan.hpp"

namespace zoneproof::field {

/// The steps of one zone while everything runs: rest, each alarm, each tamper; time and clip of
/// those whose picture comes while disarmed.
class ZoneSteps {
 public:
  ZoneSteps(Plan& plan, const ZoneFigures& figures);
  void add();

 private:
  void rest(const WireFigures& wire);
  void state(const WireFigures& wire, const StateReadings& made);

  Step& step(const std::string& id, const std::string& device, Message what, Message state, Message proves);
  /// At the unit where the zone has a wire there, else at the panel.
  void put_reading(Step& step, const WireFigures& wire, const ZoneReadings& readings) const;
  std::string suffix(const WireFigures& wire) const;
  /// What a reading at the unit proves, by what the proof says of the checks that it stands for; `holds`: where they
  /// do.
  Message proves_at_unit(const std::vector<std::string>& checks, Message holds) const;
  std::vector<std::string> beside_on_pair(const std::string& owner) const;

  Plan& plan_;
  const ZoneFigures& figures_;
  std::string id_, words_;
  const std::vector<chain::Evidence> told_;  ///< of the zone
};

}  // namespace zoneproof::field
