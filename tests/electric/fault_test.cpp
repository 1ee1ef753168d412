// Single faults: what is silent on the demo site, and every fault put into an ngspice deck by rules written by hand.
// Source of the reference: ngspice 39 (general circuit simulator), in batch.
#include "electric/fault_check.hpp"

#include <gtest/gtest.h>

#include <unistd.h>
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "electric/deck.hpp"
#include "electric/demo_site.hpp"
#include "electric/fault_remedy.hpp"
#include "electric/fault_view.hpp"
#include "electric/loop.hpp"
#include "site/patch.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {
namespace {

const FaultAnalysis& of_kiln_yard() {
  static const FaultAnalysis analysis = analyse_faults(demo_site("kiln-yard"));
  return analysis;
}

const FaultAnswer& fault(const std::string& id) {
  for (const FaultAnswer& answer : of_kiln_yard().faults) {
    if (answer.fault.id == id) return answer;
  }
  throw std::runtime_error("no fault " + id);
}

bool loses(const FaultAnswer& answer, const std::string& zone, FaultEffect effect) {
  return std::any_of(answer.losses.begin(), answer.losses.end(),
                     [&](const FaultLoss& loss) { return loss.zone == zone && loss.effect == effect; });
}

// The end-of-line resistor of zone 8 sits in the panel: right in every state, and blind to a shorted cable.
TEST(SingleFault, AShortedPairIsSilentWhereTheEndOfLineSitsInThePanel) {
  EXPECT_EQ(fault("z8.far/shorted").effect, FaultEffect::alarm_lost);
  EXPECT_TRUE(loses(fault("z8.far/shorted"), "z8", FaultEffect::alarm_lost));
  for (const char* zone : {"z1", "z2", "z3", "z4", "z6", "z7"}) {
    EXPECT_EQ(fault(std::string(zone) + ".far/shorted").effect, FaultEffect::noticed) << zone;
  }
}

const FaultAnswer& answer_of(const FaultAnalysis& analysis, const std::string& id) {
  for (const FaultAnswer& answer : analysis.faults) {
    if (answer.fault.id == id) return answer;
  }
  throw std::runtime_error("no fault " + id);
}

// Of two zones on a pair each loses its own alarm: a contact of the second that never opens is as silent as one of the
// first.
TEST(SingleFault, TheSecondZoneOfAPairLosesItsAlarmToo) {
  const FaultAnalysis analysis = analyse_faults(
      demo_site("tern-hollow"), {{"z3.contact.prints/stuck_closed", "z3.contact.reading/stuck_closed"}, {"z3", "z4"}});
  const FaultAnswer& second = answer_of(analysis, "z3.contact.prints/stuck_closed");
  EXPECT_EQ(second.effect, FaultEffect::alarm_lost);
  EXPECT_TRUE(loses(second, "z4", FaultEffect::alarm_lost));
  EXPECT_FALSE(loses(second, "z3", FaultEffect::alarm_lost));
  const FaultAnswer& first = answer_of(analysis, "z3.contact.reading/stuck_closed");
  EXPECT_TRUE(loses(first, "z3", FaultEffect::alarm_lost));
  EXPECT_FALSE(loses(first, "z4", FaultEffect::alarm_lost));
}

// Saltmarsh, plant room: the resistor sits in the panel, so a shorted cable is never seen. Zone 12 is wired as it
// should.
TEST(SingleFault, OfSaltmarshTheShortedPairOfZone10IsSilent) {
  const FaultAnalysis analysis =
      analyse_faults(demo_site("saltmarsh"), {{"z10.far/shorted", "z12.far/shorted"}, {"z10", "z12"}});
  EXPECT_EQ(answer_of(analysis, "z10.far/shorted").effect, FaultEffect::alarm_lost);
  EXPECT_TRUE(loses(answer_of(analysis, "z10.far/shorted"), "z10", FaultEffect::alarm_lost));
  EXPECT_EQ(answer_of(analysis, "z12.far/shorted").effect, FaultEffect::noticed);
}

// Saltmarsh, freezer B aisle: the beam of zone 30 hangs on thin cores, and one bad joint takes it below what it works
// at; the PIR of the plant room has room for one. What its contacts do then, its part has to say.
TEST(SingleFault, OfSaltmarshOneBadJointDarkensTheDetectorOfZone30) {
  site::Site site = demo_site("saltmarsh");
  for (auto& [id, contact] : site.parts.at(site.detectors.at("d_fb_aisle").part.id).detector->contacts)
    contact.without_supply.value.reset();
  const FaultAnalysis analysis = analyse_faults(
      site,
      {{"d_fb_aisle.feed_plus/drifted", "d_fb_aisle.feed_plus/open", "d_plant.feed_plus/drifted"}, {"z10", "z30"}});
  for (const char* id : {"d_fb_aisle.feed_plus/drifted", "d_fb_aisle.feed_plus/open"}) {
    const FaultAnswer& answer = answer_of(analysis, id);
    EXPECT_EQ(answer.effect, FaultEffect::unanswered) << id;
    ASSERT_EQ(answer.gaps.size(), 2U) << id << ": alarm and tamper contact";
    for (const chain::Gap& gap : answer.gaps) {
      EXPECT_EQ(gap.pointer.rfind("/parts/beam_pair_60m/detector/contacts/", 0), 0U) << id << " " << gap.pointer;
    }
  }
  EXPECT_EQ(answer_of(analysis, "d_plant.feed_plus/drifted").effect, FaultEffect::harmless);
}

// Every state that a network at rest and a movement stand for is the network that is built for it, in every condition.
TEST(SolvedSite, AMovementIsTheSameInEveryCondition) {
  for (const char* scenario : {"kiln-yard", "tern-hollow"}) {
    const site::Site site = demo_site(scenario);
    const SiteSituation mains = whole_site(site, SupplyCondition::mains, {}, true);
    const SiteCircuit first = build_site_circuit(site, mains);
    int compared = 0;
    for (const auto& [zone, entry] : site.zones) {
      if (site::loop_owner(site, zone) != zone) continue;
      for (const ZoneState& state : reachable_states(site, zone)) {
        SiteSituation moved = whole_site(site, SupplyCondition::mains, {{zone, state}}, true);
        const auto known = movement_of(first, build_site_circuit(site, moved));
        for (const SupplyCondition supply : supply_conditions(site)) {
          if (!known || supply == SupplyCondition::supplies_apart) continue;
          const SiteCircuit rest = build_site_circuit(site, whole_site(site, supply, {}, true));
          moved.supply = supply;
          const auto built = movement_of(rest, build_site_circuit(site, moved));
          const auto same = same_movement(by_name(first, *known), rest);
          ASSERT_TRUE(built && same) << zone << " " << state.name() << " " << word(supply);
          ASSERT_EQ(built->size(), same->size());
          for (std::size_t i = 0; i < same->size(); ++i) {
            EXPECT_EQ((*built)[i].element, (*same)[i].element) << zone << " " << state.name() << " " << word(supply);
            EXPECT_EQ((*built)[i].value, (*same)[i].value) << zone << " " << state.name() << " " << word(supply);
          }
          ++compared;
        }
      }
    }
    EXPECT_GT(compared, 50) << scenario;
  }
}

// What a glance decides, and what is done once for all states of a fault, is what the whole network says after a
// solution of its own.
TEST(FaultySite, SeesWhatAFreshSolutionShows) {
  for (const char* scenario : {"kiln-yard", "tern-hollow"}) {
    const site::Site site = demo_site(scenario);
    const SolvedSite rest(site, whole_site(site, SupplyCondition::battery_cutoff, {}, true));
    const circuit::Network& network = rest.circuit().wiring.network;
    std::vector<std::string> quiet;
    for (const auto& [id, trigger] : site.triggers) quiet.push_back(id);
    FaultWork work;
    std::size_t turn = 0;
    for (const SingleFault& fault : single_faults(site, rest.circuit())) {
      if (fault.kind == FaultKind::dead) continue;
      FaultySite faulty(rest, fault, work);
      for (const auto& [zone, entry] : site.zones) {
        if (site::loop_owner(site, zone) != zone) continue;
        for (const auto& [id, contact] : entry.loop.contacts) {
          const std::string name = zone + ".contact." + id;
          if (name == fault.element || (fault.zone != zone && ++turn % 7 != 0)) continue;  // others: a sample
          const circuit::Change open = circuit::Change::of(*network.find_element(name), circuit::infinite);
          std::vector<circuit::Change> changes = changes_of(fault, network);
          changes.push_back(open);
          const std::vector<double> all = circuit::solve(circuit::changed(network, changes)).voltage;
          const ZoneWatch watch = zone_watch(site, rest.watch(), zone, {site::Reading::alarm}, quiet);
          std::vector<double> voltages;
          for (const circuit::Node node : watch.nodes) voltages.push_back(all[static_cast<std::size_t>(node)]);
          Volts volts(voltages);
          const FaultySite::Seen seen = faulty.look(Movement(rest, {open}, watch), watch);
          EXPECT_EQ(seen.panel_right, watch.panel_right(volts)) << fault.id << " with " << name;
          EXPECT_EQ(seen.pictured, watch.pictured(volts)) << fault.id << " with " << name;
        }
      }
    }
    EXPECT_GT(work.variations, 500) << scenario;
    EXPECT_LT(work.solved_anew, work.variations / 4) << scenario;
  }
}

/// What everybody sees with a fault, by a network of its own: of a dead supply by one that is built with it.
SiteView seen_anew(const site::Site& site, const SiteSituation& situation, const SolvedSite& sound,
                   const SingleFault& fault, FaultWork& work) {
  if (!fault.dead_supply.empty()) {
    SiteSituation dead = situation;
    dead.studied.dead_supply = fault.dead_supply;
    return SolvedSite(site, dead).view({}, work);
  }
  const circuit::Network& network = sound.circuit().wiring.network;
  return view_of(site, sound.watch(), circuit::solve(circuit::changed(network, changes_of(fault, network))).voltage);
}

// Who is told to see nothing else than without the fault sees nothing else, and the others what a network of its own
// shows them: on a site of several cabinets, in which a fault is solved in its own.
TEST(FaultySite, EverybodyAtRestSeesWhatAFreshSolutionShows) {
  for (const char* scenario : {"kiln-yard", "saltmarsh"}) {
    const site::Site site = demo_site(scenario);
    for (const SupplyCondition supply : supply_conditions(site)) {
      const SiteSituation situation = whole_site(site, supply, {}, true);
      const SolvedSite rest(site, situation);
      FaultWork work;
      const Bystanders everybody(rest);
      const SiteView sound = rest.view({}, work);
      LookedAt looked_at;
      for (const PartOfWatch& part : everybody.parts) looked_at.push_back(part.nodes);
      std::size_t told = 0;
      for (const SingleFault& fault : single_faults(site, rest.circuit())) {
        const SiteView expected = seen_anew(site, situation, rest, fault, work);
        const SiteView seen = FaultySite(rest, fault, work, &looked_at).view(everybody);
        told += seen.panel.size();
        for (const auto& [zone, reading] : expected.panel) {
          const auto here = seen.panel.find(zone);
          EXPECT_EQ(here == seen.panel.end() ? sound.panel.at(zone) : here->second, reading) << fault.id << " " << zone;
        }
        for (const auto& [trigger, moves] : expected.triggers) {
          const auto here = seen.triggers.find(trigger);
          EXPECT_EQ(here == seen.triggers.end() ? sound.triggers.at(trigger) : here->second, moves)
              << fault.id << " " << trigger;
        }
        for (const auto& [unit, armed] : expected.armed) {
          const auto here = seen.armed.find(unit);
          EXPECT_EQ(here == seen.armed.end() ? sound.armed.at(unit) : here->second, armed) << fault.id << " " << unit;
        }
        const Unsupplied before = FaultySite(rest, SingleFault{}, work).without_supply();
        EXPECT_EQ(FaultySite(rest, fault, work, &looked_at).without_supply(everybody, before).all,
                  expected.without_supply)
            << fault.id;
      }
      EXPECT_GT(told, 0U) << scenario;
    }
  }
}

// A closed contact hides its resistor: nothing at rest tells that it is open or bridged (walk test only).
TEST(SingleFault, AContactThatNeverOpensIsSilent) {
  EXPECT_EQ(fault("z2.contact.d_shop_alarm/stuck_closed").effect, FaultEffect::alarm_lost);
  EXPECT_EQ(fault("z2.contact.d_shop_tamper/stuck_closed").effect, FaultEffect::supervision_lost);
  EXPECT_EQ(fault("z2.contact.d_shop_alarm/stuck_open").effect, FaultEffect::noticed);
  EXPECT_EQ(fault("z2.alarm.shunt/shorted").effect, FaultEffect::alarm_lost);
}

// The arming wire is pulled up at the unit: without the pull-up the unit takes the site for disarmed.
TEST(SingleFault, AnArmingInputWithoutItsPullUpLosesEveryPicture) {
  EXPECT_EQ(fault("unit.arm_pullup/open").effect, FaultEffect::picture_lost);
  EXPECT_EQ(fault("unit.arm_wire/open").effect, FaultEffect::noticed) << "a cut wire reads armed, by day too";
}

TEST(SingleFault, ADeadPanelSupplyIsNoticed) { EXPECT_EQ(fault("panel_supply/dead").effect, FaultEffect::noticed); }

TEST(SingleFault, IdsAreUniqueAndTheWorstComesFirst) {
  std::set<std::string> ids;
  FaultEffect before = FaultEffect::alarm_lost;
  for (const FaultAnswer& answer : of_kiln_yard().faults) {
    EXPECT_TRUE(ids.insert(answer.fault.id).second) << answer.fault.id;
    EXPECT_LE(before, answer.effect) << answer.fault.id;
    before = answer.effect;
  }
  EXPECT_GT(ids.size(), 150U);
}

/// What a site has lost without any fault: no fault is looked at.
FaultAnalysis without_faults(const site::Site& site) { return analyse_faults(site, {{"no such fault"}, {}}); }

bool lost_already(const FaultAnalysis& analysis, const std::string& zone, FaultEffect effect) {
  return std::any_of(analysis.lost_already.begin(), analysis.lost_already.end(),
                     [&](const FaultLoss& loss) { return loss.zone == zone && loss.effect == effect; });
}

// Kiln Yard, zone 5: its trigger is broken as it stands, so no fault of that zone's wiring can take its picture.
TEST(SingleFault, WhatIsLostWithoutAnyFaultIsToldAndNotCalledHarmless) {
  const FaultAnalysis& analysis = of_kiln_yard();
  ASSERT_EQ(analysis.lost_already.size(), 1U);
  EXPECT_TRUE(lost_already(analysis, "z5", FaultEffect::picture_lost));
  EXPECT_EQ(analysis.lost_already.front().conditions, analysis.conditions);
  long long of_zone_5 = 0;
  for (const FaultAnswer& answer : analysis.faults) {
    const bool concerned = answer.fault.zone == "z5";
    EXPECT_FALSE(concerned && answer.effect == FaultEffect::harmless) << answer.fault.id;
    EXPECT_FALSE(!concerned && answer.effect == FaultEffect::not_judged) << answer.fault.id;
    of_zone_5 += concerned && answer.effect == FaultEffect::not_judged ? 1 : 0;
  }
  EXPECT_GT(of_zone_5, 0);
}

// 22 kilohm where the panel wants 5.6: the zone never reads rest, and its alarm is nothing new to anybody.
TEST(SingleFault, AWrongEndOfLineLeavesNoFaultOfThatZoneHarmless) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z8").loop.eol_ohm.replace_with(site::Value::exactly(22'000.0, site::Origin::measured));
  const FaultAnalysis analysis = analyse_faults(site);
  EXPECT_TRUE(lost_already(analysis, "z8", FaultEffect::alarm_lost));
  for (const FaultAnswer& answer : analysis.faults) {
    EXPECT_FALSE(answer.fault.zone == "z8" && answer.effect == FaultEffect::harmless) << answer.fault.id;
  }
}

