// A panel that cannot be programmed gives no output for the video.
#include "proof/programming.hpp"

#include <gtest/gtest.h>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

using chain::Verdict;

class Programming : public testing::Test {
 protected:
  /// Every zone has the same answer: one panel gives all outputs.
  chain::Evidence answer() const {
    const std::vector<chain::Evidence> all = check_programming(site);
    EXPECT_EQ(all.size(), site.triggers.size());
    for (const chain::Evidence& e : all) EXPECT_EQ(e.verdict, all.front().verdict) << e.subject;
    return all.front();
  }
  void expect_asked(const std::string& key) const {
    const chain::Evidence e = answer();
    EXPECT_EQ(e.verdict, Verdict::unanswered) << key;
    ASSERT_EQ(e.gaps.size(), 1U);
    EXPECT_EQ(e.gaps.front().pointer, "/panels/panel/access/" + key);
  }
  void expect_broken(const char* code) const {
    const chain::Evidence e = answer();
    EXPECT_EQ(e.verdict, Verdict::broken);
    ASSERT_TRUE(e.says);
    EXPECT_EQ(e.says->code, code);
  }

  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  site::Access& access = site.panels.at("panel").access;
};

TEST_F(Programming, HoldsWithTheCodeAndKnownFreeOutputs) { EXPECT_EQ(answer().verdict, Verdict::proven); }

TEST_F(Programming, OfALockedPanelIsBrokenWhateverElseIsUnknown) {
  access = {};
  access.locked.value = true;
  expect_broken("panel_locked");
}

TEST_F(Programming, WithoutTheInstallerCodeIsBroken) {
  access.installer_code.value = site::KnownState::unknown;
  expect_broken("panel_without_code");
}

TEST_F(Programming, AsksForWhatIsNotKnownOfThePanel) {
  access.free_outputs.value = site::KnownState::unknown;  // known to be unknown: somebody has to look
  expect_asked("free_outputs");
  access.free_outputs.value.reset();
  expect_asked("free_outputs");
  access.installer_code.value.reset();
  expect_asked("installer_code");
  access.locked.value.reset();
  expect_asked("locked");
}

TEST_F(Programming, AsksWhichOutputAndWhosePanelItIs) {
  site.outputs.at("output_1").panel.id.clear();
  EXPECT_EQ(answer().gaps.at(0).pointer, "/outputs/output_1/panel");
  site.units.at("unit").arming.output.id.clear();
  EXPECT_EQ(answer().gaps.at(0).pointer, "/units/unit/arming/output");
}

TEST_F(Programming, IsNotAskedOfAUnitThatNoOutputArms) {
  site.units.at("unit").arming.output.id = "none";
  EXPECT_TRUE(check_programming(site).empty());
}

}  // namespace
}  // namespace zoneproof::proof
