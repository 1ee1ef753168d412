// The demo sites have sound networks: what is wrong with them is elsewhere.
#include <gtest/gtest.h>

#include "carriage/addressing.hpp"
#include "carriage/exposure.hpp"
#include "carriage/monitoring.hpp"
#include "carriage/reached.hpp"
#include "site/file.hpp"

namespace zoneproof::carriage {
namespace {

class DemoNetwork : public testing::TestWithParam<const char*> {};

TEST_P(DemoNetwork, HasNoFaultOfAddressesExposureOrMonitoring) {
  const site::ReadResult read =
      site::load_site(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + GetParam() + ".site.json");
  ASSERT_TRUE(read.site.has_value());
  for (const auto check : {check_addressing, check_reached, check_exposure, check_monitoring}) {
    const std::vector<chain::Evidence> all = check(*read.site);
    EXPECT_FALSE(all.empty());
    for (const chain::Evidence& one : all) {
      EXPECT_NE(one.verdict, chain::Verdict::broken) << one.id << " of " << one.subject << ": " << text(*one.says);
      EXPECT_EQ(one.gaps.empty(), one.verdict != chain::Verdict::unanswered) << one.id << " of " << one.subject;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Sites, DemoNetwork, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::carriage
