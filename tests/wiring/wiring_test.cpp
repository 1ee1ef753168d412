#include "wiring/wiring.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "drawing/faults.hpp"
#include "drawing/specimen.hpp"
#include "large_site.hpp"
#include "messages/wiring.hpp"
#include "site/file.hpp"
#include "wiring/drawn_circuit.hpp"
#include "wiring/read_set.hpp"

namespace zoneproof::wiring {

namespace {

constexpr double kApart_mm = 2.4;  // the grid is 2.5 mm

site::Site read_text(const std::string& text) {
  site::ReadResult read = site::read_site(text, "test");
  if (!read.site) throw std::runtime_error(read.messages.empty() ? "no site" : full_text(read.messages.front()));
  return std::move(*read.site);
}

site::Site demo(const std::string& name) {
  std::ostringstream text;
  text << std::ifstream(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + name + ".site.json").rdbuf();
  return read_text(text.str());
}

std::vector<drawing::Sheet> drawn(const site::Site& site, const Options& options = {}) {
  return wiring_of_site(drawing::test_ruler(), site, options);
}

/// Sheets on which wires are conductors: not the overviews, whose lines stand for cables.
std::vector<drawing::Sheet> of_conductors(const std::vector<drawing::Sheet>& all) {
  std::vector<drawing::Sheet> kept;
  for (const drawing::Sheet& sheet : all) {
    const std::string& id = sheet.name.id;
    const bool single_line = id.starts_with("wiring-overview-") || id.starts_with("wiring-network-");
    if (!single_line) kept.push_back(sheet);
  }
  return kept;
}

std::string shown(const std::vector<Conductor>& conductors) {
  std::string says;
  for (const Conductor& conductor : conductors) {
    for (const std::string& name : conductor) says += name + " ";
    says += "\n";
  }
  return says;
}

void expect_sound(const std::vector<drawing::Sheet>& sheets) {
  drawing::Document document;
  document.created = "2026-03-01T12:00:00Z";
  document.sheets = sheets;
  EXPECT_EQ(drawing::faults(document), std::vector<std::string>());
  for (const drawing::Sheet& sheet : sheets) {
    EXPECT_EQ(hard_to_read(sheet, kApart_mm), std::vector<std::string>()) << sheet.name.id;
    EXPECT_EQ(nets_of(read(sheet)).faults, std::vector<std::string>()) << sheet.name.id;
  }
}

/// What is joined in one and not in the other.
void expect_joins_the_same(const site::Site& site, const std::vector<drawing::Sheet>& sheets) {
  const std::vector<Conductor> seen = conductors_on(site, of_conductors(sheets));
  const std::vector<Conductor> known = with_two_ends(conductors_of(site));
  std::vector<Conductor> only_seen, only_known;
  std::set_difference(seen.begin(), seen.end(), known.begin(), known.end(), std::back_inserter(only_seen));
  std::set_difference(known.begin(), known.end(), seen.begin(), seen.end(), std::back_inserter(only_known));
  EXPECT_EQ(shown(only_seen), "") << "drawn, and not in the site";
  EXPECT_EQ(shown(only_known), "") << "in the site, and not drawn";
  EXPECT_GT(seen.size(), site.zones.size());
}

}  // namespace

class DemoWiring : public testing::TestWithParam<const char*> {};

TEST_P(DemoWiring, EverySheetCanBeRead) { expect_sound(drawn(demo(GetParam()))); }

/// The longest name that a file may have, of the widest letters and without a place to break it.
TEST_P(DemoWiring, TheLongestNamesHaveRoom) {
  const auto text = site::write_site(demo(GetParam()));
  nlohmann::ordered_json json = nlohmann::ordered_json::parse(text);
  constexpr std::size_t longest = 200;
  for (auto& collection : json) {
    if (!collection.is_object()) continue;
    for (auto& thing : collection)
      if (thing.is_object() && thing.contains("name")) thing["name"] = std::string(longest, 'W');
  }
  expect_sound(drawn(read_text(json.dump())));
}

TEST_P(DemoWiring, WiresJoinWhatTheSiteJoins) {
  const site::Site site = demo(GetParam());
  expect_joins_the_same(site, drawn(site));
}

TEST_P(DemoWiring, LetterAndA3CanBeReadToo) {
  const site::Site site = demo(GetParam());
  for (const drawing::Format format : {drawing::landscape(drawing::kLetter), drawing::landscape(drawing::kA3)}) {
    Options options;
    options.format = format;
    const std::vector<drawing::Sheet> sheets = drawn(site, options);
    expect_sound(sheets);
    expect_joins_the_same(site, sheets);
  }
}

TEST_P(DemoWiring, ItsPartsAreTheWhole) {
  const site::Site site = demo(GetParam());
  std::size_t count = wiring_overview(drawing::test_ruler(), site, {}).size();
  for (const auto& [id, unit] : site.units) {
    const std::vector<drawing::Sheet> sheets = wiring_of_unit(drawing::test_ruler(), site, id, {});
    expect_sound(sheets);
    count += sheets.size();
  }
  EXPECT_EQ(count, drawn(site).size());
}

INSTANTIATE_TEST_SUITE_P(Sites, DemoWiring,
                         testing::Values("kiln-yard", "kiln-yard-corrected", "tern-hollow", "saltmarsh"),
                         [](const auto& tested) {
                           std::string name = tested.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

/// The longest colours that a core or two joined ones have, everywhere.
void colour_all(site::Site& site) {
  const auto colour = [](auto& cores) { cores.core_colour = "GNYE+WHBU", cores.return_core_colour = "BN"; };
  for (auto& entry : site.zones) colour(entry.second.loop);
  for (auto& entry : site.triggers) colour(entry.second);
  for (auto& entry : site.units) colour(entry.second.feed), entry.second.arming.core_colour = "GY";
  for (auto& entry : site.detectors) colour(entry.second.feed);
  for (auto& entry : site.panels) colour(entry.second.feed);
  for (auto& entry : site.loads) colour(entry.second.feed);
  for (auto& entry : site.junctions) colour(entry.second.feed);
  for (auto& entry : site.bonds) entry.second.core_colour = "GNYE";
  for (auto& entry : site.shared_returns) entry.second.core_colour = "OG";
}

TEST(Wiring, ColoursOfCoresMeetNothing) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const unsigned zones = 4 + seed * 11 % 30;
    site::Site site = read_text(large::site_text(zones, seed));
    colour_all(site);
    SCOPED_TRACE(site.name);
    expect_sound(drawn(site));
    if (testing::Test::HasFailure()) return;
  }
  site::Site saltmarsh = demo("saltmarsh");
  colour_all(saltmarsh);
  expect_sound(drawn(saltmarsh));
}

TEST(Wiring, OfAHundredGeneratedSitesCanBeReadAndJoinsWhatTheyJoin) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    const unsigned zones = 4 + seed * 37 % 57;
    const site::Site site = read_text(large::site_text(zones, seed));
    const std::vector<drawing::Sheet> sheets = drawn(site);
    SCOPED_TRACE(site.name);
    expect_sound(sheets);
    expect_joins_the_same(site, sheets);
    if (testing::Test::HasFailure()) return;
  }
}

