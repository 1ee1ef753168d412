#include "field/order_of_work.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include "electric/levels.hpp"
#include "electric/naming.hpp"
#include "field/demo_site.hpp"
#include "field/readings.hpp"
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
    const Place* before = nullptr;
    for (const Stop& stop : work.phases[i].stops) {
      EXPECT_FALSE(stop.steps.empty());
      EXPECT_FALSE(before != nullptr && before->area == stop.place.area && before->device == stop.place.device)
          << "nobody walks from " << stop.place.device << " to it";
      before = &stop.place;
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
    const int restoring = several ? 3 : 2;   // mains, readings, and the log once every cover is closed
    const int on_battery = several ? 3 : 2;  // readings, mains of the network, and the clips last
    const int dead = several ? 4 : 3;        // open, bridges on before the walk to the far ends, and off after it
    const int most = safety_first                    ? 4
                     : phase.phase == Phase::restore ? restoring
                     : phase.phase == Phase::dead    ? dead
                     : phase.phase == Phase::install ? 2  // every end of a unit's wires, then its schedule line by line
                     : phase.phase == Phase::battery ? on_battery
                     : phase.phase == Phase::live    ? 2  // and back to what has to settle
                     : phase.phase == Phase::arming ? static_cast<int>(site.partitions.size()) + 1  // one set at a time
                                                    : 1;
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
  std::vector<const site::Feed*> feeds;
  for (const auto& entry : site.panels) feeds.push_back(&entry.second.feed);
  for (const auto& entry : site.units) feeds.push_back(&entry.second.feed);
  for (const site::Feed* feed : feeds)
    EXPECT_NE(find("safety.dead." + site::supply_of(site, *feed)), nullptr) << feed->from.pointer;
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

/// The how manieth step of all it is.
std::ptrdiff_t place_of(const OrderOfWork& work, const std::string& id) {
  return &step_of(work, id) - work.steps.data();
}

bool warns(const Step& step, const std::string& code) {
  return std::any_of(step.dangers.begin(), step.dangers.end(), [&](const Message& one) { return one.code == code; });
}

bool notes(const Step& step, const std::string& code) {
  return std::any_of(step.notes.begin(), step.notes.end(), [&](const Message& one) { return one.code == code; });
}

std::string first_channel(const site::Site& site, const site::Trigger& trigger) {
  for (const auto& [id, channel] : site.channels)
    if (channel.unit.id == trigger.unit.id && channel.number.value == trigger.channel.value) return id;
  return {};
}

// An ohmmeter on a pair whose detector lives reads a relay that is still drawn.
TEST(ASupplyThatFeedsDetectorsOnly, IsIsolatedBeforeTheirPairsAreMeasured) {
  site::Site site = demo_site("kiln-yard");
  site.supplies["own"] = site.supplies.at("panel_supply");
  site.detectors.at("d_shop").feed.from.id = "own";
  const OrderOfWork work = order_of_work(site);
  const auto at = [&](const std::string& id) { return place_of(work, id); };
  EXPECT_LT(at("safety.mains.own"), at("dead.loop.z2"));
  EXPECT_LT(at("dead.loop.z2"), at("power_up.mains.own"));
  EXPECT_EQ(step_of(work, "battery.mains_off.own").proves.code, "proves_mains_off_alone") << "no battery is on it";
  EXPECT_EQ(step_of(work, "battery.mains_off.panel_supply").proves.code, "proves_mains_off");
  // What somebody was told to take off he is told to put back.
  for (const Step& step : work.steps)
    if (notes(step, "note_other_battery")) {
      const std::string source = step.id.substr(std::string("safety.mains.").size());
      EXPECT_TRUE(notes(step_of(work, "power_up.mains." + source), "note_other_battery_back")) << source;
    }
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

// Hands and ohmmeter are on what nobody switched off, if the file does not happen to say what feeds it.
TEST(ASupplyThatTheFileDoesNotName, IsFoundAndMadeDeadAndComesBackAllTheSame) {
  site::Site site = demo_site("kiln-yard");
  site.panels.at("panel").feed.from = {"", "/panels/panel/feed/from"};
  site.detectors.at("d_shop").feed.from = {"", "/detectors/d_shop/feed/from"};
  const OrderOfWork work = order_of_work(site);
  const auto at = [&](const std::string& id) { return &step_of(work, id) - work.steps.data(); };
  for (const std::string of : {"of.panel", "of.", "panel_supply"}) {  // the unit still hangs on the one that is named
    for (const std::string& dead : {"safety.mains." + of, "safety.dead." + (of == "of." ? "of.d_shop" : of)})
      for (const char* touched : {"dead.off.panel", "dead.loop.z2", "dead.pair.unit"})
        EXPECT_LT(at(dead), at(touched)) << dead << " before " << touched;
    EXPECT_LT(at("install.back.panel"), at("power_up.mains." + of));
    EXPECT_LT(at("power_up.mains." + of), at("power_up.panel.panel"));
    EXPECT_LT(at("battery.mains_off." + of), at("restore.mains." + of));
  }
  for (const std::string of : {"of.panel", "of."}) {
    const Step& mains = step_of(work, "safety.mains." + of);
    EXPECT_TRUE(notes(mains, "note_find_supply")) << of;
    EXPECT_TRUE(warns(mains, "danger_others_unknown")) << of;
    EXPECT_LT(at("safety.battery." + of), at("safety.dead." + (of == "of." ? "of.d_shop" : of)));
    EXPECT_LT(at("power_up.battery_alone." + of), at("power_up.battery." + of));
    for (const std::string& reading : {"power_up.mains." + of, "power_up.battery." + of, "live.settled." + of}) {
      ASSERT_TRUE(step_of(work, reading).expected) << reading;
      EXPECT_TRUE(step_of(work, reading).expected->blank()) << "no number of a supply that nobody knows: " << reading;
      EXPECT_FALSE(step_of(work, reading).expected->gaps.empty()) << reading;
    }
  }
  EXPECT_EQ(step_of(work, "safety.dead.of.panel").place.device, "panel") << "it is proven dead where hands will be";
  EXPECT_NE(text(step_of(work, "safety.mains.of.").notes.back()).find(site.detectors.at("d_shop").name),
            std::string::npos);
}

// Two of them may hang on two supplies: that one is dead says nothing of the other.
TEST(SuppliesThatTheFileDoesNotName, AreProvenDeadAtEachDetector) {
  site::Site site = demo_site("kiln-yard");
  for (const char* id : {"d_shop", "d_office"}) site.detectors.at(id).feed.from = {"", "/detectors/x/feed/from"};
  const OrderOfWork work = order_of_work(site);
  for (const char* id : {"d_shop", "d_office"}) {
    const Step& dead = step_of(work, std::string("safety.dead.of.") + id);
    EXPECT_EQ(dead.place.device, id);
    const std::string& name = site.detectors.at(id).name;
    EXPECT_NE(text(dead.what).find(name), std::string::npos) << text(dead.what);
    ASSERT_TRUE(dead.probes);
    EXPECT_NE(text(dead.probes->red).find(name), std::string::npos);
    EXPECT_LT(place_of(work, dead.id), place_of(work, "dead.loop.z2"));
    EXPECT_TRUE(warns(dead, "danger_height")) << "it hangs high";
  }
}

// One that is also of a hold-up zone stays closed: what feeds it is measured where it was found.
TEST(SuppliesThatTheFileDoesNotName, AreProvenDeadWithoutOpeningWhatIsLeftAlone) {
  site::Site site = demo_site("kiln-yard");
  site.detectors.at("d_shop").feed.from = {"", "/detectors/d_shop/feed/from"};
  site.zones.at("z8").type.value = site::ZoneType::hold_up;
  site.zones.at("z8").loop.contacts["beside"] = site.zones.at("z2").loop.contacts.begin()->second;
  const OrderOfWork work = order_of_work(site);
  const Step& dead = step_of(work, "safety.dead.of.d_shop");
  EXPECT_EQ(dead.what.code, "do_prove_dead_of");
  EXPECT_EQ(dead.place.device, "");
  EXPECT_FALSE(warns(dead, "danger_height"));
}

// Whether an unnamed supply has a battery nobody knows: what happens without mains is asked.
TEST(SuppliesThatTheFileDoesNotName, AreAskedWhetherTheyGoOnWithoutMains) {
  site::Site site = demo_site("kiln-yard");
  site.detectors.at("d_shop").feed.from = {"", "/detectors/d_shop/feed/from"};
  const OrderOfWork work = order_of_work(site);
  const Step& off = step_of(work, "battery.mains_off.of.");
  EXPECT_EQ(off.proves.code, "proves_mains_off_perhaps");
  EXPECT_FALSE(off.expected_words) << "that what it feeds goes on is not foretold";
}

// What a battery that nobody listed does is not foretold.
TEST(ASupplyThatMayHaveAnotherBattery, IsNotToldToGoDead) {
  site::Site site = demo_site("kiln-yard");
  site.supplies["own"] = site.supplies.at("panel_supply");
  site.supplies.at("own").batteries_complete.value.reset();
  site.detectors.at("d_shop").feed.from.id = "own";
  EXPECT_EQ(step_of(order_of_work(site), "battery.mains_off.own").proves.code, "proves_mains_off_perhaps");
}

// A plain contact that somebody left without a word on its supply has none to be found.
TEST(ASupplyThatTheFileDoesNotName, IsNotLookedForBehindAContactThatNeedsNone) {
  site::Site site = demo_site("kiln-yard");
  site.detectors.at("d_front_door").feed.from = {"", "/detectors/d_front_door/feed/from"};
  const OrderOfWork work = order_of_work(site);
  EXPECT_TRUE(std::none_of(work.steps.begin(), work.steps.end(),
                           [](const Step& step) { return step.id.rfind("safety.mains.of.", 0) == 0; }));
}

TEST(ASupplyThatMayHaveAnotherBattery, IsLookedAtForIt) {
  site::Site site = demo_site("kiln-yard");
  site.supplies.at("panel_supply").batteries_complete.value = true;
  EXPECT_FALSE(notes(step_of(order_of_work(site), "safety.mains.panel_supply"), "note_other_battery"));
  site.supplies.at("panel_supply").batteries_complete.value.reset();
  EXPECT_TRUE(notes(step_of(order_of_work(site), "safety.mains.panel_supply"), "note_other_battery"));
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
      EXPECT_EQ(step.expected_words->code, "expect_panel_tamper") << step.id;
    } else if (step.id.rfind("zones.alarm.", 0) == 0) {
      EXPECT_EQ(step.expected_words->code, "expect_panel_alarm") << step.id;
    }
  }
  EXPECT_EQ(covers, 4) << "two covers, told at the input of either zone";
}

