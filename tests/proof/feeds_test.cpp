// On which output of its supply a thing hangs is asked for where the supply has several.
#include "proof/feeds.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

TEST(Feeds, AnOutputThatIsNotSaidIsAskedForWhereThereAreSeveral) {
  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  ASSERT_TRUE(check_feeds(site).empty());
  const std::string unit = site.units.begin()->first;
  site::Feed& feed = site.units.at(unit).feed;
  site::SupplySpec& supply = *site.parts.at(site.supplies.at(feed.from.id).part.id).supply;
  feed.output.clear();
  supply.outputs = {{"aux1", supply.outputs.begin()->second}};
  EXPECT_TRUE(check_feeds(site).empty()) << "of one output there is no choice";
  supply.outputs["aux2"] = supply.outputs.begin()->second;
  const std::vector<chain::Evidence> asked = check_feeds(site);
  const auto of_unit = std::find_if(asked.begin(), asked.end(), [&](const auto& e) { return e.subject == unit; });
  ASSERT_NE(of_unit, asked.end());
  EXPECT_EQ(of_unit->verdict, chain::Verdict::unanswered);
  EXPECT_EQ(of_unit->gaps.front().pointer, "/units/" + unit + "/feed/output");
  EXPECT_EQ(of_unit->gaps.front().reason, "unknown");
}

}  // namespace
}  // namespace zoneproof::proof
