#pragma once
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/kept_answers.hpp"
#include "electric/levels.hpp"
#include "site/model.hpp"

namespace zoneproof::electric {

/// All levels of a zone, in every condition that the site can be in.
struct LevelsOfZone {
  std::vector<Level> bare;                               ///< without any trigger wire
  std::map<std::string, std::vector<Level>> by_trigger;  ///< with the wire of each of its triggers that has one
};

/// `excerpt`: what the levels are solved in, and point into (excerpt.hpp). Cost: that of zone_levels.
LevelsOfZone levels_of_zone(const site::Site& excerpt, const std::string& zone);

/// Is told the levels of a zone when they have been judged, from any thread: they are large, and gone with the zone's
/// excerpt, so that what is wanted of them is taken out here.
using LevelsSeen = std::function<void(const std::string& zone, const LevelsOfZone& levels)>;

/// Everything electrical that can be said of a site: all evidence, in the order of zones, then units, supplies, loads.
/// `zone` restricts the zone by zone part (empty: all zones). Pure: the same for any number of threads.
/// `progress` is called after each zone, from any thread, with how many are done and of how many; it may be empty.
/// `kept`: answers to variants of this site, that are taken where nothing they rest on has changed; null: none are.
/// `seen`: is told of every zone, so that no zone is answered from `kept`; may be empty.
std::vector<chain::Evidence> electrical_answers(const site::Site& site, const std::string& zone = "",
                                                const std::function<void(std::size_t, std::size_t)>& progress = {},
                                                KeptAnswers* kept = nullptr, const LevelsSeen& seen = {});

/// Loop and triggers of one zone alone.
std::vector<chain::Evidence> zone_answers(const site::Site& site, const std::string& zone);
/// The same in all of the site that is given, which is an excerpt or is to be held against one.
std::vector<chain::Evidence> zone_answers_within(const site::Site& excerpt, const std::string& zone,
                                                 const LevelsSeen& seen = {});

}  // namespace zoneproof::electric