// Two probes do not reach from room to room; and a plug that is out has no minus to measure at.
TEST_P(OfTheDemoSites, BothProbesOfAWireAreAtTheUnitAndItsFarEndIsBridgedBefore) {
  int wires = 0, arming = 0;
  for (const Step& step : work.steps) {
    const bool wire = step.id.rfind("dead.wire.", 0) == 0, plus = step.id.rfind("dead.plus.", 0) == 0;
    if (!wire && !plus && step.id.rfind("dead.arming.", 0) != 0) continue;
    (wire ? wires : arming) += 1;
    EXPECT_EQ(site.units.count(step.place.device), 1U) << step.id;
    EXPECT_TRUE(notes(step, "note_subtract")) << step.id;
    const auto joined = std::find_if(step.after.begin(), step.after.end(),
                                     [](const std::string& id) { return id.rfind("dead.joined.", 0) == 0; });
    ASSERT_NE(joined, step.after.end()) << step.id;
    const Step* bridge = find(*joined);
    ASSERT_NE(bridge, nullptr) << *joined;
    EXPECT_EQ(bridge->place.device, joined->substr(std::string("dead.joined.").size()));
    if (wire) {
      const site::Trigger& trigger = site.triggers.at(step.subject);
      EXPECT_NE(text(step.what).find(electric::thing_words(site, bridge->place.device)), std::string::npos);
      EXPECT_NE(text(bridge->what).find(electric::zone_words(site, trigger.zone.id)), std::string::npos) << *joined;
    }
  }
  EXPECT_GT(wires, 0);
  EXPECT_GT(arming, 0);
  EXPECT_EQ(find("dead.probes")->expected.has_value(), false) << "what the leads show nobody computes";
}

