#pragma once
#include <set>
#include <string>
#include <vector>

#include "field/order_of_work.hpp"
#include "site/model.hpp"

/// What the work touches, and what it leaves alone.
///
/// Left alone are the circuits of fire and hold-up zones, of zones whose type nobody knows (they may be one of these),
/// and what cannot be touched without touching one of them: the other zone on the same pair, and a loop that shares its
/// way back with one. A trigger of such a zone is left alone with it. A detector that such a zone has in common with
/// one of the work is neither tripped nor opened: its other zone keeps those of its steps that can be done without.
namespace zoneproof::field {

class Touched {
 public:
  explicit Touched(const site::Site& site);

  bool zone(const std::string& id) const { return zones_.count(id) != 0; }
  const std::set<std::string>& zones() const { return zones_; }        ///< in id order
  const std::set<std::string>& triggers() const { return triggers_; }  ///< of these zones
  const std::set<std::string>& panels() const { return panels_; }      ///< where these zones or a unit's outputs are
  const std::set<std::string>& units() const { return units_; }
  const std::set<std::string>& supplies() const { return supplies_; }  ///< of these panels and units
  const std::set<std::string>& detectors() const { return detectors_; }
  const std::vector<LeftAlone>& left_alone() const { return left_alone_; }
  /// Whether a detector may be brought into alarm, and whether its cover may be opened.
  bool may_trip(const std::string& detector) const { return not_tripped_.count(detector) == 0; }
  bool may_open(const std::string& detector) const { return not_opened_.count(detector) == 0; }
  /// Zones of the work, each with a detector that is left alone and why.
  const std::vector<LeftAlone>& shared() const { return shared_; }
  /// Zones left alone, in words, whose panel hangs on a supply that goes dead with the work; and those of one panel.
  std::vector<std::string> left_alone_on(const site::Site& site, const std::string& supply) const;
  std::vector<std::string> left_alone_at(const site::Site& site, const std::string& panel) const;

 private:
  void sort_zones(const site::Site& site);
  void follow(const site::Site& site);
  void keep_shared_detectors(const site::Site& site);

  std::set<std::string> zones_, triggers_, panels_, units_, supplies_, detectors_;
  std::set<std::string> not_tripped_, not_opened_;
  std::vector<LeftAlone> left_alone_, shared_;
};

}  // namespace zoneproof::field