TEST(SingleFault, AZoneWithoutAnAlarmContactIsNamed) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z7").loop.contacts.clear();
  EXPECT_EQ(without_faults(site).without_alarm, std::vector<std::string>{"z7"});
  EXPECT_TRUE(without_faults(demo_site("kiln-yard")).without_alarm.empty());
}

TEST(SingleFault, NothingIsLostAlreadyOnSitesThatStandRight) {
  for (const char* name : {"saltmarsh", "tern-hollow"}) {
    const FaultAnalysis analysis = without_faults(demo_site(name));
    EXPECT_TRUE(analysis.lost_already.empty()) << name;
    EXPECT_TRUE(analysis.without_alarm.empty()) << name;
  }
}

TEST(SingleFault, WithoutASupplyEveryAnswerIsOpen) {
  site::Site site;
  site.zones["z1"];
  const FaultAnalysis analysis = analyse_faults(site);
  ASSERT_EQ(analysis.gaps.size(), 1U);
  EXPECT_EQ(analysis.gaps.front().pointer, "/supplies");
}

TEST(SingleFault, WhatIsUnknownLeavesEveryAnswerOpen) {
  site::Site site = demo_site("kiln-yard");
  site.zones.at("z3").loop.arrangement.value.reset();
  const FaultAnalysis analysis = analyse_faults(site);
  EXPECT_FALSE(analysis.gaps.empty());
  for (const FaultAnswer& answer : analysis.faults) EXPECT_EQ(answer.effect, FaultEffect::unanswered);
}

