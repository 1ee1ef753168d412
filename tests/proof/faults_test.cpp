// Every fault file changes exactly the verdicts that it says, and no others.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_patch.hpp"
#include "base/json_text.hpp"
#include "electric/fault_check.hpp"
#include "proof/demo.hpp"

namespace zoneproof::demo {
namespace {

using Json = nlohmann::ordered_json;

class Fault : public testing::TestWithParam<std::string> {
 protected:
  void SetUp() override {
    file_ = "faults/" + GetParam() + ".fault.json";
    fault_ = json(file_);
  }
  std::string scenario() const { return fault_.at("scenario").get<std::string>(); }

  std::string file_;
  Json fault_;
};

TEST_P(Fault, is_in_canonical_form_and_says_what_is_wrong) {
  EXPECT_EQ(write_json(fault_), bytes(file_));
  EXPECT_EQ(fault_.at("format"), "zoneproof-fault");
  EXPECT_EQ(fault_.at("version"), 1);
  EXPECT_FALSE(fault_.at("says").get<std::string>().empty());
  EXPECT_FALSE(fault_.at("patch").empty());
}

/// What differs from the verdicts that are written down for the scenario, against what the file says that differs.
void expect_these_changes(const Json& said_changes, const Verdicts& before, const Verdicts& after) {
  Json changes = Json::array();
  for (const auto& [key, now] : after) {
    const auto then = before.find(key);
    const std::string was = then == before.end() ? "no_chain" : then->second.verdict;
    if (was == now.verdict) continue;
    changes.push_back({{"zone", key.first}, {"link", key.second}, {"from", was}, {"to", now.verdict}});
  }
  Json said = Json::array();
  for (const Json& change : said_changes) {
    said.push_back({{"zone", change.at("zone")},
                    {"link", change.at("link")},
                    {"from", change.at("from")},
                    {"to", change.at("to")}});
    const LinkVerdict& now = after.at({change.at("zone").get<std::string>(), change.at("link").get<std::string>()});
    EXPECT_THAT(now.checks, testing::IsSupersetOf(change.at("checks").get<std::vector<std::string>>()))
        << change.at("zone") << " " << change.at("link");
  }
  EXPECT_TRUE(same_json(changes, said)) << "changed:\n" << write_json(changes) << "said:\n" << write_json(said);
}

// The question faults looks at nominal values, prove at every corner: what the one misses the other cannot prove.
void expect_lost_is_unproven(const site::Site& site, const Verdicts& verdicts) {
  const auto verdict = [&](const std::string& zone, const char* link) { return verdicts.at({zone, link}).verdict; };
  const electric::FaultAnalysis analysis = electric::analyse_faults(site, {{"no such fault"}, {}});
  for (const electric::FaultLoss& loss : analysis.lost_already) {
    const bool loop = loss.effect != electric::FaultEffect::picture_lost;
    const bool dead_battery = loss.conditions.front() != electric::SupplyCondition::mains;
    if (dead_battery && verdict(loss.zone, "deliver") == "broken") continue;  // a supply belongs to that link
    EXPECT_NE(verdict(loss.zone, loop ? "loop" : "trigger"), "proven")
        << loss.zone << " " << electric::word(loss.effect) << " " << loss.state;
  }
  for (const std::string& zone : analysis.without_alarm) EXPECT_NE(verdict(zone, "loop"), "proven") << zone;
}

TEST_P(Fault, changes_the_verdicts_it_says_and_what_is_lost_already_is_proven_by_nobody) {
  Json document = json(scenario() + ".site.json");
  for (const Message& message : apply_patch(document, fault_.at("patch"))) ADD_FAILURE() << full_text(message);
  const site::Site site = site_of(write_json(document), file_);
  const Verdicts after = verdicts_of(site, prove(site));
  expect_these_changes(fault_.at("changes"), expected_verdicts(scenario()), after);
  expect_lost_is_unproven(site, after);
}

INSTANTIATE_TEST_SUITE_P(all, Fault, testing::ValuesIn(names("faults", ".fault.json")), [](const auto& instance) {
  std::string name = instance.param;
  for (char& c : name) c = c == '-' ? '_' : c;
  return name;
});

}  // namespace
}  // namespace zoneproof::demo
