#pragma once
#include <set>
#include <string>
#include <vector>

#include "sight/zone_view.hpp"

/// The numbers of blind patches: the same on the plans of all levels, in expected views and wherever else they are
/// told.
namespace zoneproof::sheets {

/// What has one number: a patch of a zone, or all patches on the steps of one stair together. (Each step is a floor of
/// its own to the proof; nobody looks for twenty numbers on a flight.)
struct NumberedPatch {
  int number = 0;
  const sight::ZoneView* view = nullptr;
  std::vector<std::size_t> members;  ///< of the view's patches
  std::string stair;                 ///< on which it lies; empty: on the floor
  sight::Patch patch;                ///< its members as one: areas added up, causes joined, the largest first
};

/// By the numbers of their zones, those without one last.
std::vector<const sight::ZoneView*> in_order_of_zones(const site::Site& site,
                                                      const std::vector<sight::ZoneView>& views);

/// In the order of zones, and of their patches within, from 1. They point into `views`. `zone`: those of it alone, with
/// the numbers that they have among all; empty: all. Others are counted and not copied: pages of single zones ask
/// often.
std::vector<NumberedPatch> numbered_patches(const site::Site& site, const std::vector<sight::ZoneView>& views,
                                            const std::string& zone = {});
/// Those on a level, with the numbers that they have among all; of one zone or of all.
std::vector<NumberedPatch> patches_on_level(const site::Site& site, const std::vector<sight::ZoneView>& views,
                                            const std::string& level, const std::string& zone = {});

/// Which things of the building their causes speak of, and so have to be found on the plan.
std::set<std::string> told_by_causes(const std::vector<NumberedPatch>& patches);

}  // namespace zoneproof::sheets