// Its contact is open without supply: a meter without an end is what is right.
TEST(ALoopThatIsOpenWithoutSupply, IsExpectedToShowNoEnd) {
  const OrderOfWork work = order_of_work(demo_site("tern-hollow"));
  for (const char* id : {"dead.loop.z2", "dead.loop.z5"}) {
    const Expected& open = *step_of(work, id).expected;
    EXPECT_TRUE(open.unbounded) << id;
    EXPECT_FALSE(open.high.has_value()) << id;
    EXPECT_FALSE(open.blank() && open.gaps.size() > 0) << id;
  }
  EXPECT_FALSE(step_of(work, "dead.loop.z3").expected->unbounded) << "a resistor across the contact";
}

TEST(TheNegativeOfAUnit, IsMeasuredWithItsPlugInOnceItsSupplyPairHasNoShort) {
  const OrderOfWork work = order_of_work(demo_site("kiln-yard"));
  const std::vector<std::string>& after = step_of(work, "dead.negative.unit.panel").after;
  EXPECT_EQ(std::count(after.begin(), after.end(), "dead.pair.unit"), 1);
  EXPECT_NE(text(step_of(work, "dead.negative.unit.panel").what).find("put the plug"), std::string::npos);
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

// Pairs are bridged at the panel and read at the far end: panel, one round through the far ends, panel.
TEST_P(OfTheDemoSites, ThePanelIsLeftOnceWithItsBridgesOnAndReadAtEveryFarEndBeforeTheyComeOff) {
  std::map<std::string, std::size_t> at;
  for (std::size_t i = 0; i < work.steps.size(); ++i) at[work.steps[i].id] = i;
  std::size_t read = 0;
  for (const auto& [id, zone] : site.zones) {
    const auto step = at.find("dead.bridge." + id);
    if (step == at.end() || !zone.loop.shared_return.none()) continue;
    ++read;
    EXPECT_LT(at.at("dead.bridges." + zone.panel.id), step->second) << id;
    EXPECT_LT(step->second, at.at("dead.bridges_off." + zone.panel.id)) << id;
    EXPECT_NE(work.steps[step->second].place.device, zone.panel.id) << id;
  }
  EXPECT_GT(read, 0U);
  for (const PhaseOfWork& phase : work.phases) {
    if (phase.phase != Phase::dead || site.panels.size() > 1) continue;
    std::map<std::string, int> visits;
    for (const Stop& stop : phase.stops) ++visits[stop.place.device];
    // To a unit twice, with its wires open and then bridged; to a panel once more, to take the bridges off.
    for (const auto& [device, times] : visits) {
      const int most = site.panels.count(device) != 0 ? 3 : site.detectors.count(device) != 0 ? 1 : 2;
      EXPECT_LE(times, most) << device;
    }
  }
}

TEST(TheLastDetectorOfAPair, IsNamedWhereThereIsOneAndElseSaidToBeUnknown) {
  site::Site site = demo_site("kiln-yard");
  const Step one = step_of(order_of_work(site), "dead.bridge.z2");
  EXPECT_EQ(one.place.device, "d_shop");
  EXPECT_EQ(text(one.what).find("does not tell"), std::string::npos);
  site::LoopContact second = site.zones.at("z2").loop.contacts.begin()->second;
  second.detector.id = "d_office";
  site.zones.at("z2").loop.contacts["second"] = second;
  const Step two = step_of(order_of_work(site), "dead.bridge.z2");
  EXPECT_NE(text(two.what).find("does not tell"), std::string::npos) << text(two.what);
  EXPECT_TRUE(std::any_of(two.blanks.begin(), two.blanks.end(),
                          [](const Blank& blank) { return blank.label.code == "blank_last"; }));
  site.zones.at("z3").loop.contacts_complete.value.reset();
  EXPECT_NE(text(step_of(order_of_work(site), "dead.bridge.z3").what).find("does not tell"), std::string::npos)
      << "there may be another one";
}

TEST(PairsThatShareAWayBack, AreBridgedOneByOne) {
  site::Site site = demo_site("kiln-yard");
  for (const char* zone : {"z2", "z3"}) site.zones.at(zone).loop.shared_return = site::Ref{"back", ""};
  site.shared_returns["back"].panel.id = "panel";
  site.shared_returns["back"].cable.id = "k_z4";
  const OrderOfWork work = order_of_work(site);
  for (const char* id : {"dead.bridge.z2", "dead.bridge.z3"}) EXPECT_EQ(step_of(work, id).what.code, "do_bridge_alone");
  EXPECT_EQ(text(step_of(work, "dead.bridges.panel").what).find("Zone 2"), std::string::npos);
}

// Without these steps the proof is of an installation that nobody was told to make.
TEST_P(OfTheDemoSites, EveryWireIsPutOnAtBothEndsAfterTheDeadChecksAndBeforePower) {
  std::map<std::string, std::size_t> at;
  for (std::size_t i = 0; i < work.steps.size(); ++i) at[work.steps[i].id] = i;
  int landed = 0;
  for (const auto& entry : at) {
    if (entry.first.rfind("dead.wire.", 0) != 0) continue;
    const std::string trigger = entry.first.substr(std::string("dead.wire.").size());
    const Step *source = find("install.source." + trigger), *input = find("install.input." + trigger);
    ASSERT_TRUE(source != nullptr && input != nullptr) << trigger;
    EXPECT_LT(entry.second, at.at(source->id));
    EXPECT_EQ(input->place.device, site.triggers.at(trigger).unit.id);
    EXPECT_NE(source->place.device, "") << trigger;
    EXPECT_NE(text(source->what).find("Where it was on before"), std::string::npos) << "first fitting or not";
    const auto number = std::to_string(*site.triggers.at(trigger).input.value);
    EXPECT_NE(text(input->what).find("input " + number), std::string::npos) << text(input->what);
    const bool blank = std::any_of(source->blanks.begin(), source->blanks.end(),
                                   [](const Blank& one) { return one.label.code == "blank_core"; });
    EXPECT_EQ(blank, site.triggers.at(trigger).core_colour.empty()) << trigger;
    EXPECT_EQ(notes(*input, "note_series"), site.triggers.at(trigger).series_ohm.known()) << trigger;
    EXPECT_EQ(notes(*input, "note_pulldown"), site.triggers.at(trigger).pulldown_ohm.known()) << trigger;
    ++landed;
  }
  EXPECT_GT(landed, 0);
  for (const auto& [id, unit] : site.units) {
    EXPECT_TRUE(notes(*find("install.arming." + id), "note_pullup")) << "10 kohm to plus on every demo site";
    EXPECT_LT(at.at("install.checked." + id), at.at("power_up.plug." + id));
    EXPECT_NE(find("power_up.cameras." + id), nullptr);
    const std::string program = "power_up.program." + unit.arming.output.id;
    EXPECT_LT(at.at("power_up.panel." + site.outputs.at(unit.arming.output.id).panel.id), at.at(program));
    EXPECT_LT(at.at(program), at.at("power_up.plug." + id));
  }
  for (const Step& step : work.steps) {
    if (step.id.rfind("as_found.zone.", 0) == 0 && find("dead.loop." + step.zone) != nullptr) {
      const auto tapped = site::triggers_of_zone(site, step.zone);
      const bool wired = std::any_of(tapped.begin(), tapped.end(),
                                     [&](const auto& id) { return site::has_wire(site.triggers.at(id)); });
      EXPECT_TRUE(wired || !notes(step, "note_found_with_unit")) << step.id;
    }
  }
}

TEST(AsFound, HasTheLevelWithTheUnitWhereItIsThereAlready) {
  const OrderOfWork work = order_of_work(demo_site("kiln-yard"));
  const Step& found = step_of(work, "as_found.zone.z4");
  ASSERT_TRUE(notes(found, "note_found_with_unit"));
}

TEST(AUnitOnNoPanelOfTheSite, HasItsWiresTakenOffAndPutBackAllTheSame) {
  site::Site site = demo_site("kiln-yard");
  site.units["alone"] = site.units.at("unit");
  site.units.at("alone").arming.output.id = "none";
  for (const auto& wanted : {std::pair{"unit", 1}, std::pair{"alone", 1}}) {
    const OrderOfWork work = order_of_work(site);
    const std::string unit = wanted.first;
    std::size_t off = 0, measured = 0, back = 0, plug = 0;
    for (std::size_t i = 0; i < work.steps.size(); ++i) {
      const std::string& id = work.steps[i].id;
      if (id == "dead.off." + unit) off = i;
      if (id == "dead.plus." + unit) measured = i;
      if (id == "install.feed." + unit) back = i;
      if (id == "power_up.plug." + unit) plug = i;
    }
    EXPECT_TRUE(0 < off && off < measured && measured < back && back < plug) << unit;
  }
}

TEST(ADetectorInCommonWithAHoldUpZone, IsNeitherTrippedNorOpened) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z2").type.value = site::ZoneType::hold_up;
  const auto touches = [](const OrderOfWork& work, const std::string& detector) {
    return std::any_of(work.steps.begin(), work.steps.end(), [&](const Step& step) {
      const bool read_only = step.phase == Phase::as_found || step.phase == Phase::restore;
      return !read_only && (step.place.device == detector || step.subject == detector);
    });
  };
  EXPECT_TRUE(touches(order_of_work(site), "d_office"));
  site::LoopContact shared = site.zones.at("z3").loop.contacts.begin()->second;  // of d_office
  site.zones.at("z2").loop.contacts["second"] = shared;
  const OrderOfWork work = order_of_work(site);
  EXPECT_FALSE(touches(work, "d_office"));
  for (const Step& step : work.steps) {
    const bool made = step.zone == "z3" && (step.phase == Phase::zones || step.phase == Phase::acknowledgement) &&
                      step.id.rfind("zones.rest.", 0) != 0;
    EXPECT_FALSE(made) << step.id;
  }
  EXPECT_NO_THROW(step_of(work, "live.rest.z3")) << "its levels are read all the same";
  EXPECT_TRUE(std::any_of(work.left_alone.begin(), work.left_alone.end(), [](const LeftAlone& left) {
    return left.zone == "z3" && left.because.code == "left_detector";
  }));
}

