// What a fault leaves without supply: where the contacts of a dark detector stand, who sees that, and who misses a
// unit. No outside reference says what a data sheet says; what the circuit makes of it is held against a network that
// is solved anew, and the released contact against ngspice (fault_test.cpp).
#include "electric/fault_dark.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "electric/demo_site.hpp"
#include "electric/fault_check.hpp"
#include "electric/fault_view.hpp"

namespace zoneproof::electric {
namespace {

using site::MissedBy;
using site::WithoutSupply;

/// One fault, looked at in the states of some zones.
FaultAnswer fault_of(const site::Site& site, const std::string& id, const std::set<std::string>& zones) {
  const FaultAnalysis analysis = analyse_faults(site, {{id}, zones});
  if (analysis.faults.size() != 1) throw std::runtime_error("no fault " + id);
  return analysis.faults.front();
}

std::optional<WithoutSupply>& without_supply(site::Site& site, const std::string& part, const std::string& contact) {
  return site.parts.at(part).detector->contacts.at(contact).without_supply.value;
}

const FaultLoss* loss(const FaultAnswer& answer, const std::string& zone, FaultEffect effect) {
  const auto found = std::find_if(answer.losses.begin(), answer.losses.end(),
                                  [&](const FaultLoss& one) { return one.zone == zone && one.effect == effect; });
  return found == answer.losses.end() ? nullptr : &*found;
}

bool says(const FaultAnswer& answer, const std::string& code, const std::string& words) {
  return std::any_of(answer.noticed.begin(), answer.noticed.end(), [&](const Message& message) {
    return message.code == code && text(message).find(words) != std::string::npos;
  });
}

bool asks_for(const FaultAnswer& answer, const std::string& pointer) {
  return std::any_of(answer.gaps.begin(), answer.gaps.end(),
                     [&](const chain::Gap& gap) { return gap.pointer == pointer && gap.reason == "unknown"; });
}

// --- contacts of a detector -----------------------------------------------------------------------------------------

// Kiln Yard, shop: the PIR holds its alarm contact closed while it runs. Cut off, the contact opens, the alarm resistor
// stands in the loop, and the panel shows zone 2 in alarm: seen at once. The alarm of the zone is lost all the same.
TEST(DarkDetector, IsNoticedWhereItsContactOpens) {
  const FaultAnswer answer = fault_of(demo_site("kiln-yard"), "d_shop.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::noticed);
  EXPECT_TRUE(says(answer, "notice_panel_reads", "Zone 2 (Shop) shows alarm at rest"));
  EXPECT_NE(loss(answer, "z2", FaultEffect::alarm_lost), nullptr) << "the panel cannot tell it from a burglar";
  EXPECT_TRUE(answer.gaps.empty());
}

// The same with a relay that only the alarm pulls in: at rest it is released, with supply and without. Nothing shows.
TEST(DarkDetector, IsSilentWhereItsContactStaysAsItIs) {
  site::Site site = demo_site("kiln-yard");
  without_supply(site, "pir_wide_12m", "alarm") = WithoutSupply::closed;
  const FaultAnswer answer = fault_of(site, "d_shop.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::alarm_lost);
  EXPECT_TRUE(answer.noticed.empty());
  EXPECT_NE(loss(answer, "z2", FaultEffect::alarm_lost), nullptr);
  EXPECT_EQ(loss(answer, "z2", FaultEffect::supervision_lost), nullptr) << "the lid switch needs no supply";
}

TEST(DarkDetector, LosesItsTamperContactWhereThatNeedsSupply) {
  site::Site site = demo_site("kiln-yard");
  without_supply(site, "pir_wide_12m", "alarm") = WithoutSupply::closed;
  without_supply(site, "pir_wide_12m", "tamper") = WithoutSupply::closed;
  EXPECT_NE(loss(fault_of(site, "d_shop.feed_plus/open", {"z2"}), "z2", FaultEffect::supervision_lost), nullptr);
  without_supply(site, "pir_wide_12m", "tamper") = WithoutSupply::open;  // in series with the pair: as if it were cut
  const FaultAnswer answer = fault_of(site, "d_shop.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::noticed);
  EXPECT_TRUE(says(answer, "notice_panel_reads", "Zone 2 (Shop) shows tamper at rest"));
}

// Contacts that need no supply report as before, so nothing is lost (a vibration contact in a powered housing, say).
TEST(DarkDetector, LosesNothingWhereItsContactsNeedNoSupply) {
  site::Site site = demo_site("kiln-yard");
  without_supply(site, "pir_wide_12m", "alarm") = WithoutSupply::unaffected;
  EXPECT_EQ(fault_of(site, "d_shop.feed_plus/open", {"z2"}).effect, FaultEffect::harmless);
}

TEST(DarkDetector, IsOpenWhereNobodySaysWhatItsContactsDo) {
  for (const char* contact : {"alarm", "tamper"}) {
    site::Site site = demo_site("kiln-yard");
    without_supply(site, "pir_wide_12m", "alarm") = WithoutSupply::closed;  // known, it would show nothing
    without_supply(site, "pir_wide_12m", contact).reset();
    const FaultAnswer answer = fault_of(site, "d_shop.feed_plus/open", {"z2"});
    EXPECT_EQ(answer.effect, FaultEffect::unanswered) << contact;
    EXPECT_TRUE(asks_for(answer, std::string("/parts/pir_wide_12m/detector/contacts/") + contact + "/without_supply"));
  }
}

// A contact that welds closed does not open without supply either: of two things wrong at once nothing is said here,
// but the fault keeps its own contact when a dead supply would move it.
TEST(DarkDetector, LeavesAStuckContactAsItIs) {
  const site::Site site = demo_site("kiln-yard");
  const SolvedSite solved(site, whole_site(site, SupplyCondition::mains, {}, true));
  SingleFault stuck;
  for (const SingleFault& fault : single_faults(site, solved.circuit())) {
    if (fault.id == "z2.contact.d_shop_alarm/stuck_closed") stuck = fault;
  }
  ASSERT_FALSE(stuck.id.empty());
  FaultWork work;
  const Dark dark{{"d_shop"}, {}, {}};
  const auto held = dark_contacts(site, wired_contacts(site), solved.circuit().wiring.network, dark).changes;
  ASSERT_EQ(held.size(), 1U) << "the alarm contact alone: the tamper contact needs no supply";
  const Bystanders everybody(solved);
  const auto z2_reads = [&](const SingleFault& fault) {
    FaultySite faulty(solved, fault, work);
    faulty.hold(held);
    const SiteView view = faulty.view(everybody);
    const auto moved = view.panel.find("z2");  // who is not in it sees what he saw
    return moved == view.panel.end() ? solved.view({}, work).panel.at("z2") : moved->second;
  };
  EXPECT_EQ(z2_reads(SingleFault{}), site::Reading::alarm);
  EXPECT_EQ(z2_reads(stuck), site::Reading::secure);
}

// Saltmarsh, freezer B aisle: the beam hangs on thin cores. Broken, it is dark at once and its relay releases: the zone
// shows alarm. With one bad joint that happens on battery only; by then it shows, and not before.
TEST(DarkDetector, IsNoticedOnBatteryWhereItIsDarkOnBatteryOnly) {
  site::Site site = demo_site("saltmarsh");
  EXPECT_EQ(fault_of(site, "d_fb_aisle.feed_plus/open", {"z30"}).effect, FaultEffect::noticed);
  const FaultAnswer joint = fault_of(site, "d_fb_aisle.feed_plus/drifted", {"z30"});
  EXPECT_EQ(joint.effect, FaultEffect::noticed);
  EXPECT_TRUE(says(joint, "notice_in_condition", "Zone 30 (Freezer B aisle) shows alarm at rest"));
  const FaultLoss* lost = loss(joint, "z30", FaultEffect::alarm_lost);
  ASSERT_NE(lost, nullptr);
  for (const SupplyCondition supply : lost->conditions) EXPECT_NE(supply, SupplyCondition::mains);

  without_supply(site, site.detectors.at("d_fb_aisle").part.id, "alarm") = WithoutSupply::closed;
  for (const char* id : {"d_fb_aisle.feed_plus/open", "d_fb_aisle.feed_plus/drifted"}) {
    EXPECT_EQ(fault_of(site, id, {"z30"}).effect, FaultEffect::alarm_lost) << id;
  }
}

// Tern Hollow: the relays of the wireless receiver are pulled in by an alarm, so a dead receiver looks like a quiet
// one. The panel has its alarms by radio; the unit gets none of them.
TEST(DarkDetector, AReceiverThatIsDeadLosesPicturesSilently) {
  site::Site site = demo_site("tern-hollow");
  const std::set<std::string> zones = {"z6", "z7"};
  const FaultAnswer answer = fault_of(site, "d_receiver.feed_plus/open", zones);
  EXPECT_EQ(answer.effect, FaultEffect::picture_lost);
  for (const std::string& zone : zones) EXPECT_NE(loss(answer, zone, FaultEffect::picture_lost), nullptr) << zone;
  // Relays that are held while there is no alarm let go: the unit sends pictures for ever, and an alarm adds nothing.
  for (const char* relay : {"relay1", "relay2"}) without_supply(site, "receiver_relay_4", relay) = WithoutSupply::open;
  const FaultAnswer held = fault_of(site, "d_receiver.feed_plus/open", zones);
  EXPECT_EQ(held.effect, FaultEffect::noticed);
  EXPECT_TRUE(says(held, "notice_unit_triggers", "Zone 6 (Attic)"));
  for (const std::string& zone : zones) EXPECT_NE(loss(held, zone, FaultEffect::picture_lost), nullptr) << zone;
}

// A detector with more than its highest voltage may do anything: no field says what.
TEST(DarkDetector, WithTooMuchVoltageIsOpen) {
  Unsupplied now;
  now.all = {"d_shop", "d_store"};
  now.too_high = {"d_store"};
  const Dark dark = newly_dark(demo_site("kiln-yard"), {}, now);
  EXPECT_EQ(dark.detectors, std::set<std::string>{"d_shop"});
  ASSERT_EQ(dark.gaps.size(), 1U);
  EXPECT_EQ(dark.gaps.front().pointer, "/detectors/d_store");
}

/// The panel's reading of a zone, and the unit's, by a solution of its own of the network with the changes in it.
FaultySite::Seen anew(const circuit::Network& network, const std::vector<circuit::Change>& changes,
                      const ZoneWatch& watch) {
  const std::vector<double> all = circuit::solve(circuit::changed(network, changes)).voltage;
  std::vector<double> voltages;
  for (const circuit::Node node : watch.nodes) voltages.push_back(all[static_cast<std::size_t>(node)]);
  Volts volts(voltages);
  return {watch.panel_right(volts), watch.pictured(volts)};
}

// One detector dark goes by the formula, all of an output by a network with their contacts in it: both as solved anew.
TEST(FaultySite, HoldsContactsAsAFreshSolutionShows) {
  const site::Site site = demo_site("kiln-yard");
  const SolvedSite rest(site, whole_site(site, SupplyCondition::mains, {}, true));
  const circuit::Network& network = rest.circuit().wiring.network;
  std::vector<std::string> quiet;
  for (const auto& [id, trigger] : site.triggers) quiet.push_back(id);
  const std::set<std::string> all = {"d_shop", "d_office", "d_workshop", "d_kiln_room", "d_store", "d_back_window"};
  FaultWork work;
  int in_alarm = 0;
  for (const std::set<std::string>& detectors : {std::set<std::string>{"d_shop"}, all}) {
    FaultySite faulty(rest, SingleFault{}, work);
    const auto held = dark_contacts(site, wired_contacts(site), network, Dark{detectors, {}, {}}).changes;
    ASSERT_EQ(held.size(), detectors.size());
    faulty.hold(held);
    for (const auto& [zone, entry] : site.zones) {
      for (const site::Reading reading : {site::Reading::secure, site::Reading::alarm}) {
        const ZoneWatch watch = zone_watch(site, rest.watch(), zone, {reading}, quiet);
        const FaultySite::Seen expected = anew(network, held, watch),
                               seen = faulty.look(Movement(rest, {}, watch), watch);
        EXPECT_EQ(seen.panel_right, expected.panel_right) << zone;
        EXPECT_EQ(seen.pictured, expected.pictured) << zone;
        in_alarm += reading == site::Reading::alarm && seen.panel_right ? 1 : 0;
      }
    }
  }
  EXPECT_EQ(in_alarm, 1 + 6) << "each of them opens its zone's alarm contact";
}

// --- who misses a unit ----------------------------------------------------------------------------------------------

// Kiln Yard: the station polls the unit. Cut off, it sends no picture of any zone, and within the poll time that is
// known; without the poll time nobody can say how soon.
TEST(DarkUnit, IsMissedByAStationThatPollsIt) {
  site::Site site = demo_site("kiln-yard");
  FaultAnswer answer = fault_of(site, "unit.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::noticed);
  EXPECT_TRUE(says(answer, "notice_station_misses", "The station misses Video unit within 15 min"));
  EXPECT_NE(loss(answer, "z2", FaultEffect::picture_lost), nullptr);
  site.units.at("unit").poll_s.state = site::Value::State::unknown;
  answer = fault_of(site, "unit.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::unanswered);
  EXPECT_TRUE(asks_for(answer, "/units/unit/poll_s"));
}

// By a poll that may come late the latest counts.
TEST(DarkUnit, IsMissedAfterTheLongestPoll) {
  site::Site site = demo_site("kiln-yard");
  site.units.at("unit").poll_s.high = 1800.0;
  EXPECT_TRUE(says(fault_of(site, "unit.feed_plus/open", {"z2"}), "notice_station_misses", "within 30 min"));
}

TEST(DarkUnit, IsSilentWhereNobodyMissesIt) {
  site::Site site = demo_site("kiln-yard");
  site.units.at("unit").missed_by.value = MissedBy::nobody;
  const FaultAnswer answer = fault_of(site, "unit.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::picture_lost);
  EXPECT_TRUE(answer.noticed.empty());
  // What else the same fault does may still be seen: without its supply the panel is dark too.
  EXPECT_EQ(fault_of(site, "panel_supply/dead", {"z2"}).effect, FaultEffect::noticed);
}

TEST(DarkUnit, IsSeenOnTheZoneThatItsContactHolds) {
  site::Site site = demo_site("kiln-yard");
  site.units.at("unit").missed_by.value = MissedBy::zone;
  FaultAnswer answer = fault_of(site, "unit.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::unanswered);
  EXPECT_TRUE(asks_for(answer, "/units/unit/missed_zone"));
  site.units.at("unit").missed_zone.id = "z8";
  answer = fault_of(site, "unit.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::noticed);
  EXPECT_TRUE(says(answer, "notice_zone_misses", "Zone 8 (Back window)"));
  // A panel that is dark itself shows nothing.
  Unsupplied unsupplied;
  unsupplied.all = {"panel", "unit"};
  EXPECT_TRUE(missed_units(site, Dark{{}, {"unit"}, {}}, unsupplied).noticed.empty());
}

// Unit and PIR hang on one branch. On battery the unit is without supply anyway, and the PIR goes dark silently; on
// mains somebody may miss the unit, and then nothing is silent: what is not known on mains leaves all of it open.
TEST(DarkUnit, ThatMayBeMissedOnMainsLeavesWhatIsLostOnBatteryOpen) {
  site::Site site = demo_site("kiln-yard");
  without_supply(site, "pir_wide_12m", "alarm") = WithoutSupply::closed;
  site::Feed& unit = site.units.at("unit").feed;
  site::Feed& shop = site.detectors.at("d_shop").feed;
  site.junctions["branch"].feed = unit;
  unit.cable.id = "none";
  for (site::Feed* feed : {&unit, &shop}) {
    feed->from.id = "branch";
    feed->output.clear();
  }
  site.parts.at(site.units.at("unit").part.id)
      .unit->supply_min_V.replace_with(site::Value::exactly(12.8, site::Origin::data_sheet));
  const std::string broken = "branch.feed_plus/open";
  EXPECT_EQ(fault_of(site, broken, {"z2"}).effect, FaultEffect::noticed) << "the station misses the unit on mains";
  site.units.at("unit").missed_by.value = MissedBy::nobody;
  const FaultAnswer silent = fault_of(site, broken, {"z2"});
  EXPECT_EQ(silent.effect, FaultEffect::alarm_lost);
  EXPECT_TRUE(silent.gaps.empty());
  site.units.at("unit").missed_by.value.reset();
  EXPECT_EQ(fault_of(site, broken, {"z2"}).effect, FaultEffect::unanswered);
}

TEST(DarkUnit, IsOpenWhereNobodySaysWhoMissesIt) {
  site::Site site = demo_site("kiln-yard");
  site.units.at("unit").missed_by.value.reset();
  const FaultAnswer answer = fault_of(site, "unit.feed_plus/open", {"z2"});
  EXPECT_EQ(answer.effect, FaultEffect::unanswered);
  EXPECT_TRUE(asks_for(answer, "/units/unit/missed_by"));
}

}  // namespace
}  // namespace zoneproof::electric
