#pragma once
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>
#include <vector>

#include "proof/chains.hpp"
#include "site/model.hpp"

/// The demo sites and their faults as the tests read them: from the files under data/demo/, in the formats that
/// data/demo/README.md describes.
namespace zoneproof::demo {

/// Names of the files of `folder` under data/demo/ that end in `ending`, without it, sorted.
std::vector<std::string> names(const std::string& folder, const std::string& ending);

/// The bytes of a file under data/demo/, and the same as JSON; throw std::runtime_error where it cannot be read.
std::string bytes(const std::string& file);
nlohmann::ordered_json json(const std::string& file);

/// Reads a site from its text; throws std::runtime_error with every message where it has an error.
site::Site site_of(const std::string& text, const std::string& name);

/// The demo sites by their names.
site::Site kiln_yard();
site::Site tern_hollow();

/// What a link of a zone's chain comes to: the verdict's word, "no_chain" where the zone has none; and the ids of the
/// checks that have this verdict.
struct LinkVerdict {
  std::string verdict = "no_chain";
  std::vector<std::string> checks;
};
using Verdicts = std::map<std::pair<std::string, std::string>, LinkVerdict>;  ///< by zone and link

/// The proof of a site, as the command makes it.
proof::Proof prove(const site::Site& site);
/// All electrical answers of a site and its views, joined into chains: what remedies of the wiring speak of.
proof::Proof prove_wiring(const site::Site& site);

/// One entry for each link of each zone, chains or not.
Verdicts verdicts_of(const site::Site& site, const proof::Proof& proof);

/// What is written down for a scenario as it stands (SCENARIO.expected.json); another test holds the sites to it.
Verdicts expected_verdicts(const std::string& scenario);

}  // namespace zoneproof::demo