// The remedy is a patch of the site file; the site that it makes shows the fault, and lets nothing else go.
TEST(SingleFault, TheEndOfLineAtTheEndMakesAShortShow) {
  const site::Site site = demo_site("kiln-yard");
  FaultAnalysis analysis = analyse_faults(site);
  try_remedies(site, analysis, site::common_costs());
  const auto found = std::find_if(analysis.faults.begin(), analysis.faults.end(),
                                  [](const FaultAnswer& answer) { return answer.fault.id == "z8.far/shorted"; });
  ASSERT_NE(found, analysis.faults.end());
  ASSERT_EQ(found->remedies.size(), 1U);
  const site::PatchResult patched = site::apply_patch(site, found->remedies.front().patch, "remedy");
  ASSERT_TRUE(patched.site.has_value());
  EXPECT_TRUE(patched.site->zones.at("z8").loop.eol_place.is(site::EolPlace::at_end));
  for (const FaultAnswer& answer : analyse_faults(*patched.site).faults) {
    if (answer.fault.id == "z8.far/shorted") {
      EXPECT_EQ(answer.effect, FaultEffect::noticed);
    }
  }
}

// A short that pulls an input within a normal range without lower limit: a lower limit shows it.
TEST(SingleFault, ALimitOfTheUnitShowsWhatThePanelDoesNotTell) {
  site::Site site = demo_site("kiln-yard");
  for (auto& [id, part] : site.parts) {  // a panel that takes a shorted pair for secure
    if (!part.zone_terminal) continue;
    for (auto& [window, data] : part.zone_terminal->windows) {
      if (data.means.is(site::Reading::shorted)) data.means.value = site::Reading::secure;
    }
  }
  site.zones.at("z2").loop.eol_place.value = site::EolPlace::at_end;
  site.triggers.at("t2").setting.normal_min_V.state = site::Value::State::none;
  FaultAnalysis analysis = analyse_faults(site);
  try_remedies(site, analysis, site::common_costs());
  for (const FaultAnswer& answer : analysis.faults) {
    if (answer.fault.id != "z2.far/shorted") continue;
    EXPECT_EQ(answer.effect, FaultEffect::alarm_lost);
    ASSERT_FALSE(answer.remedies.empty());
    EXPECT_EQ(answer.remedies.front().says.code, "show_by_limit");
  }
}