// A cover that is opened for the first reading is a tamper, and a sounder may have a battery of its own.
TEST_P(OfTheDemoSites, PeopleAreToldAndSoundersHeldOffBeforeTheFirstReading) {
  ASSERT_GT(work.steps.size(), 3U);
  EXPECT_EQ(work.steps[1].id, "as_found.people");
  EXPECT_EQ(work.steps[2].id, "as_found.sounder");
  const std::string says = text(work.steps[2].what);
  for (const auto& [id, load] : site.loads) {
    const bool sounds = load.part.id == "sounder_external" || load.part.id == "sounder_internal";
    EXPECT_EQ(says.find(load.name + " (" + site::called(site.areas, load.area.id) + ")") != std::string::npos, sounds)
        << id << ": " << says;
  }
  for (const Step& step : work.steps)
    if (step.id.rfind("as_found.zone.", 0) == 0) {
      EXPECT_TRUE(warns(step, "danger_found")) << step.id;
    }
}

TEST_P(OfTheDemoSites, ZonesThatGuardLifeAreNamedWhereTheyGoDeadAndAgreedWhereTheyAreTripped) {
  for (const auto& [id, zone] : site.zones) {
    const std::string words = electric::zone_words(site, id);
    bool named = false;
    for (const Step& step : work.steps) {
      if (step.zone == id && step.id.rfind("zones.alarm.", 0) == 0) {
        EXPECT_EQ(notes(step, "note_agreed"), zone.type.is(site::ZoneType::technical)) << step.id;
      }
      for (const Message& danger : step.dangers)
        named = named || (step.phase == Phase::safety && danger.code == "danger_watched" &&
                          text(danger).find(words) != std::string::npos);
    }
    EXPECT_EQ(named, zone.type.is(site::ZoneType::technical)) << words;
  }
}

