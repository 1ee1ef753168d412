// Only what needs no supply may go without; what hangs on a supply has to say on which of its outputs.
#include "proof/feeds.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

class Unfed : public testing::Test {
 protected:
  chain::Evidence of(const std::string& detector) const {
    for (const chain::Evidence& e : check_feeds(site)) {
      if (e.subject == detector) return e;
    }
    ADD_FAILURE() << detector << " is not asked";
    return {};
  }
  site::DetectorSpec& spec(const std::string& detector) {
    return *site.parts.at(site.detectors.at(detector).part.id).detector;
  }
  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
};

TEST_F(Unfed, AContactWorks) {
  const chain::Evidence e = of("d_front_door");
  EXPECT_EQ(e.verdict, chain::Verdict::proven);
  EXPECT_EQ(e.link, chain::Link::sense);
}

TEST_F(Unfed, ADetectorThatDrawsCurrentIsBroken) {
  site.detectors.at("d_office").feed.from.id = "none";
  const chain::Evidence e = of("d_office");
  EXPECT_EQ(e.verdict, chain::Verdict::broken);
  ASSERT_TRUE(e.says);
  EXPECT_EQ(e.says->code, "needs_a_feed");
}

TEST_F(Unfed, WhetherItNeedsASupplyIsAskedForWhereItIsUnknown) {
  spec("d_front_door").current_A.state = site::Value::State::unknown;
  const chain::Evidence e = of("d_front_door");
  EXPECT_EQ(e.verdict, chain::Verdict::unanswered);
  ASSERT_EQ(e.gaps.size(), 1U);
  EXPECT_EQ(e.gaps.front().pointer, spec("d_front_door").current_A.pointer);
  site.detectors.at("d_front_door").part.id.clear();
  EXPECT_EQ(of("d_front_door").gaps.at(0).pointer, "/detectors/d_front_door/part");
}

/// On which output a thing hangs is asked for by its voltage, on the link that its supply belongs to.
TEST(Fed, WithoutAnOutputTheVoltageOfPanelDetectorAndUnitAsksForIt) {
  const site::Site whole = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  const auto asked = [](const site::Site& site, const char* zone, chain::Link link, const std::string& pointer) {
    const Proof proof = demo::prove(site);
    const auto chain =
        std::find_if(proof.chains.begin(), proof.chains.end(), [&](const Chain& c) { return c.zone == zone; });
    for (const chain::Evidence& e : chain->links[static_cast<std::size_t>(link)].evidence) {
      if (e.id != "supply_voltage") continue;
      for (const chain::Gap& gap : e.gaps) {
        if (gap.pointer == pointer) return e.verdict == chain::Verdict::unanswered;
      }
    }
    return false;
  };
  site::Site site = whole;
  site.panels.at("panel").feed.output.clear();
  EXPECT_TRUE(asked(site, "z3", chain::Link::loop, "/panels/panel/feed/output"));
  site = whole;
  site.detectors.at("d_office").feed.output.clear();
  EXPECT_TRUE(asked(site, "z3", chain::Link::sense, "/detectors/d_office/feed/output"));
  site = whole;
  site.units.at("unit").feed.output.clear();
  EXPECT_TRUE(asked(site, "z3", chain::Link::deliver, "/units/unit/feed/output"));
}

}  // namespace
}  // namespace zoneproof::proof
