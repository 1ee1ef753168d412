#pragma once
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "chain/evidence.hpp"
#include "proof/chains.hpp"
#include "remedies/remedy.hpp"
#include "site/model.hpp"

/// Sites for the tests of remedies, made from the demo, and what is asked of every remedy that is told.
namespace zoneproof::remedies {

using Json = nlohmann::ordered_json;
using Pointer = Json::json_pointer;
using chain::Verdict;

site::Site site_of(const Json& json);
/// A demo site with one of its faults.
site::Site faulty(const std::string& name);
Json kiln_yard();

/// A part of the site that is no longer the shelf's.
Json& own_part(Json& site, const std::string& id);
void take_from_shelf(Json& site, const std::string& id);

/// Null where there is none.
const Problem* problem_of(const std::vector<Problem>& problems, const std::string& subject, chain::Link link);
const Remedy* remedy_of(const Problem& problem, Kind kind);
const Refused* refused_of(const Problem& problem, Kind kind);

/// All that is told of a problem, for messages of tests.
std::string listed(const Problem& problem);

/// The patched site, written and read again.
site::Site patched(const site::Site& site, const Remedy& remedy);

using Checks = std::map<std::string, Verdict>;
/// The worst verdict of each check, by "subject/link/check".
Checks checks_of(const proof::Proof& proof);

/// What a remedy says of itself is what a fresh proof of the patched site says, and nothing is worse in it.
void expect_true(const site::Site& site, const Problem& problem, const Remedy& remedy);

/// A remedy of one kind for a problem of the site, and the site that it leaves.
struct Cure {
  Problem problem;
  Remedy remedy;
  site::Site with;
};
/// Asks for the zone's remedies and holds the one of that kind against a fresh proof; a failure of the test, and
/// nothing, where there is none.
std::optional<Cure> true_cure(const site::Site& site, const std::string& zone, const std::string& subject,
                              chain::Link link, Kind kind);

}  // namespace zoneproof::remedies