// A trapped person's button and a gas warner are dead while their room is worked in.
TEST_P(OfTheDemoSites, WhoWorksWhereAGuardOfLifeIsDeadIsToldSoAtEachStepThere) {
  std::set<std::string> areas;
  for (const auto& [id, zone] : site.zones)
    if (zone.type.is(site::ZoneType::technical))
      for (const std::string& detector : site::detectors_of_zone(site, id))
        areas.insert(site.detectors.at(detector).area.id);
  for (const Step& step : work.steps) {
    if (step.phase != Phase::dead && step.phase != Phase::power_up) continue;
    EXPECT_EQ(warns(step, "danger_alone"), areas.count(step.place.area) != 0) << step.id;
  }
}

TEST_P(OfTheDemoSites, WhereProbesAreOnLiveTerminalsTheStepSaysSo) {
  for (const Step& step : work.steps) {
    const bool dead = step.phase == Phase::safety || step.phase == Phase::dead || step.phase == Phase::power_up;
    if (step.probes && !dead) {
      EXPECT_TRUE(warns(step, "danger_live")) << step.id;
    }
  }
}

TEST_P(OfTheDemoSites, TestAlarmsAreReadOutWhileTheSiteIsStillOnTest) {
  std::map<std::string, std::size_t> at;
  for (std::size_t i = 0; i < work.steps.size(); ++i) at[work.steps[i].id] = i;
  ASSERT_EQ(at.count("off_test.call"), 1U);
  EXPECT_EQ(at.at("off_test.call"), work.steps.size() - 1);
  std::size_t read_out = 0;
  for (const Step& step : work.steps) {
    if (step.phase != Phase::acknowledgement) continue;
    ++read_out;
    EXPECT_EQ(std::count(step.after.begin(), step.after.end(), "arming.time." + step.zone), 1) << step.id;
    const bool pictured = work.steps[at.at("arming.clip." + step.zone)].proves.code != "proves_no_picture";
    EXPECT_EQ(step.proves.code, pictured ? "proves_acknowledged" : "proves_acknowledged_text") << step.id;
    EXPECT_TRUE(std::any_of(step.blanks.begin(), step.blanks.end(),
                            [](const Blank& blank) { return blank.label.code == "blank_account"; }));
  }
  EXPECT_GT(read_out, 0U);
}

// The one at the detector cannot read a meter whose probes are at the unit.
TEST_P(OfTheDemoSites, WhereTheProbesAreAwayFromTheDetectorASecondPersonIsAskedFor) {
  int told = 0;
  for (const Step& step : work.steps) {
    if (step.phase != Phase::zones || !step.probes || site.detectors.count(step.place.device) == 0) continue;
    EXPECT_TRUE(notes(step, "note_two_places")) << step.id;
    ++told;
  }
  EXPECT_GT(told, 0);
  for (const auto& entry : site.units)
    if (const Step* armed = find("arming.armed." + entry.first)) {
      EXPECT_TRUE(notes(*armed, "note_armed"));
    }
}

