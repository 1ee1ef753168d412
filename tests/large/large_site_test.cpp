// Generated sites: the same everywhere, and what a site has to be.
#include "large_site.hpp"

#include <gtest/gtest.h>

#include <map>
#include <set>
#include <utility>

#include "base/message.hpp"
#include "carriage/answers.hpp"
#include "electric/answers.hpp"
#include "proof/chains.hpp"
#include "site/file.hpp"
#include "timeline/answers.hpp"

namespace zoneproof::large {
namespace {

/// Of what is drawn: the copies of parts and rulebook change with the shelf.
std::string hash_of_drawn(unsigned zones, std::uint64_t seed) {
  site::ReadResult read = site::read_site(site_text(zones, seed), "generated");
  read.site.value().parts.clear();
  read.site->rulebooks.clear();
  return site::site_hash(*read.site);
}

TEST(LargeSite, IsTheSameBytesOnEveryMachine) {
  EXPECT_EQ(hash_of_drawn(1, 1), "4db732b98ecbcedc1dfc61ab05963bc031932a44c6378924f3d936dae4bd128d");
  EXPECT_EQ(hash_of_drawn(50, 7), "e55a7f15ec7b077747cdc42f92253287f667cb4cbe2b9bb9151f359d382231e0");
  EXPECT_EQ(hash_of_drawn(300, 3), "8c7aab8add29988f965505de5657a9bbded76a869d45ffbec1f9ef9822243358");
}

TEST(LargeSite, AnotherSeedMakesAnotherSite) { EXPECT_NE(site_text(50, 7), site_text(50, 8)); }

TEST(LargeSite, IsReadWithoutAMessageAndHasTheZonesAskedFor) {
  for (const unsigned zones : {1U, 16U, 17U, 50U, 128U, 129U, 1000U}) {
    const std::string text = site_text(zones, zones);
    const site::ReadResult read = site::read_site(text, "generated");
    for (const Message& message : read.messages) ADD_FAILURE() << zones << ": " << full_text(message);
    ASSERT_TRUE(read.site) << zones;
    EXPECT_EQ(read.site->zones.size(), zones);
    EXPECT_EQ(read.site->triggers.size(), zones);
    EXPECT_EQ(site::write_site(*read.site), text) << zones;
  }
}

TEST(LargeSite, HoldsWhatIsHardToProve) {
  const site::ReadResult read = site::read_site(site_text(200, 1), "generated");
  ASSERT_TRUE(read.site);
  const site::Site& site = *read.site;
  EXPECT_EQ(site.panels.size(), 13U);  // 8 on the first panel's bus, 5 on the second's
  EXPECT_EQ(site.units.size(), 13U);
  EXPECT_EQ(site.supplies.size(), 26U);
  EXPECT_EQ(site.bonds.size(), 24U);  // a unit each, and one bus to each expander
  EXPECT_FALSE(site.shared_returns.empty());
  std::set<site::Arrangement> arrangements;
  bool several_contacts = false;
  for (const auto& [id, zone] : site.zones) {
    arrangements.insert(zone.loop.arrangement.value.value());
    several_contacts = several_contacts || zone.loop.contacts.size() > 2;
  }
  EXPECT_GE(arrangements.size(), 4U);
  EXPECT_TRUE(several_contacts);
}

TEST(LargeSite, HasACameraForOneToFourZonesOfAUnit) {
  const site::ReadResult read = site::read_site(site_text(200, 1), "generated");
  ASSERT_TRUE(read.site);
  EXPECT_EQ(read.site->channels.size(), 200U);
  EXPECT_EQ(read.site->switches.size(), 13U);
  EXPECT_EQ(read.site->data_links.size(), 13U + 13U + read.site->cameras.size());  // a tree: upward, units, cameras
  std::map<std::string, unsigned> zones_of_camera;
  std::map<std::string, std::set<std::string>> units_of_camera;
  for (const auto& [id, channel] : read.site->channels) {
    ++zones_of_camera[channel.camera.id];
    units_of_camera[channel.camera.id].insert(channel.unit.id);
  }
  std::set<unsigned> counts;
  for (const auto& [camera, zones] : zones_of_camera) counts.insert(zones);
  EXPECT_EQ(counts, (std::set<unsigned>{1, 2, 3, 4}));
  for (const auto& [camera, units] : units_of_camera) EXPECT_EQ(units.size(), 1U) << camera;
}

/// Two units on supplies of their own: every loop and every trigger holds, in every condition. (One of 200 zones is
/// proven by ./bench: two minutes here would be felt at every test.)
TEST(LargeSite, OfTwentyFourZonesIsProvenInLoopAndTrigger) {
  constexpr std::size_t zones = 24;
  const site::ReadResult read = site::read_site(site_text(zones, 1), "generated");
  ASSERT_TRUE(read.site);
  const proof::Proof proof = proof::join(*read.site, electric::electrical_answers(*read.site));
  ASSERT_EQ(proof.chains.size(), zones);
  std::size_t proven = 0, asked = 0;
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) {
      if (link.link != chain::Link::loop && link.link != chain::Link::trigger) continue;
      ++asked;
      if (link.verdict == chain::Verdict::proven) ++proven;
      EXPECT_NE(link.verdict, chain::Verdict::broken) << chain.zone << " " << chain::word(link.link);
      EXPECT_NE(link.verdict, chain::Verdict::unanswered) << chain.zone << " " << chain::word(link.link);
    }
  }
  EXPECT_EQ(asked, 2 * zones);
  EXPECT_GE(proven * 10, asked * 9);  // mostly sound: nine of ten, the others thin
}