// Turned round, the arming of the demo site would hide a cut wire: no remedy that makes another fault silent is taken.
TEST(SingleFault, NoRemedyIsTakenThatHidesAnotherFault) {
  const site::Site site = demo_site("kiln-yard");
  FaultAnalysis analysis = analyse_faults(site);
  try_remedies(site, analysis, site::common_costs());
  for (const FaultAnswer& answer : analysis.faults) {
    if (answer.fault.id == "unit.arm_pullup/open") {
      EXPECT_TRUE(answer.remedies.empty());
    }
  }
}

// --- against ngspice ------------------------------------------------------------------------------------------------

/// One operating point asked of ngspice: which elements are altered, which bridges are closed.
struct Point {
  std::string name;
  std::vector<std::pair<std::string, double>> altered;
  std::string bridge;
  std::vector<std::string> taken_off;  ///< loads without a way back
};

/// The circuit lines of one condition of the exported deck; a bridge for each fault that needs one, open.
std::vector<std::string> circuit_lines(const std::string& deck, const std::string& condition,
                                       const std::vector<SingleFault>& faults) {
  std::vector<std::string> lines;
  std::istringstream text(deck);
  std::string line;
  bool inside = false;
  while (std::getline(text, line)) {
    const std::string begins = "circbyline ";
    if (line == begins + condition) inside = true;
    if (!inside || line.rfind(begins, 0) != 0) continue;
    const std::string body = line.substr(begins.size());
    if (body == ".end") break;
    lines.push_back(body);
  }
  for (std::size_t i = 0; i < faults.size(); ++i) {
    if (!faults[i].a.empty())
      lines.push_back("rbridge" + std::to_string(i) + " " + faults[i].a + " " + faults[i].b + " 1e15");
  }
  return lines;
}

