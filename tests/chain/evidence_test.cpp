// The order of verdicts and their sum are the project's own definition (docs: "a chain is as strong as its weakest
// link").
#include "chain/evidence.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace zoneproof::chain {
namespace {

constexpr Verdict all[] = {Verdict::proven, Verdict::thin, Verdict::broken, Verdict::unanswered};

TEST(Verdict, MarginsDecideProvenThinAndBroken) {
  EXPECT_EQ(judge(0.3, 0.3), Verdict::proven);
  EXPECT_EQ(judge(0.299, 0.3), Verdict::thin);
  EXPECT_EQ(judge(0.0, 0.3), Verdict::thin);
  EXPECT_EQ(judge(-1e-12, 0.3), Verdict::broken);
}

TEST(Verdict, BrokenOutweighsUnansweredOutweighsThinOutweighsProven) {
  EXPECT_EQ(together({Verdict::proven, Verdict::thin, Verdict::unanswered, Verdict::broken}), Verdict::broken);
  EXPECT_EQ(together({Verdict::proven, Verdict::thin, Verdict::unanswered}), Verdict::unanswered);
  EXPECT_EQ(together({Verdict::proven, Verdict::thin}), Verdict::thin);
  EXPECT_EQ(together({Verdict::proven, Verdict::proven}), Verdict::proven);
}

TEST(Verdict, NothingToJoinIsNeverProven) { EXPECT_EQ(together({}), Verdict::unanswered); }

RC_GTEST_PROP(Verdict, AddingAnAnswerNeverImprovesTheSum, ()) {
  auto verdicts = *rc::gen::nonEmpty(
      rc::gen::container<std::vector<Verdict>>(rc::gen::elementOf(std::vector<Verdict>(all, all + 4))));
  const Verdict before = together(verdicts);
  verdicts.push_back(*rc::gen::elementOf(std::vector<Verdict>(all, all + 4)));
  RC_ASSERT(rank(together(verdicts)) <= rank(before));
}

TEST(Verdict, HasTheWordsOfTheProject) {
  EXPECT_STREQ(word(Verdict::proven), "proven");
  EXPECT_STREQ(word(Verdict::thin), "thin");
  EXPECT_STREQ(word(Verdict::broken), "broken");
  EXPECT_STREQ(word(Verdict::unanswered), "unanswered");
  EXPECT_STREQ(word(Link::deliver), "deliver");
}

}  // namespace
}  // namespace zoneproof::chain