// The battery has just gone on: what a supply gives onto an empty one is no fault, until it has settled.
TEST(LiveReadings, CountWithABatteryThatHasJustGoneOnUntilTheOutputHasSettled) {
  const site::Site site = demo_site("kiln-yard");
  const OrderOfWork work = order_of_work(site);
  const Expected settled = volts_at(site, "panel", {electric::SupplyCondition::mains});
  const Expected flat = volts_at(site, "panel", {electric::SupplyCondition::mains_flat_battery});
  const Expected& live = *step_of(work, "live.supply.panel").expected;
  ASSERT_FALSE(live.blank());
  EXPECT_DOUBLE_EQ(*live.high, *settled.high);
  EXPECT_LE(*live.low, *flat.low);
  EXPECT_LT(*live.low, *settled.low);
  const Step& wait = step_of(work, "live.settled.panel_supply");
  EXPECT_DOUBLE_EQ(*wait.expected->low, *volts_at(site, "panel_supply", {electric::SupplyCondition::mains}).low);
  EXPECT_EQ(std::count(wait.after.begin(), wait.after.end(), "live.supply.panel"), 1);
  EXPECT_LT(place_of(work, "live.settled.panel_supply"), place_of(work, "zones.rest.z2"));
}

// Just off its charger a healthy battery stands above its rested voltage (common practice, no source for how long).
TEST(ABatteryJustOffItsCharger, IsNoFaultUpToTheChargingVoltageAndNeitherIsOneThatChargesAgain) {
  const site::Site site = demo_site("kiln-yard");
  const site::SupplySpec& supply = *site.parts.at(site.supplies.at("panel_supply").part.id).supply;
  const OrderOfWork work = order_of_work(site);
  const Expected& on_battery = *step_of(work, "battery.supply.panel").expected;
  const Expected rested = volts_at(site, "panel", {electric::SupplyCondition::battery_full});
  const Expected on_mains = volts_at(site, "panel", {electric::SupplyCondition::mains});
  ASSERT_FALSE(on_battery.blank());
  EXPECT_DOUBLE_EQ(*on_battery.low, *rested.low);
  EXPECT_GT(*on_battery.high, *rested.high);
  EXPECT_LE(*on_battery.high, supply.mains_V.high);
  EXPECT_GT(*on_battery.high, *on_mains.low) << "as high as its charger held it";
  const Expected& again = *step_of(work, "restore.supply.panel").expected;
  ASSERT_FALSE(again.blank());
  EXPECT_DOUBLE_EQ(*again.high, *on_mains.high);
  EXPECT_LT(*again.low, *on_mains.low) << "the battery still holds it down";
  const std::string trigger = site::triggers_of_zone(site, "z2").front();
  const std::pair<const char*, electric::SupplyCondition> passing[] = {
      {"battery.rest.z2", electric::SupplyCondition::battery_full},
      {"restore.zone.z2", electric::SupplyCondition::mains}};
  for (const auto& [phase, condition] : passing) {
    const Expected& zone = *step_of(work, phase).expected;
    const Expected settled =
        *zone_readings(site, {"z2", {}, condition, trigger, electric::UnitCondition::powered}).panel;
    ASSERT_FALSE(zone.blank()) << phase;
    EXPECT_LE(*zone.low, *settled.low) << phase;
    EXPECT_GE(*zone.high, *settled.high) << phase;
  }
  EXPECT_EQ(step_of(work, "battery.mains_off.panel_supply").expected_words->code, "expect_mains_gone");
}

TEST(AnUnknownChargingVoltage, LeavesTheReadingsOnBatteryBlank) {
  site::Site site = demo_site("kiln-yard");
  site::Value& volts = site.parts.at(site.supplies.at("panel_supply").part.id).supply->mains_V;
  const std::string pointer = volts.pointer;
  volts = {};
  volts.pointer = pointer;
  const Expected expected = *step_of(order_of_work(site), "battery.supply.panel").expected;
  EXPECT_TRUE(expected.blank());
  EXPECT_TRUE(std::any_of(expected.gaps.begin(), expected.gaps.end(),
                          [&](const chain::Gap& gap) { return gap.pointer == pointer && gap.reason == "unknown"; }));
}

TEST_P(OfTheDemoSites, NoStateOfAStepBearsAnIdOfTheFile) {
  std::set<std::string> ids;
  for (const auto& entry : site.zones)
    for (const auto& contact : entry.second.loop.contacts) ids.insert(contact.first);
  for (const Step& step : work.steps)
    for (const std::string& id : ids)
      if (id.find('_') != std::string::npos) {
        EXPECT_EQ(text(step.state).find(id), std::string::npos) << step.id << ": " << text(step.state);
      }
}

TEST(AUnitOfUnknownPart, HasAnEmptyTimeWithTheReason) {
  site::Site site = demo_site("kiln-yard");
  site.units.at("unit").part.id.clear();
  const Step step = step_of(order_of_work(site), "power_up.unit.unit");
  ASSERT_TRUE(step.expected.has_value());
  EXPECT_TRUE(step.expected->blank());
  EXPECT_FALSE(step.expected->gaps.empty());
}

chain::Evidence check(const std::string& id, chain::Link link, chain::Verdict verdict) {
  chain::Evidence one;
  one.id = id;
  one.subject = "z5";
  one.link = link;
  one.verdict = verdict;
  return one;
}