/// Resistances as they stand in the circuit lines, by element name.
std::map<std::string, std::string> stated_ohms(const std::vector<std::string>& lines) {
  std::map<std::string, std::string> stated;
  for (const std::string& line : lines) {
    std::istringstream words(line);
    std::string name, a, b, value;
    if (words >> name >> a >> b >> value && (name.front() == 'r' || name.front() == 'i'))
      stated[name.substr(1)] = value;
  }
  return stated;
}

std::vector<std::map<std::string, double>> run(const std::vector<std::string>& lines,
                                               const std::vector<Point>& points) {
  const auto stated = stated_ohms(lines);
  const auto folder = std::filesystem::temp_directory_path() / ("fault_deck_" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  std::ofstream deck(folder / "faults.cir");
  for (const std::string& line : lines) deck << line << "\n";
  deck << ".control\nset noaskquit\nset numdgt=15\n";
  for (const Point& point : points) {
    for (const auto& [element, ohm] : point.altered)
      deck << "alter r" << element << " = " << std::clamp(ohm, 1e-4, 1e15) << "\n";
    if (!point.bridge.empty()) deck << "alter r" << point.bridge << " = 1e-4\n";
    for (const std::string& load : point.taken_off) deck << "alter i" << load << " = 0\n";
    deck << "op\necho point\nprint all\ndestroy all\n";
    for (const auto& [element, ohm] : point.altered)
      deck << "alter r" << element << " = " << stated.at(element) << "\n";
    if (!point.bridge.empty()) deck << "alter r" << point.bridge << " = 1e15\n";
    for (const std::string& load : point.taken_off) deck << "alter i" << load << " = " << stated.at(load) << "\n";
  }
  deck << "quit\n.endc\n.end\n";
  deck.close();
  const std::string command = "ngspice -b " + (folder / "faults.cir").string() + " > " + (folder / "out").string() +
                              " 2> " + (folder / "errors").string();
  EXPECT_EQ(std::system(command.c_str()), 0);
  std::vector<std::map<std::string, double>> all;
  std::ifstream out(folder / "out");
  std::string line;
  while (std::getline(out, line)) {
    if (line == "point") all.emplace_back();
    const std::size_t equals = line.find(" = ");
    if (!all.empty() && equals != std::string::npos)
      all.back()[line.substr(0, equals)] = std::strtod(line.c_str() + equals + 3, nullptr);
  }
  std::filesystem::remove_all(folder);
  return all;
}

bool same(const SiteView& a, const SiteView& b) {
  return a.panel == b.panel && a.triggers == b.triggers && a.armed == b.armed && a.without_supply == b.without_supply;
}

/// Whether anything but what is open touches the node: else nothing says what its voltage is.
bool tied_down(const circuit::Network& network, const std::vector<circuit::Change>& changes, circuit::Node node) {
  const auto now_open = [&](circuit::ElementIndex e) {
    return std::any_of(changes.begin(), changes.end(),
                       [&](const circuit::Change& c) { return c.element == e && c.value == circuit::infinite; });
  };
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    const circuit::Element& element = network.elements()[e];
    if (element.from != node && element.to != node) continue;
    if (element.value.nominal != circuit::infinite && !now_open(static_cast<circuit::ElementIndex>(e))) return true;
  }
  return false;
}