/// Whatever carries the clip of a zone is in what its chain rests on, and holds.
TEST(LargeSite, OfTwentyFourZonesIsProvenInDeliveryHopByHop) {
  constexpr std::size_t zones = 24;
  const site::ReadResult read = site::read_site(site_text(zones, 1), "generated");
  ASSERT_TRUE(read.site);
  const carriage::SiteStorm storm = carriage::storm_of(*read.site);
  std::vector<chain::Evidence> answers = carriage::carriage_answers(*read.site, storm);
  chain::append(answers,
                timeline::timeline_answers(*read.site, "", timeline::carrying_of(carriage::clip_bounds(storm))));
  const proof::Proof proof = proof::join(*read.site, answers);
  ASSERT_EQ(proof.chains.size(), zones);
  std::map<std::string, std::set<std::pair<std::string, std::string>>> proven_hops;  // of each zone: link, who sends
  std::size_t proven = 0;
  for (const proof::Chain& chain : proof.chains) {
    const proof::LinkAnswer& deliver = chain.links[static_cast<std::size_t>(chain::Link::deliver)];
    EXPECT_NE(deliver.verdict, chain::Verdict::unanswered) << chain.zone;
    if (deliver.verdict == chain::Verdict::proven) ++proven;
    for (const chain::Evidence& evidence : deliver.evidence) {
      const bool holds = evidence.verdict == chain::Verdict::proven;
      EXPECT_TRUE(holds || evidence.id == "delivered_password") << chain.zone << ": " << evidence.id;
      if (holds && evidence.id == "hop_load") proven_hops[chain.zone].insert({evidence.subject, evidence.condition});
    }
  }
  EXPECT_GE(proven * 10, zones * 8);  // the others are filmed by a camera with the password that it came with
  ASSERT_EQ(storm.clips.size(), zones);
  for (const carriage::SiteClip& clip : storm.clips) {
    ASSERT_TRUE(clip.flow) << clip.trigger;
    for (const std::size_t hop : storm.storm.flows[*clip.flow].path) {
      const carriage::SiteHop& passed = storm.hops[hop];
      if (passed.from.empty()) continue;  // the uplink, which the moments of the clip speak of
      EXPECT_EQ(proven_hops[read.site->triggers.at(clip.trigger).zone.id].count({passed.thing, passed.from}), 1U)
          << clip.trigger << " over " << passed.thing;
    }
  }
}

}  // namespace
}  // namespace zoneproof::large