// `clip` says of an intruder zone "disarmed: neither alarm nor clip": tripped then it would prove nothing.
TEST_P(OfTheDemoSites, APictureIsTriedWithItsZonesPartitionSetAloneAndLevelsAndCoversDisarmed) {
  std::string set;  // the partition that is armed just now
  std::set<std::string> tried;
  for (const Step& step : work.steps) {
    if (step.id.rfind("arming.set.", 0) == 0) {
      EXPECT_EQ(set, "") << step.id;
      set = step.subject;
      EXPECT_TRUE(std::any_of(step.blanks.begin(), step.blanks.end(),
                              [](const Blank& blank) { return blank.label.code == "blank_tripper"; }));
    }
    if (step.id.rfind("arming.unset.", 0) == 0) {
      EXPECT_EQ(set, step.subject) << step.id;
      set.clear();
    }
    const bool time = step.id.rfind("arming.time.", 0) == 0, clip = step.id.rfind("arming.clip.", 0) == 0;
    if (time || clip) {
      EXPECT_EQ(set, site.zones.at(step.zone).partition.id) << step.id;
      EXPECT_NE(text(step.state).find(site.partitions.at(set).name + " armed"), std::string::npos) << text(step.state);
      tried.insert(step.zone);
      const bool entry = site.zones.at(step.zone).type.is(site::ZoneType::entry_exit);
      EXPECT_EQ(time && notes(step, "note_entry_time"), time && entry) << step.id;
    } else if (step.zone != "" && step.expected) {
      EXPECT_EQ(set, "") << step.id << " is read disarmed";
    }
    EXPECT_TRUE(step.id.rfind("zones.time.", 0) != 0 && step.id.rfind("zones.clip.", 0) != 0)
        << step.id << ": every unit of the demo sites records only while armed";
  }
  EXPECT_EQ(set, "");
  EXPECT_FALSE(tried.empty());
}

// A 24-hour zone alarms while disarmed; its picture comes then only from a unit that no wire arms.
TEST(AZoneThatAlwaysAlarms, IsTriedDisarmedWhereItsUnitAlwaysRecords) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z5").type.value = site::ZoneType::twenty_four_hour;
  const OrderOfWork wired = order_of_work(site);
  EXPECT_TRUE(notes(step_of(wired, "arming.time.z5"), "note_alarm_alone"));
  EXPECT_FALSE(notes(step_of(wired, "arming.time.z4"), "note_alarm_alone"));
  site.units.at("unit").arming.output = site::Ref{"none", ""};
  ASSERT_TRUE(site.units.at("unit").arming.output.none());
  const OrderOfWork always = order_of_work(site);
  EXPECT_EQ(step_of(always, "zones.time.z5").state.code, "state_alarm_plain");
  EXPECT_EQ(step_of(always, "arming.time.z4").state.code, "state_alarm_armed") << "its panel alarms only then";
  EXPECT_NO_THROW(step_of(always, "acknowledgement.zone.z5"));
}

TEST(AUnitThatIsNotArmedWithAZone, PromisesNoPictureOfIt) {
  const OrderOfWork work = order_of_work(
      demo_site("kiln-yard"), {{"z5", {check("armed_with_zone", chain::Link::trigger, chain::Verdict::broken)}}});
  EXPECT_EQ(step_of(work, "arming.time.z5").expected_words->code, "expect_no_picture");
  EXPECT_EQ(step_of(work, "arming.clip.z5").proves.code, "proves_no_picture");
  EXPECT_EQ(step_of(work, "acknowledgement.zone.z5").proves.code, "proves_acknowledged_text");
}

// Nobody trips at the panel what a camera sees elsewhere.
TEST(AZoneOfACamerasOwnAnalytics, IsTrippedInItsPicture) {
  site::Site site = demo_site("saltmarsh");
  EXPECT_EQ(step_of(order_of_work(site), "arming.time.z48").place.device, "d_north_fence")
      << "it stands in the picture";
  site.zones.at("z48").loop.contacts.clear();
  EXPECT_EQ(step_of(order_of_work(site), "arming.time.z48").place.device, "c_north_fence");
}

TEST(AClipOfSeveralCameras, IsExpectedToShowAllOfThem) {
  site::Site site = demo_site("kiln-yard");
  site::Trigger& trigger = site.triggers.at("t2");
  std::string other;
  for (const auto& [id, channel] : site.channels)
    if (channel.number.value != trigger.channel.value && !channel.live_only.yes() &&
        channel.camera.id != site.channels.at(first_channel(site, trigger)).camera.id)
      other = id;
  ASSERT_FALSE(other.empty());
  trigger.more_channels = {{other, "/triggers/t2/more_channels/0"}};
  const OrderOfWork work = order_of_work(site);
  const Message& both = *step_of(work, "arming.clip.z2").expected_words;
  EXPECT_EQ(both.code, "expect_clip");
  for (const std::string& channel : {first_channel(site, trigger), other})
    EXPECT_NE(text(both).find(electric::thing_words(site, site.channels.at(channel).camera.id)), std::string::npos)
        << text(both);
  trigger.more_channels.push_back({"", "/triggers/t2/more_channels/1"});
  EXPECT_EQ(step_of(order_of_work(site), "arming.clip.z2").expected_words->code, "expect_clip_and_more");
}

// A clip that comes on mains says nothing of the night on which they fail.
TEST_P(OfTheDemoSites, AClipOfEachUnitIsTriedWithTheMainsOfItsWholeWayOff) {
  std::set<std::string> off;
  for (const Step& step : work.steps) {
    if (step.id.rfind("battery.network_off.", 0) == 0 || step.id.rfind("battery.mains_off.", 0) == 0)
      off.insert(step.subject);
    if (step.id.rfind("battery.clip.", 0) != 0) continue;
    for (const auto& entry : site.backups) EXPECT_EQ(off.count(entry.first), 1U) << step.id;
    for (const auto& entry : site.supplies) EXPECT_EQ(off.count(entry.first), 1U) << step.id;
    EXPECT_EQ(step.expected_words->code, "expect_clip") << step.id;
  }
  for (const auto& entry : site.units) EXPECT_NE(find("battery.clip." + entry.first), nullptr) << entry.first;
  for (const auto& entry : site.backups) EXPECT_NE(find("restore.network." + entry.first), nullptr) << entry.first;
}