std::size_t times_said(const std::vector<drawing::Sheet>& sheets, const std::string& words) {
  std::size_t times = 0;
  for (const drawing::Sheet& sheet : sheets)
    drawing::each(
        sheet.content, [](const drawing::Shape&) {},
        [&](const drawing::TextLine& line) { times += line.content == words ? 1 : 0; });
  return times;
}

// Drawn like a wire without a fuse, it would be taken for one; drawn with one, as well.
TEST(Wiring, AFuseOrACableThatNobodyKnowsIsThereToBeFilledIn) {
  for (const char* name : {"kiln-yard", "tern-hollow", "saltmarsh"}) {
    site::Site site = demo(name);
    const std::string fuse = text(say::wiring_fuse_unknown()), cable = text(say::wiring_cable_unknown());
    EXPECT_EQ(times_said(drawn(site), fuse), 0U);
    EXPECT_EQ(times_said(drawn(site), cable), 0U);
    const auto forget = [](site::Feed& feed) {
      if (feed.from.known()) feed.fuse_A = {}, feed.cable = {};
    };
    for (auto& entry : site.units) forget(entry.second.feed), entry.second.arming.cable = {};
    for (auto& entry : site.panels) forget(entry.second.feed);
    for (auto& entry : site.loads) forget(entry.second.feed);
    for (auto& entry : site.junctions) forget(entry.second.feed);
    for (auto& entry : site.detectors) forget(entry.second.feed);
    for (auto& entry : site.zones)
      if (entry.second.loop.cable.known()) entry.second.loop.cable = {};
    for (auto& entry : site.triggers) entry.second.cable = {};
    SCOPED_TRACE(name);
    const std::vector<drawing::Sheet> sheets = drawn(site);
    expect_sound(sheets);
    expect_joins_the_same(site, sheets);
    EXPECT_GE(times_said(sheets, fuse), site.units.size() + site.panels.size() + site.loads.size());
    EXPECT_GE(times_said(sheets, cable), site.units.size() + site.panels.size() + site.loads.size());
    std::size_t wires = 0;
    for (auto& entry : site.bonds) {
      if (!entry.second.kind.is(site::BondKind::wire)) continue;
      entry.second.cable = {};
      ++wires;
    }
    const std::vector<drawing::Sheet> without_bonds = drawn(site);
    expect_sound(without_bonds);
    EXPECT_GE(times_said(without_bonds, cable), times_said(sheets, cable) + wires);
  }
}

