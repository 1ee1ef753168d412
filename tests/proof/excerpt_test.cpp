// The excerpt of a zone gives the zone's levels as the whole site does: in every state and condition of every demo site
// and every site with one thing wrong, bound by bound. The whole site is the reference; what proves that leaving out is
// allowed at all is the theorem of circuit/reach.hpp, which has tests of its own.
#include "electric/excerpt.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "base/json_patch.hpp"
#include "base/json_text.hpp"
#include "electric/answers.hpp"
#include "electric/arming_check.hpp"
#include "electric/back_feed.hpp"
#include "electric/levels.hpp"
#include "electric/supply_check.hpp"
#include "proof/demo.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"
#include "site/walk.hpp"

namespace zoneproof::electric {
namespace {

constexpr double same_V = 2e-6;  // two enclosures, each within 1e-6 V of the extreme

std::map<std::string, Level> by_name(std::vector<Level> levels) {
  std::map<std::string, Level> named;
  for (Level& level : levels) named.emplace(level.situation.name(), std::move(level));
  return named;
}

bool same_bound(double a, double b) { return a == b || std::abs(a - b) <= same_V || (std::isnan(a) && std::isnan(b)); }

/// How many bounds were held against each other.
long long expect_same(const std::map<std::string, Level>& whole, const std::map<std::string, Level>& part) {
  long long compared = 0;
  for (const auto& [name, level] : part) {
    SCOPED_TRACE(name);
    const auto found = whole.find(name);
    if (found == whole.end()) {
      ADD_FAILURE() << "a situation that the whole site is not in";
      continue;
    }
    const Solved &a = found->second.solved, &b = level.solved;
    EXPECT_EQ(a.gaps.size(), b.gaps.size());
    EXPECT_EQ(a.unknown, b.unknown);
    if (a.cases.size() != b.cases.size()) {
      ADD_FAILURE() << "other quantities";
      continue;
    }
    for (std::size_t q = 0; q < a.cases.size(); ++q) {
      EXPECT_EQ(a.cases[q].trouble, b.cases[q].trouble);
      EXPECT_TRUE(same_bound(a.cases[q].low.bound, b.cases[q].low.bound))
          << a.cases[q].low.bound << " " << b.cases[q].low.bound;
      EXPECT_TRUE(same_bound(a.cases[q].high.bound, b.cases[q].high.bound))
          << a.cases[q].high.bound << " " << b.cases[q].high.bound;
      ++compared;
    }
  }
  return compared;
}

long long compare_zone(const site::Site& site, const Excerpts& excerpts, const std::string& zone) {
  SCOPED_TRACE(zone);
  const site::Site part = excerpts.of_zone(zone);
  EXPECT_EQ(site::triggers_of_zone(site, zone), site::triggers_of_zone(part, zone));
  long long compared = expect_same(by_name(zone_levels(site, zone, "")), by_name(zone_levels(part, zone, "")));
  for (const std::string& trigger : site::triggers_of_zone(site, zone)) {
    SCOPED_TRACE(trigger);
    compared += expect_same(by_name(zone_levels(site, zone, trigger)), by_name(zone_levels(part, zone, trigger)));
  }
  return compared;
}

/// Every `step`th zone: a whole site of fifty zones costs a second a zone.
long long compare_site(const site::Site& site, std::size_t step) {
  const Excerpts excerpts(site);
  long long compared = 0;
  std::size_t index = 0;
  for (const auto& entry : site.zones) {
    if (index++ % step == 0) compared += compare_zone(site, excerpts, entry.first);
  }
  return compared;
}

site::Site demo_site(const std::string& scenario) {
  const std::string file = scenario + ".site.json";
  return demo::site_of(demo::bytes(file), file);
}

TEST(Excerpt, GivesTheLevelsOfKilnYard) { EXPECT_GT(compare_site(demo_site("kiln-yard"), 1), 1000); }
TEST(Excerpt, GivesTheLevelsOfTernHollow) { EXPECT_GT(compare_site(demo_site("tern-hollow"), 2), 500); }
TEST(Excerpt, GivesTheLevelsOfSaltmarsh) { EXPECT_GT(compare_site(demo_site("saltmarsh"), 9), 500); }

/// The zones whose links a fault changes.
TEST(Excerpt, GivesTheLevelsOfSitesWithOneThingWrong) {
  for (const std::string& name : demo::names("faults", ".fault.json")) {
    SCOPED_TRACE(name);
    const auto fault = demo::json("faults/" + name + ".fault.json");
    if (fault.at("scenario") == "saltmarsh") continue;  // costly, and looked at above
    nlohmann::ordered_json document = demo::json(fault.at("scenario").get<std::string>() + ".site.json");
    ASSERT_TRUE(apply_patch(document, fault.at("patch")).empty());
    const site::Site site = demo::site_of(write_json(document), name);
    const Excerpts excerpts(site);
    std::set<std::string> zones;
    for (const auto& change : fault.at("changes")) zones.insert(change.at("zone").get<std::string>());
    if (!zones.empty()) compare_zone(site, excerpts, *zones.begin());
  }
}

/// Verdicts of the worst of each check, with the gaps that leave them open.
using Told = std::map<std::string, std::pair<chain::Verdict, std::set<std::string>>>;

Told told(const std::vector<chain::Evidence>& answers) {
  Told worst;
  for (const chain::Evidence& one : answers) {
    std::set<std::string> gaps;
    for (const chain::Gap& gap : one.gaps) gaps.insert(gap.pointer);
    const std::string key = one.subject + "/" + chain::word(one.link) + "/" + one.id;
    const auto [at, made] = worst.emplace(key, std::pair(one.verdict, gaps));
    if (!made && chain::rank(one.verdict) < chain::rank(at->second.first)) at->second = {one.verdict, gaps};
  }
  return worst;
}

void expect_all_answers(const site::Site& site) {
  const Excerpts excerpts(site);
  for (const auto& entry : site.zones) {
    SCOPED_TRACE(entry.first);
    EXPECT_EQ(told(zone_answers_within(excerpts.of_zone(entry.first), entry.first)),
              told(zone_answers_within(site, entry.first)));
  }
  for (const auto& entry : site.units) {
    SCOPED_TRACE(entry.first);
    const site::Site part = excerpts.of_arming(entry.first);
    EXPECT_EQ(told(check_arming(part, entry.first)), told(check_arming(site, entry.first)));
    EXPECT_EQ(told(check_back_feed(part, entry.first)), told(check_back_feed(site, entry.first)));
  }
  EXPECT_EQ(told(check_supply(excerpts.of_supplies())), told(check_supply(site)));
}

/// Kiln Yard with a supply more, its negative joined to the panel's, with a battery and a junction of its own.
site::Site with_second_supply() {
  site::Site site = demo_site("kiln-yard");
  const std::string first = site::supply_of(site, site.panels.begin()->second.feed);
  site.supplies["second"] = site.supplies.at(first);
  for (const auto& [id, battery] : site::Map<site::Battery>(site.batteries)) {
    if (battery.supply.id != first) continue;
    site.batteries["second_battery"] = battery;
    site.batteries["second_battery"].supply.id = "second";
  }
  const site::Feed& of_panel = site.panels.begin()->second.feed;
  site::Junction& junction = site.junctions["second_box"];
  junction.feed = of_panel;
  junction.feed.from.id = "second";
  site::Bond& bond = site.bonds["second_bond"];
  bond.a.id = first;
  bond.b.id = "second";
  bond.resistance_ohm = site::Value::exactly(0.1, site::Origin::measured);
  return site;
}

TEST(Excerpt, AnswersAsTheWholeSiteDoes) { expect_all_answers(demo_site("kiln-yard")); }

TEST(Excerpt, ADetectorMayHangOnASupplyThatTheZoneDoesNotFeel) {
  site::Site site = with_second_supply();
  auto& detectors = site.detectors;
  const auto fed = std::find_if(detectors.begin(), detectors.end(), [&](const auto& entry) {
    return site.supplies.count(entry.second.feed.from.id) != 0 && entry.second.feed.from.id != "second";
  });
  ASSERT_NE(fed, detectors.end());
  fed->second.feed.from.id = "second";
  expect_all_answers(site);
  fed->second.feed.from.id = "second_box";
  fed->second.feed.output.clear();
  expect_all_answers(site);
}

TEST(Excerpt, AReturnConductorMayEndAtAnotherPanel) {
  site::Site site = with_second_supply();
  const std::string own = site.panels.begin()->first;
  site.panels["other"] = site.panels.at(own);
  site.panels.at("other").feed.from.id = "second";
  site::SharedReturn& shared = site.shared_returns["across"];
  shared.panel.id = "other";
  for (const char* id : {"z1", "z2"}) {
    site.zones.at(id).loop.shared_return.id = "across";
    shared.cable = site.zones.at(id).loop.cable;
  }
  expect_all_answers(site);
}

/// What stands elsewhere is not in it, and changes nothing: one supply of Saltmarsh with all that hangs on it.
TEST(Excerpt, LeavesOutOtherCabinets) {
  const site::Site site = demo_site("saltmarsh");
  const site::Site part = excerpt_of_zone(site, "z1");
  EXPECT_LT(part.supplies.size(), site.supplies.size());
  EXPECT_LT(part.detectors.size(), site.detectors.size());
  EXPECT_LT(part.zones.size(), site.zones.size());
  for (const auto& [id, zone] : part.zones) EXPECT_EQ(zone.loop.contacts.empty(), id != "z1") << id;
  for (const auto& [id, trigger] : part.triggers)
    EXPECT_EQ(trigger.setting.zone_number.known(), trigger.zone.id == "z1") << id;
}

}  // namespace
}  // namespace zoneproof::electric