// What the backups hold is for the clip, not for the time that the readings take.
TEST_P(OfTheDemoSites, TheMainsOfTheNetworkGoOnceEveryReadingOnBatteryIsTaken) {
  bool network = false;
  for (const Step& step : work.steps) {
    if (step.phase != Phase::battery) continue;
    network = network || step.id.rfind("battery.network_off.", 0) == 0;
    EXPECT_FALSE(network && step.expected && step.id.rfind("battery.clip.", 0) != 0) << step.id;
  }
}

// A survey that has not found the panel of a zone yet still has its order of work.
TEST(AZoneOfAnUnknownPanel, IsMeasuredOnceEverythingIsDead) {
  site::Site site = demo_site("kiln-yard");
  const std::string zone = site.zones.begin()->first;
  site.zones.at(zone).panel = {};
  const OrderOfWork work = order_of_work(site);
  int dead = 0;
  for (const Step& step : work.steps) {
    if (step.id.rfind("safety.dead.", 0) != 0) continue;
    EXPECT_LT(place_of(work, step.id), place_of(work, "dead.loop." + zone));
    ++dead;
  }
  EXPECT_GT(dead, 0);
}

TEST(ASwitchOnTheMainsAlone, CarriesNoClipWithoutThem) {
  site::Site site = demo_site("kiln-yard");
  site.switches.at("switch").powered_by.id = "none";
  EXPECT_EQ(step_of(order_of_work(site), "battery.network_off.switch").expected_words->code, "expect_network_dead");
}

// People count "2, 10", ids "10, 2".
TEST_P(OfTheDemoSites, ZonesStandInTheOrderOfTheirNumbersAtEachStop) {
  for (const PhaseOfWork& phase : work.phases) {
    if (phase.phase != Phase::as_found && phase.phase != Phase::acknowledgement) continue;
    for (const Stop& stop : phase.stops) {
      long long last = 0;
      for (const std::size_t index : stop.steps) {
        const std::string& zone = work.steps[index].zone;
        if (zone.empty()) continue;
        EXPECT_GT(*site.zones.at(zone).number.value, last) << work.steps[index].id;
        last = *site.zones.at(zone).number.value;
      }
    }
  }
}

TEST(TheTimeToThePicture, IsExpectedWhereTheTimelineTellsIt) {
  const site::Site site = demo_site("kiln-yard");
  chain::Evidence told;
  told.id = "first_picture";
  told.subject = "z1";
  told.bound = 9.5;
  told.verdict = chain::Verdict::proven;
  const OrderOfWork work = order_of_work(site, {{"z1", {told}}});
  for (const Step& step : work.steps) {
    if (step.id == "arming.time.z1") {
      EXPECT_EQ(step.expected->high, 9.5);
    }
    if (step.id == "arming.time.z2") {
      EXPECT_TRUE(step.expected->blank());
    }
  }
}

// A meter that shows what was computed proves nothing where what was computed does not trigger.
TEST(WhatAReadingProves, IsWhatTheProofMakesOfIt) {
  const site::Site site = demo_site("kiln-yard");
  using chain::Verdict;
  const struct {
    Verdict verdict;
    const char* proves;
  } cases[] = {{Verdict::proven, "proves_unit_rest"},
               {Verdict::thin, "proves_unit_thin"},
               {Verdict::broken, "proves_unit_broken"},
               {Verdict::unanswered, "proves_unit_open"}};
  for (const auto& one : cases) {
    const OrderOfWork work =
        order_of_work(site, {{"z5", {check("unit_reads_rest", chain::Link::trigger, one.verdict)}}});
    EXPECT_EQ(step_of(work, "zones.rest.z5").proves.code, one.proves);
    EXPECT_EQ(step_of(work, "zones.rest.z4").proves.code, "proves_unit_reads") << "nobody said anything of it";
    const bool none = one.verdict == Verdict::broken;
    const Step &time = step_of(work, "arming.time.z5"), &clip = step_of(work, "arming.clip.z5");
    EXPECT_EQ(time.expected.has_value(), !none);
    EXPECT_EQ(time.proves.code == "proves_no_picture", none);
    EXPECT_EQ(clip.expected_words->code == "expect_no_picture", none);
  }
}

TEST(AViewThatIsBroken, LeavesThePictureAndSaysWhatItDoesNotShow) {
  const OrderOfWork work =
      order_of_work(demo_site("kiln-yard"), {{"z5", {check("witnessed", chain::Link::view, chain::Verdict::broken)}}});
  EXPECT_EQ(step_of(work, "arming.clip.z5").expected_words->code, "expect_clip");
  EXPECT_EQ(step_of(work, "arming.clip.z5").proves.code, "proves_clip_partly");
  EXPECT_TRUE(step_of(work, "arming.time.z5").expected.has_value());
}

TEST_P(OfTheDemoSites, EveryUnitIsSetBeforeAZoneIsTripped) {
  for (const auto& entry : site.units) {
    const Step* typed = find("power_up.settings." + entry.first);
    ASSERT_NE(typed, nullptr) << entry.first;
    EXPECT_EQ(typed->after, std::vector<std::string>{"power_up.unit." + entry.first});
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

INSTANTIATE_TEST_SUITE_P(Scenarios, OfTheDemoSites, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::field
