#pragma once
#include <string>
#include <vector>

#include "field/touched.hpp"
#include "site/model.hpp"

/// What is switched off for the work and comes back after it: each supply that the work touches, and, where the site
/// file does not tell what feeds a thing of the work, that supply under the name of the thing. Whether the file knows
/// it or not, nobody puts hands on live terminals.
namespace zoneproof::field {

struct Battery {
  std::string id, words;  ///< of an unnamed supply one entry that stands for each battery there
};

struct Source {
  std::string id;      ///< of the supply; of one that the file does not name "of." and the id of what it feeds
  std::string words;   ///< its name
  std::string device;  ///< where somebody goes for it: the supply itself, else what it feeds; empty: not known
  std::vector<Battery> batteries;
  site::Ref lacks;                 ///< of an unnamed one the reference that nobody filled
  std::vector<std::string> feeds;  ///< detectors that hang on supplies which nobody knows: one each, or one for all
  bool other_battery = false;      ///< it may have one that the file does not name
  bool named() const { return lacks.pointer.empty(); }
};

/// The supplies in id order, then the unnamed ones: of panels, of units, and those of all detectors together.
std::vector<Source> sources_of(const site::Site& site, const Touched& touched);

}  // namespace zoneproof::field
