#pragma once
#include <functional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/kept_answers.hpp"
#include "site/model.hpp"

namespace zoneproof::electric {

/// Everything electrical that can be said of a site: all evidence, in the order of zones, then units, supplies, loads.
/// `zone` restricts the zone by zone part (empty: all zones). Pure: the same for any number of threads.
/// `progress` is called after each zone, from any thread, with how many are done and of how many; it may be empty.
/// `kept`: answers to variants of this site, that are taken where nothing they rest on has changed; null: none are.
std::vector<chain::Evidence> electrical_answers(const site::Site& site, const std::string& zone = "",
                                                const std::function<void(std::size_t, std::size_t)>& progress = {},
                                                KeptAnswers* kept = nullptr);

/// Loop and triggers of one zone alone.
std::vector<chain::Evidence> zone_answers(const site::Site& site, const std::string& zone);
/// The same in all of the site that is given, which is an excerpt or is to be held against one.
std::vector<chain::Evidence> zone_answers_within(const site::Site& excerpt, const std::string& zone);

}  // namespace zoneproof::electric