/// A scenario, and the zones whose faults are put into its deck (empty: all). Faults that are no zone's always are.
struct Asked {
  const char* scenario;
  std::set<std::string> zones;
};

/// Of a feed that is broken also with the alarm contact of its detector released, as the contact stands then.
void released(const site::Site& site, const SingleFault& fault, const circuit::Network& network, Point point,
              std::vector<circuit::Change> changes, std::vector<Point>& points,
              std::vector<std::vector<circuit::Change>>& ours) {
  const std::string detector = fault.element.substr(0, fault.element.find(".feed_"));
  if (site.detectors.count(detector) == 0) return;
  for (const auto& [zone, entry] : site.zones) {
    for (const auto& [id, contact] : entry.loop.contacts) {
      const std::string name = zone + ".contact." + id;
      if (contact.detector.id != detector || !contact.role.is(site::ContactRole::alarm)) continue;
      point.name += " with " + name + " released";
      point.altered.emplace_back(name, circuit::infinite);
      changes.push_back(circuit::Change::of(*network.find_element(name), circuit::infinite));
    }
  }
  points.push_back(point);
  ours.push_back(changes);
}

class FaultInNgspice : public testing::TestWithParam<Asked> {};

/// Every fault at rest, and those of a zone also in each of its alarms, in one condition.
TEST_P(FaultInNgspice, IsSeenAsItIsSeenHere) {
  const site::Site site = demo_site(GetParam().scenario);
  const std::set<std::string>& zones = GetParam().zones;
  const SiteSituation situation = whole_site(site, SupplyCondition::mains, {}, true);
  const SolvedSite solved(site, situation);
  const circuit::Network& network = solved.circuit().wiring.network;
  const circuit::Variations variations(network);
  const std::vector<SingleFault> faults = single_faults(site, solved.circuit());
  const std::vector<std::string> lines = circuit_lines(deck(site), "mains/armed", faults);
  const auto stated = stated_ohms(lines);
  ASSERT_GT(lines.size(), 50U);
  std::vector<Point> points;
  std::vector<std::vector<circuit::Change>> ours;
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const SingleFault& fault = faults[i];
    if (fault.kind == FaultKind::dead) continue;
    if (!zones.empty() && !fault.zone.empty() && zones.count(fault.zone) == 0) continue;
    Point point;
    point.name = fault.id;
    if (!fault.element.empty() && stated.count(fault.element) == 0) continue;  // a source of 0 V in the deck
    if (!fault.element.empty()) point.altered.emplace_back(fault.element, fault.ohm);
    if (!fault.a.empty()) point.bridge = "bridge" + std::to_string(i);
    const std::vector<circuit::Change> changes = changes_of(fault, network);
    for (const circuit::Change& change : changes) {  // what is cut off draws nothing
      if (change.element && network.element(*change.element).kind == circuit::Kind::current)
        point.taken_off.push_back(network.element(*change.element).name);
    }
    points.push_back(point);
    ours.push_back(changes);
    if (fault.kind == FaultKind::open) released(site, fault, network, point, changes, points, ours);
    if (fault.zone.empty()) continue;
    for (const auto& [id, contact] : site.zones.at(fault.zone).loop.contacts) {
      const std::string name = fault.zone + ".contact." + id;
      if (name == fault.element) continue;  // stuck
      Point alarm = point;
      alarm.name += " with " + name;
      alarm.altered.emplace_back(name, circuit::infinite);
      points.push_back(alarm);
      ours.push_back(changes);
      ours.back().push_back(circuit::Change::of(*network.find_element(name), circuit::infinite));
    }
  }
  const std::vector<std::map<std::string, double>> theirs = run(lines, points);
  ASSERT_EQ(theirs.size(), points.size());
  for (std::size_t p = 0; p < points.size(); ++p) {
    const circuit::Varied varied = variations.with(ours[p]);
    std::vector<double> reference = varied.voltage;
    for (std::size_t n = 1; n < reference.size(); ++n) {
      const auto found = theirs[p].find(network.node_name(static_cast<circuit::Node>(n)));
      if (std::isnan(reference[n]) || found == theirs[p].end()) continue;
      if (!tied_down(network, ours[p], static_cast<circuit::Node>(n))) continue;
      reference[n] = found->second;
      EXPECT_NEAR(varied.voltage[n], found->second, 2e-3)
          << points[p].name << ": " << network.node_name(static_cast<circuit::Node>(n));
    }
    EXPECT_TRUE(same(view_of(site, solved.watch(), varied.voltage), view_of(site, solved.watch(), reference)))
        << points[p].name;
  }
  EXPECT_GT(points.size(), 300U);
}

// Of Saltmarsh one zone of each kind: a plain one whose end-of-line resistor sits in the panel (10), the one with thin
// supply (30), one that triggers by an output (16), several detectors on a pair (39), several contacts (41), leakage
// (33); and every feed, bond and output of the site. All of it would take minutes.
INSTANTIATE_TEST_SUITE_P(Scenarios, FaultInNgspice,
                         testing::Values(Asked{"kiln-yard", {}}, Asked{"tern-hollow", {}},
                                         Asked{"saltmarsh", {"z10", "z16", "z30", "z33", "z39", "z41"}}),
                         [](const auto& instance) {
                           std::string name = instance.param.scenario;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

}  // namespace
}  // namespace zoneproof::electric
