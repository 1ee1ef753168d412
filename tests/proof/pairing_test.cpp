// Pairing rules that no demo site breaks: a trigger source that the zone's terminal cannot give.
#include "proof/pairing.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

site::Site kiln_yard_with_terminals(site::TerminalReference refers_to) {
  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  for (auto& [id, part] : site.parts) {
    if (part.zone_terminal) part.zone_terminal->refers_to.value = refers_to;
  }
  return site;
}

TEST(Pairing, RefusesEveryTapOnAMatrixAndSaysWhatWorks) {
  const site::Site site = kiln_yard_with_terminals(site::TerminalReference::matrix);
  const std::vector<chain::Evidence> all = check_pairing(site);
  std::size_t taps = 0;
  for (const auto& [id, trigger] : site.triggers) {
    if (!trigger.source.is(site::TriggerSource::loop_tap)) continue;
    const auto refused = std::find_if(all.begin(), all.end(), [&, &of = trigger](const chain::Evidence& e) {
      return e.subject == of.zone.id && e.id == "source_possible";
    });
    ASSERT_NE(refused, all.end()) << id;
    EXPECT_EQ(refused->verdict, chain::Verdict::broken) << id;
    EXPECT_EQ(refused->says->code, "matrix_cannot_be_tapped") << id;
    ++taps;
  }
  EXPECT_GT(taps, 3U);
}

TEST(Pairing, AllowsTheSameTapsWhereTheTerminalRefersToTheNegative) {
  for (const chain::Evidence& e : check_pairing(kiln_yard_with_terminals(site::TerminalReference::negative))) {
    if (e.id == "source_possible") {
      EXPECT_EQ(e.verdict, chain::Verdict::proven) << e.subject;
    }
  }
}

}  // namespace
}  // namespace zoneproof::proof
