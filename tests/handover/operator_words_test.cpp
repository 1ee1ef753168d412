#include "handover/operator_words.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "handover/demo_site.hpp"
#include "results/proof.hpp"

namespace zoneproof::handover {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

const proof::Chain& chain_of(const proof::Proof& proof, const std::string& zone) {
  for (const proof::Chain& chain : proof.chains)
    if (chain.zone == zone) return chain;
  throw std::runtime_error("no chain of " + zone);
}

/// The mistakes of the demonstration: its battery is too small for every zone, input 5 is set wrongly, part of the
/// store is not seen.
TEST(OperatorWords, SayWhatAWeakChainComesToWithoutVoltsOrCoordinates) {
  const proof::Proof proof = results::proof_of(demo_site("kiln-yard"), "", {});
  for (const char* zone : {"z1", "z2", "z3", "z4", "z6", "z8"}) {
    EXPECT_TRUE(only_without_mains(chain_of(proof, zone))) << zone;
    EXPECT_THAT(operator_lines(chain_of(proof, zone)),
                ElementsAre("Without mains alarm and picture may be gone after 2.5 h."))
        << zone;
  }
  EXPECT_FALSE(only_without_mains(chain_of(proof, "z5")));
  EXPECT_THAT(operator_lines(chain_of(proof, "z5")), testing::Contains(HasSubstr("Pictures may come although")));
  EXPECT_THAT(operator_lines(chain_of(proof, "z7")), testing::Contains(HasSubstr("where no camera looks")));
  EXPECT_THAT(operator_lines(chain_of(proof, "z7")).back(), HasSubstr("little to spare"));
  for (const proof::Chain& chain : proof.chains)
    for (const std::string& line : operator_lines(chain))
      EXPECT_FALSE(std::regex_search(line, std::regex("[0-9] m?V|x [0-9]"))) << line;
}

TEST(OperatorWords, SayEachThingOnceAsTheWorstHasIt) {
  proof::Chain chain;
  const auto add = [&](const std::string& id, chain::Link link, chain::Verdict verdict) {
    chain::Evidence one;
    one.id = id;
    one.link = link;
    one.verdict = verdict;
    chain.links[static_cast<std::size_t>(link)].evidence.push_back(one);
  };
  EXPECT_TRUE(operator_lines(chain).empty());
  EXPECT_FALSE(only_without_mains(chain)) << "nothing is weak";
  add("carrier_hold", chain::Link::deliver, chain::Verdict::unanswered);
  EXPECT_THAT(operator_lines(chain), ElementsAre("Not known for certain: Without mains the picture may be missing."));
  EXPECT_TRUE(only_without_mains(chain));
  add("mains_hold", chain::Link::deliver, chain::Verdict::broken);
  EXPECT_THAT(operator_lines(chain), ElementsAre("Without mains the picture may be missing."));
  add("first_picture", chain::Link::deliver, chain::Verdict::proven);
  EXPECT_TRUE(only_without_mains(chain));
  add("unit_reads_alarm", chain::Link::trigger, chain::Verdict::thin);
  EXPECT_FALSE(only_without_mains(chain));
  EXPECT_THAT(operator_lines(chain),
              ElementsAre("Without mains the picture may be missing.",
                          "Holds, with little to spare; if it failed: The picture may be missing."));
}

}  // namespace
}  // namespace zoneproof::handover
