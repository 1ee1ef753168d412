// Every fuse is held against what flows through it: that of a consumer, and that of a junction with all that hangs
// behind it. The tree is the one of decks/supply_tree.cir.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "electric/hand_deck.hpp"
#include "electric/supply_check.hpp"

namespace zoneproof::electric {
namespace {

using chain::Evidence;
using chain::Verdict;

/// The supply tree with a fuse before its junction, and the rule that a fuse may be loaded to 75 %.
site::Site tree_with_junction_fuse(const site::Value& fuse) {
  site::Site site = deck_site("supply_tree");
  site.bonds.clear();  // no second way for the unit's current
  site.junctions.at("j").feed.fuse_A = fuse;
  site::RuleEntry share;
  share.value = site::Value::exactly(75.0, site::Origin::standard);
  share.unit = "pct";
  share.verified.value = true;
  site.rulebooks.at("deck_rules").entries["fuse_load_pct"] = share;
  return site;
}

site::Site tree_with_junction_fuse(double ampere) {
  return tree_with_junction_fuse(site::Value::exactly(ampere, site::Origin::measured));
}

const Evidence* fuse_of(const std::vector<Evidence>& all, const std::string& subject) {
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const Evidence& e) { return e.id == "fuse_current" && e.subject == subject; });
  return found == all.end() ? nullptr : &*found;
}

/// Worst on mains back onto a flat battery (11.2 V), by hand: 1.43 ohm that both loads share, 0.82 ohm of the unit
/// alone, 0.02 A of the detector, 4.2 W of the unit. V = 11.2 - 1.43 (I + 0.02) - 0.82 I with I = 4.2 / V.
double through_junction_A() {
  const double open_V = 11.2 - 1.43 * 0.02, ohm = 1.43 + 0.82, watt = 4.2;
  const double unit_V = 0.5 * (open_V + std::sqrt(open_V * open_V - 4.0 * watt * ohm));
  return 0.02 + watt / unit_V;
}

TEST(JunctionFuse, CarriesTheSumOfAllThatHangsBehindIt) {
  const std::vector<Evidence> all = check_supply(tree_with_junction_fuse(1.0));
  const Evidence* found = fuse_of(all, "j");
  ASSERT_NE(found, nullptr);
  EXPECT_EQ(found->verdict, Verdict::proven);
  EXPECT_NEAR(found->value.value(), through_junction_A(), 1e-6);
  EXPECT_NEAR(found->required_margin.value(), 0.25, 1e-12);
  EXPECT_EQ(found->condition, "mains_flat_battery");
  EXPECT_EQ(found->link, chain::Link::deliver) << "a unit hangs behind it";
}

TEST(JunctionFuse, IsThinAboveItsShareAndBrokenAboveItsRating) {
  EXPECT_EQ(fuse_of(check_supply(tree_with_junction_fuse(through_junction_A() / 0.8)), "j")->verdict, Verdict::thin);
  EXPECT_EQ(fuse_of(check_supply(tree_with_junction_fuse(through_junction_A() * 0.99)), "j")->verdict, Verdict::broken);
}

TEST(JunctionFuse, OfUnknownRatingIsUnansweredAndOfNoneIsNotAsked) {
  site::Value unknown;
  unknown.pointer = "/junctions/j/feed/fuse_A";
  const std::vector<Evidence> all = check_supply(tree_with_junction_fuse(unknown));
  const Evidence* found = fuse_of(all, "j");
  ASSERT_NE(found, nullptr);
  EXPECT_EQ(found->verdict, Verdict::unanswered);
  ASSERT_EQ(found->gaps.size(), 1U);
  EXPECT_EQ(found->gaps.front().pointer, "/junctions/j/feed/fuse_A");
  EXPECT_EQ(fuse_of(check_supply(deck_site("supply_tree")), "j"), nullptr);
}

TEST(Currents, AreNoNumbersWhereDataAreMissing) {
  site::Site site = tree_with_junction_fuse(1.0);
  site.supplies.begin()->second.loads_complete = {};
  bool any = false;
  for (const Evidence& evidence : check_supply(site)) {
    if (evidence.unit != "A" || evidence.gaps.empty()) continue;
    any = true;
    EXPECT_EQ(evidence.verdict, Verdict::unanswered);
    EXPECT_FALSE(evidence.margin) << evidence.id << ": a sum that lacks something has nothing to spare";
    EXPECT_EQ(text(*evidence.says).find(" A"), std::string::npos) << text(*evidence.says);
  }
  EXPECT_TRUE(any);
}

TEST(JunctionFuse, BehindAnotherJunctionCountsForBoth) {
  site::Site site = tree_with_junction_fuse(1.0);
  site::Junction inner = site.junctions.at("j");
  inner.feed.from.id = "j";
  inner.feed.output.clear();
  inner.feed.cable.id = "none";
  site.junctions["j2"] = inner;
  site.detectors.at("d1").feed.from.id = "j2";
  const std::vector<Evidence> all = check_supply(site);
  EXPECT_NEAR(fuse_of(all, "j")->value.value(), through_junction_A(), 1e-6);
  EXPECT_NEAR(fuse_of(all, "j2")->value.value(), 0.02, 1e-12);
  EXPECT_EQ(fuse_of(all, "j2")->link, chain::Link::sense) << "only a detector hangs behind it";
}

TEST(ConsumerFuse, OfAConsumerWithoutDataSheetIsUnansweredNotForgotten) {
  site::Site site = tree_with_junction_fuse(1.0);
  site.detectors.at("d1").feed.fuse_A = site::Value::exactly(0.5, site::Origin::measured);
  site.detectors.at("d1").part.id.clear();
  const std::vector<Evidence> all = check_supply(site);
  for (const char* subject : {"d1", "j"}) {
    const Evidence* found = fuse_of(all, subject);
    ASSERT_NE(found, nullptr) << subject;
    EXPECT_EQ(found->verdict, Verdict::unanswered) << subject;
  }
}

}  // namespace
}  // namespace zoneproof::electric
