#include "field/order_of_work.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include "electric/levels.hpp"
#include "field/demo_site.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {
namespace {

class OfTheDemoSites : public testing::TestWithParam<const char*> {
 protected:
  const site::Site site = demo_site(GetParam());
  const OrderOfWork work = order_of_work(site);

  const Step* find(const std::string& id) const {
    const auto found = std::find_if(work.steps.begin(), work.steps.end(), [&](const Step& s) { return s.id == id; });
    return found == work.steps.end() ? nullptr : &*found;
  }
};

TEST_P(OfTheDemoSites, NoStepComesBeforeWhatItDependsOn) {
  std::set<std::string> done;
  for (const Step& step : work.steps) {
    for (const std::string& before : step.after) EXPECT_EQ(done.count(before), 1U) << step.id << " after " << before;
    EXPECT_TRUE(done.insert(step.id).second) << step.id << " twice";
  }
}

TEST_P(OfTheDemoSites, PhasesFollowEachOtherAndEveryStepIsAtOneStop) {
  std::vector<std::size_t> seen;
  for (std::size_t i = 0; i < work.phases.size(); ++i) {
    if (i > 0) {
      EXPECT_LT(work.phases[i - 1].phase, work.phases[i].phase);
    }
    for (const Stop& stop : work.phases[i].stops) {
      EXPECT_FALSE(stop.steps.empty());
      for (std::size_t step : stop.steps) {
        EXPECT_EQ(work.steps.at(step).phase, work.phases[i].phase);
        seen.push_back(step);
      }
    }
  }
  for (std::size_t i = 0; i < seen.size(); ++i) EXPECT_EQ(seen[i], i) << "steps stand in the order of the walk";
  EXPECT_EQ(seen.size(), work.steps.size());
}

// Of several panels a pair may have to wait for its own one to be opened: then the rest is done on a second way round.
TEST_P(OfTheDemoSites, TheBuildingIsWalkedOnceAPhaseAndTwiceWhereSomethingHasToWait) {
  const bool several = site.panels.size() > 1 || site.supplies.size() > 1;
  for (const PhaseOfWork& phase : work.phases) {
    const bool safety_first = phase.phase == Phase::safety || phase.phase == Phase::power_up;
    const bool waits = phase.phase == Phase::dead || phase.phase == Phase::battery;
    const int restoring = several ? 3 : 2;  // mains, readings, and the log once every cover is closed
    const int most = safety_first ? 4 : phase.phase == Phase::restore ? restoring : waits && several ? 2 : 1;
    std::map<std::pair<std::string, std::string>, int> times;
    for (const Stop& stop : phase.stops) ++times[{stop.place.area, stop.place.device}];
    for (const auto& [place, visits] : times) {
      EXPECT_LE(visits, most) << word(phase.phase) << " comes back to " << place.second;
    }
  }
}

TEST_P(OfTheDemoSites, NothingIsTouchedBeforeEveryZoneAndSupplyWasReadAndTheSiteIsOnTest) {
  ASSERT_FALSE(work.steps.empty());
  EXPECT_EQ(work.steps.front().id, "as_found.on_test");
  for (const auto& [id, zone] : site.zones) {
    const bool paired = zone.medium.is(site::Medium::wired) && site::loop_owner(site, id) == id;
    const bool left = zone.type.is(site::ZoneType::fire) || zone.type.is(site::ZoneType::hold_up);
    EXPECT_EQ(find("as_found.zone." + id) != nullptr, paired && !left) << id;
    EXPECT_EQ(find("restore.zone." + id) != nullptr, paired && !left) << id << " is read again at the end";
  }
}

TEST_P(OfTheDemoSites, FireAndHoldUpCircuitsAreLeftAlone) {
  std::set<std::string> alone;
  for (const auto& [id, zone] : site.zones) {
    if (zone.type.is(site::ZoneType::fire) || zone.type.is(site::ZoneType::hold_up)) alone.insert(id);
  }
  for (const std::string& id : alone) {
    EXPECT_EQ(std::count_if(work.left_alone.begin(), work.left_alone.end(),
                            [&](const LeftAlone& left) { return left.zone == id; }),
              1);
  }
  for (const Step& step : work.steps) {
    EXPECT_EQ(alone.count(step.zone), 0U) << step.id;
    EXPECT_EQ(alone.count(step.subject), 0U) << step.id;
    for (const std::string& id : alone) {
      for (const std::string& detector : site::detectors_of_zone(site, id))
        EXPECT_NE(step.subject, detector) << step.id;
      for (const std::string& trigger : site::triggers_of_zone(site, id)) EXPECT_NE(step.subject, trigger) << step.id;
    }
  }
}

TEST_P(OfTheDemoSites, MainsAndBatteriesAreOffBeforeAnOhmmeterTouchesAnything) {
  std::size_t last_safe = 0, first_dead = work.steps.size();
  for (std::size_t i = 0; i < work.steps.size(); ++i) {
    if (work.steps[i].phase == Phase::safety) last_safe = i;
    if (work.steps[i].expected && work.steps[i].expected->unit == "ohm") first_dead = std::min(first_dead, i);
  }
  EXPECT_LT(last_safe, first_dead);
  for (const auto& [id, battery] : site.batteries) {
    if (find("safety.mains." + battery.supply.id) == nullptr) continue;
    ASSERT_NE(find("safety.battery." + id), nullptr) << id;
    EXPECT_FALSE(find("safety.battery." + id)->dangers.empty());
    EXPECT_NE(find("power_up.battery." + id), nullptr) << id << " goes back on";
  }
}

TEST_P(OfTheDemoSites, AFieldWithoutIntervalSaysWhy) {
  for (const Step& step : work.steps) {
    if (!step.expected) continue;
    if (step.expected->blank()) {
      EXPECT_TRUE(!step.expected->gaps.empty() || step.expected->unbounded) << step.id;
    } else {
      EXPECT_LE(step.expected->low.value_or(0.0), step.expected->high.value_or(circuit::infinite)) << step.id;
    }
    EXPECT_FALSE(step.blanks.empty()) << step.id;
  }
}

TEST_P(OfTheDemoSites, EveryAlarmContactIsTrippedOnce) {
  for (const auto& [id, zone] : site.zones) {
    const bool left = zone.type.is(site::ZoneType::fire) || zone.type.is(site::ZoneType::hold_up);
    if (left) continue;
    for (const electric::ZoneState& state : electric::reachable_states(site, id)) {
      if (state.happening != electric::Happening::alarm) continue;
      const std::string step = "zones.alarm." + id + (state.contact.empty() ? "" : "." + state.contact);
      EXPECT_NE(find(step), nullptr) << step;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Scenarios, OfTheDemoSites, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

TEST(AZoneOfUnknownType, IsLeftAloneAndItsStepsComeWithItsType) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z2").type.value.reset();
  for (const Step& step : order_of_work(site).steps) EXPECT_NE(step.zone, "z2") << step.id;
  site.zones.at("z2").type.value = site::ZoneType::intruder;
  const OrderOfWork known = order_of_work(site);
  EXPECT_TRUE(std::any_of(known.steps.begin(), known.steps.end(), [](const Step& s) { return s.zone == "z2"; }));
}

TEST(ALoopOnOnePairWithAFireZone, IsLeftAloneToo) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z3").type.value = site::ZoneType::fire;
  site.zones.at("z3").loop = {};
  site.zones.at("z3").doubled_with.id = "z2";
  const OrderOfWork work = order_of_work(site);
  for (const Step& step : work.steps) EXPECT_TRUE(step.zone != "z2" && step.zone != "z3") << step.id;
  ASSERT_EQ(work.left_alone.size(), 2U);
  EXPECT_EQ(work.left_alone.front().because.code, "left_same_pair");
}

TEST(AWayBackSharedWithAPairThatCarriesAFireZone, IsLeftAloneToo) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z3").type.value = site::ZoneType::fire;
  site.zones.at("z3").loop = {};
  site.zones.at("z3").doubled_with.id = "z2";
  for (const char* zone : {"z2", "z4"}) site.zones.at(zone).loop.shared_return = site::Ref{"back", ""};
  const OrderOfWork work = order_of_work(site);
  for (const Step& step : work.steps)
    EXPECT_NE(step.zone, "z4") << step.id << " would take the fire zone's way back off";
  ASSERT_EQ(work.left_alone.size(), 3U);
  EXPECT_EQ(work.left_alone.back().zone, "z4");
  EXPECT_EQ(work.left_alone.back().because.code, "left_same_return");
}

const Step& step_of(const OrderOfWork& work, const std::string& id) {
  const auto found = std::find_if(work.steps.begin(), work.steps.end(), [&](const Step& s) { return s.id == id; });
  if (found == work.steps.end()) throw std::runtime_error("no step " + id);
  return *found;
}

bool warns(const Step& step, const std::string& code) {
  return std::any_of(step.dangers.begin(), step.dangers.end(), [&](const Message& one) { return one.code == code; });
}

// An ohmmeter on a pair whose detector lives reads a relay that is still drawn.
TEST(ASupplyThatFeedsDetectorsOnly, IsIsolatedBeforeTheirPairsAreMeasured) {
  site::Site site = demo_site("kiln-yard");
  site.supplies["own"] = site.supplies.at("panel_supply");
  site.detectors.at("d_shop").feed.from.id = "own";
  const OrderOfWork work = order_of_work(site);
  const auto at = [&](const std::string& id) { return &step_of(work, id) - work.steps.data(); };
  EXPECT_LT(at("safety.mains.own"), at("dead.loop.z2"));
  EXPECT_LT(at("dead.loop.z2"), at("power_up.mains.own"));
  EXPECT_EQ(step_of(work, "battery.mains_off.own").proves.code, "proves_mains_off_alone") << "no battery is on it";
  EXPECT_EQ(step_of(work, "battery.mains_off.panel_supply").proves.code, "proves_mains_off");
}

TEST(ASupplyOfAHoldUpDetector, IsNotSwitchedOffWithoutAWord) {
  site::Site site = demo_site("kiln-yard");
  site.supplies["own"] = site.supplies.at("panel_supply");
  for (const char* detector : {"d_shop", "d_office"}) site.detectors.at(detector).feed.from.id = "own";
  site.zones.at("z2").type.value = site::ZoneType::hold_up;  // d_shop
  const OrderOfWork work = order_of_work(site);
  for (const char* id : {"safety.mains.own", "battery.mains_off.own", "battery.mains_off.panel_supply"})
    EXPECT_TRUE(warns(step_of(work, id), "danger_others")) << id;
}

TEST(APairWithASharedWayBack, LeaksWithAllWhoShareIt) {
  site::Site site = demo_site("kiln-yard");
  const double alone = step_of(order_of_work(site), "dead.insulation.z2").expected->low.value();
  site.shared_returns["back"].panel.id = "panel";
  site.shared_returns["back"].cable.id = "k_z4";
  for (const char* zone : {"z2", "z3"}) site.zones.at(zone).loop.shared_return = site::Ref{"back", ""};
  // Two wires of a pair of its own; the wires to two zones and one way back, of the same insulation each.
  EXPECT_NEAR(step_of(order_of_work(site), "dead.insulation.z2").expected->low.value(), alone * 2 / 3, 1e-3 * alone);
}

// One cover opens the pair of both zones: that no other zone shows would be promised twice and kept once.
TEST(ACoverOnAPairOfTwoZones, MayShowAsEitherOfThem) {
  int covers = 0;
  for (const Step& step : order_of_work(demo_site("tern-hollow")).steps) {
    const bool cover = step.id.rfind("zones.tamper.z3.", 0) == 0 || step.id.rfind("zones.tamper.z4.", 0) == 0;
    if (cover) {
      ++covers;
      EXPECT_EQ(step.expected_words->code, "expect_panel_pair") << step.id;
    } else if (step.id.rfind("zones.tamper.", 0) == 0) {
      EXPECT_EQ(step.expected_words->code, "expect_panel_alarm") << step.id;
    }
  }
  EXPECT_EQ(covers, 4) << "two covers, told at the input of either zone";
}

TEST(TheNegativeOfAUnit, IsMeasuredOnceItsSupplyPairIsBackOn) {
  const OrderOfWork work = order_of_work(demo_site("kiln-yard"));
  const std::vector<std::string>& after = step_of(work, "dead.negative.unit.panel").after;
  EXPECT_EQ(std::count(after.begin(), after.end(), "dead.pair.unit"), 1);
}

TEST(AnUnknownResistor, LeavesTheFieldsThatRestOnItBlankAndNoOthers) {
  site::Site site = demo_site("kiln-yard");
  site::Value& eol = site.zones.at("z4").loop.eol_ohm;
  const std::string pointer = eol.pointer;
  eol = {};
  eol.pointer = pointer;
  std::map<std::string, bool> blank;
  for (const Step& step : order_of_work(site).steps) {
    if (step.expected) blank[step.id] = step.expected->blank();
  }
  for (const char* id : {"as_found.zone.z4", "dead.loop.z4", "live.rest.z4", "battery.rest.z4"})
    EXPECT_TRUE(blank.at(id)) << id;
  for (const char* id : {"dead.bridge.z4", "as_found.zone.z2", "dead.loop.z2", "live.supply.panel"})
    EXPECT_FALSE(blank.at(id)) << id;
}

TEST(TheTimeToThePicture, IsExpectedWhereTheTimelineTellsIt) {
  const site::Site site = demo_site("kiln-yard");
  chain::Evidence told;
  told.id = "first_picture";
  told.subject = "z1";
  told.bound = 9.5;
  const OrderOfWork work = order_of_work(site, {told});
  for (const Step& step : work.steps) {
    if (step.id == "zones.time.z1") {
      EXPECT_EQ(step.expected->high, 9.5);
    }
    if (step.id == "zones.time.z2") {
      EXPECT_TRUE(step.expected->blank());
    }
  }
}

TEST(TheOrderOfWork, IsTheSameEveryTime) {
  const site::Site site = demo_site("saltmarsh");
  const OrderOfWork first = order_of_work(site), second = order_of_work(site);
  ASSERT_EQ(first.steps.size(), second.steps.size());
  for (std::size_t i = 0; i < first.steps.size(); ++i) {
    EXPECT_EQ(first.steps[i].id, second.steps[i].id);
    if (first.steps[i].expected) {
      EXPECT_EQ(first.steps[i].expected->low, second.steps[i].expected->low);
    }
  }
}

}  // namespace
}  // namespace zoneproof::field
