#include "site/relations.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

#include "site/file.hpp"

namespace zoneproof::site {
namespace {

Site demo(const std::string& name) {
  std::ostringstream text;
  text << std::ifstream(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + name + ".site.json").rdbuf();
  ReadResult read = read_site(text.str(), name);
  if (!read.site) throw std::runtime_error("no site " + name);
  return std::move(*read.site);
}

class RelationsOf : public testing::TestWithParam<const char*> {
 protected:
  Site site = demo(GetParam());
};

// Two zones on one pair, contacts, receivers, triggers and detectors that name their zone: each way tells the other.
TEST_P(RelationsOf, ZonesOfDetectorsAreDetectorsOfZonesTheOtherWayRound) {
  std::set<std::pair<std::string, std::string>> one_way, other_way;
  for (const auto& [zone, entry] : site.zones)
    for (const std::string& detector : detectors_of_zone(site, zone)) one_way.emplace(zone, detector);
  for (const auto& [detector, zones] : zones_of_detectors(site)) {
    EXPECT_TRUE(std::is_sorted(zones.begin(), zones.end())) << detector;
    for (const std::string& zone : zones)
      EXPECT_TRUE(other_way.emplace(zone, detector).second) << detector << " twice in " << zone;
  }
  EXPECT_GT(one_way.size(), site.zones.size() / 2);
  EXPECT_EQ(one_way, other_way);
}

TEST_P(RelationsOf, AWireComesFromAThingOfTheSite) {
  for (const auto& [id, trigger] : site.triggers) {
    const std::string source = source_of(site, trigger);
    EXPECT_EQ(source.empty(), !has_wire(trigger)) << id;
    if (!source.empty()) {
      EXPECT_EQ(site.panels.count(source) + site.detectors.count(source), 1U) << id;
    }
  }
  for (auto& [id, trigger] : site.triggers) {
    trigger.source = {};
    EXPECT_EQ(source_of(site, trigger), "") << id << ": of what nobody said nothing is taken for granted";
  }
}

INSTANTIATE_TEST_SUITE_P(Scenarios, RelationsOf, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::site