// The contact of a relay pulls against the resistor: which way that pulls nobody may guess (docs/methods/arming.md).
TEST(Wiring, ThePoleOfARelayThatArmsIsToldWhereItIsKnown) {
  site::Site site = demo("kiln-yard");
  site::Part relay;
  relay.kind.value = site::PartKind::output;
  relay.output = site::OutputSpec{};
  relay.output->kind.value = site::OutputKind::relay;
  site.parts["relay"] = relay;
  site.outputs.at("output_1").part.id = "relay";
  site::Arming& arming = site.units.at("unit").arming;
  const auto told = [&](const std::string& pole) {
    return times_said(drawn(site), text(say::wiring_pole(site.panels.at("panel").name, pole)));
  };
  const std::string plus = text(say::wiring_plus()), minus = text(say::wiring_minus());
  const std::string unknown = text(say::wiring_unknown());
  arming.pullup_to.value = site::Level::high;
  const std::size_t others = told(plus);
  EXPECT_EQ(told(minus), 1U);
  EXPECT_EQ(told(unknown), 0U);
  arming.pullup_to.value = site::Level::low;
  EXPECT_EQ(told(plus), others + 1);
  arming.pullup_to.value.reset();
  EXPECT_EQ(told(unknown), 1U);
  EXPECT_EQ(told(plus), others);
  EXPECT_EQ(told(minus), 0U);
  arming.pullup_ohm = site::Value::absent();
  EXPECT_EQ(told(minus), 1U) << "without a resistor the panel's negative";
}

TEST(Wiring, AReadingStandsBesideItsTerminal) {
  const site::Site site = demo("kiln-yard");
  Options options;
  options.readings = {{"panel-in3", "2.31 V"},
                      {"unit-in3", "2.29 V"},
                      {"unit-arming", "11.9 V"},
                      {"unit-plus", "13.6 V"},
                      {"d_shop-plus", "13.1 V"}};
  const std::vector<drawing::Sheet> sheets = drawn(site, options);
  expect_sound(sheets);
  for (const auto& [terminal, figure] : options.readings) {
    bool found = false;
    const std::string id = "terminal-" + terminal;
    const std::function<void(const drawing::Group&)> look = [&](const drawing::Group& group) {
      if (group.name.id == id)
        drawing::each(
            group, [](const drawing::Shape&) {},
            [&](const drawing::TextLine& text) { found = found || text.content == figure; });
      for (const drawing::Item& item : group.items)
        if (const auto* inner = std::get_if<drawing::Group>(&item.what)) look(*inner);
    };
    for (const drawing::Sheet& sheet : sheets) look(sheet.content);
    EXPECT_TRUE(found) << terminal;
  }
}

TEST(Wiring, TheReaderSeesAWireThatIsMissingOrLiesWrong) {
  const site::Site site = demo("kiln-yard");
  std::vector<drawing::Sheet> sheets = drawn(site);
  bool cut = false;
  const std::function<void(drawing::Group&)> look = [&](drawing::Group& group) {
    for (drawing::Item& item : group.items) {
      if (auto* inner = std::get_if<drawing::Group>(&item.what)) look(*inner);
      auto* shape = std::get_if<drawing::Shape>(&item.what);
      if (cut || shape == nullptr || !shape->name.id.starts_with("wire-z3-first")) continue;
      shape->path.front().pieces.front().to.y += 5.0;
      cut = true;
    }
  };
  for (drawing::Sheet& sheet : sheets) look(sheet.content);
  ASSERT_TRUE(cut);
  EXPECT_NE(conductors_on(site, of_conductors(sheets)), with_two_ends(conductors_of(site)));
}

TEST(Wiring, AUnitThatTheSiteDoesNotHaveIsRefused) {
  EXPECT_THROW(wiring_of_unit(drawing::test_ruler(), demo("kiln-yard"), "no_such_unit", {}), std::invalid_argument);
}

TEST(Wiring, NothingAtAllIsNoSheet) { EXPECT_TRUE(drawn(site::Site{}).empty()); }

}  // namespace zoneproof::wiring
