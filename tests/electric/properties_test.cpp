// What must hold for every site: a wire that draws nothing changes nothing, less knowledge never helps, names and
// neighbours do not matter, threads do not matter.
//
// "Less knowledge never helps", as a partial order. Proven, thin and broken say something; unanswered says nothing.
// Making a value unknown, typical or assumed, or a list incomplete, leaves a set of possible sites that contains the
// old one, so nothing better may be said of all of them than of the one:
//   broken -> broken, or unanswered, for some of the possible sites may hold; never thin or proven;
//   unanswered -> unanswered or broken; thin -> anything but proven; proven -> anything.
// Widening a tolerance keeps the old corner in the box, so there broken stays broken.
// The disturbance is left out of the comparison check by check: it is a share of the margin that the panel had before,
// in the states that had one, so a state that is lost altogether no longer counts in it. What must hold is that the
// link as a whole does not improve, and that is compared with it.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>
#include <tbb/global_control.h>

#include <map>
#include <random>

#include "electric/answers.hpp"
#include "electric/levels.hpp"
#include "electric/loop_check.hpp"
#include "electric/random_site.hpp"
#include "electric/trigger_check.hpp"

namespace zoneproof::electric {
namespace {

using chain::Verdict;
using nlohmann::json;

constexpr double same_answer_V = 1e-9;

LevelScope on_mains(std::vector<UnitCondition> units) { return {{SupplyCondition::mains}, std::move(units)}; }

/// Verdict by the name of the check.
std::map<std::string, Verdict> verdicts_of(const json& text) {
  const site::Site site = read(text);
  const std::vector<Level> before = zone_levels(site, "z1", "", on_mains({UnitCondition::detached}));
  const std::vector<Level> after = zone_levels(site, "z1", "t1", on_mains({UnitCondition::powered}));
  std::map<std::string, Verdict> verdicts;
  for (const chain::Evidence& e : check_loop(site, "z1", before, after)) verdicts[e.id] = e.verdict;
  for (const chain::Evidence& e : check_trigger(site, "t1", after)) verdicts[e.id] = e.verdict;
  return verdicts;
}

bool improves(Verdict was, Verdict is, bool broken_stays) {
  const bool good_now = is == Verdict::proven || is == Verdict::thin;
  switch (was) {
    case Verdict::broken: return good_now || (is == Verdict::unanswered && broken_stays);
    case Verdict::unanswered: return good_now;
    case Verdict::thin: return is == Verdict::proven;
    default: return false;
  }
}

Verdict of_all(const std::map<std::string, Verdict>& verdicts) {
  std::vector<Verdict> all;
  for (const auto& [check, verdict] : verdicts) all.push_back(verdict);
  return chain::together(all);
}

void compare(const std::map<std::string, Verdict>& before, const json& changed, bool broken_stays,
             const std::string& what) {
  const std::map<std::string, Verdict> after = verdicts_of(changed);
  EXPECT_FALSE(improves(of_all(before), of_all(after), broken_stays)) << what << ": the whole";
  for (const auto& [check, was] : before) {
    if (check == "disturbance") continue;
    const auto found = after.find(check);
    ASSERT_NE(found, after.end()) << what << ": " << check << " is no longer said";
    EXPECT_FALSE(improves(was, found->second, broken_stays))
        << what << ": " << check << " " << chain::word(was) << " -> " << chain::word(found->second);
  }
}

json widened(const json& number, double factor) {
  if (number.is_number()) return {{"value", number}, {"plus", 0.01 * factor}, {"minus", 0.01 * factor}};
  json wide = number;
  wide["tolerance_pct"] = number.at("tolerance_pct").get<double>() * factor;
  return wide;
}

json with_origin(const json& number, const char* origin) {
  json guessed = number.is_number() ? json{{"value", number}} : number;
  guessed["origin"] = origin;
  return guessed;
}

constexpr unsigned verdict_sites = 36;

TEST(LessKnowledge, AWiderToleranceNeverHelps) {
  for (unsigned seed = 1; seed <= verdict_sites; ++seed) {
    const json site = random_site(seed);
    const auto before = verdicts_of(site);
    const std::vector<std::string> numbers = telling_numbers(site);
    for (std::size_t i = seed % 5; i < numbers.size(); i += 5) {
      json changed = site;
      const json::json_pointer at(numbers[i]);
      changed[at] = widened(site.at(at), 3.0);
      compare(before, changed, true, "seed " + std::to_string(seed) + ", " + numbers[i] + " wider");
    }
  }
}

TEST(LessKnowledge, AGuessedOrMissingValueNeverHelps) {
  for (unsigned seed = 1; seed <= verdict_sites; ++seed) {
    const json site = random_site(seed);
    const auto before = verdicts_of(site);
    const std::vector<std::string> numbers = telling_numbers(site);
    for (std::size_t i = seed % 5; i < numbers.size(); i += 5) {
      const json::json_pointer at(numbers[i]);
      const std::string where = "seed " + std::to_string(seed) + ", " + numbers[i];
      json changed = site;
      changed[at] = nullptr;
      compare(before, changed, false, where + " unknown");
      changed[at] = with_origin(site.at(at), "typical");
      compare(before, changed, false, where + " typical");
      changed[at] = with_origin(site.at(at), "assumed");
      compare(before, changed, false, where + " assumed");
    }
  }
}

TEST(LessKnowledge, AGuessOnWhichALevelRestsIsNeverProven) {
  // Values that certainly move the panel's reading at rest: none of its checks may be proven or thin on a guess.
  for (unsigned seed = 2; seed <= verdict_sites; seed += 6) {  // single_eol_closed
    for (const char* pointer :
         {"/parts/terminal_part/zone_terminal/source_V", "/parts/terminal_part/zone_terminal/pullup_ohm",
          "/zones/z1/loop/eol_ohm", "/parts/terminal_part/zone_terminal/windows/low/max_V",
          "/parts/terminal_part/zone_terminal/windows/low/min_V"}) {
      for (const char* origin : {"typical", "assumed"}) {
        json changed = random_site(seed);
        const json::json_pointer at(pointer);
        changed[at] = with_origin(changed.at(at), origin);
        for (const auto& [check, verdict] : verdicts_of(changed)) {
          if (check.rfind("panel_reads_rest", 0) == 0) {
            EXPECT_TRUE(verdict == Verdict::unanswered || verdict == Verdict::broken)
                << seed << " " << pointer << " " << origin << " " << check;
          }
        }
      }
    }
  }
}

TEST(LessKnowledge, AnIncompleteListNeverHelps) {
  for (unsigned seed = 1; seed <= verdict_sites; ++seed) {
    const json site = random_site(seed);
    const auto before = verdicts_of(site);
    for (const char* pointer :
         {"/zones/z1/loop/contacts_complete", "/bonds_complete", "/supplies/psu/loads_complete"}) {
      for (const json& value : {json(false), json()}) {
        json changed = site;
        changed[json::json_pointer(pointer)] = value;
        compare(before, changed, false, "seed " + std::to_string(seed) + ", " + pointer);
      }
    }
  }
}

TEST(LessKnowledge, RandomSitesReachEveryVerdict) {
  std::map<Verdict, int> seen;
  for (unsigned seed = 1; seed <= verdict_sites; ++seed) {
    for (const auto& [check, verdict] : verdicts_of(random_site(seed))) ++seen[verdict];
  }
  EXPECT_GT(seen[Verdict::proven], 20);
  EXPECT_GT(seen[Verdict::thin], 3);
  EXPECT_GT(seen[Verdict::broken], 20);
}

// --- what must not matter -------------------------------------------------------------------------------------------

struct Said {
  double nominal, low, high;
};

/// The panel's reading in every state, by its name; `unit` detached is the panel as it was.
std::map<std::string, Said> readings(const json& text, const std::string& zone, const std::string& trigger,
                                     UnitCondition unit) {
  std::map<std::string, Said> said;
  for (const Level& level : zone_levels(read(text), zone, trigger, on_mains({unit}))) {
    const circuit::WorstCase& worst = level.solved.cases.at(*level.panel);
    said[level.situation.state.name()] = {worst.nominal, worst.low.bound, worst.high.bound};
  }
  return said;
}

void expect_same(const std::map<std::string, Said>& a, const std::map<std::string, Said>& b) {
  RC_ASSERT(a.size() == b.size());
  for (const auto& [state, said] : a) {
    const Said& other = b.at(state);
    RC_ASSERT(std::abs(said.nominal - other.nominal) <= same_answer_V);
    RC_ASSERT(std::abs(said.low - other.low) <= 1e-6);  // the accuracy that an exact extreme is certified to
    RC_ASSERT(std::abs(said.high - other.high) <= 1e-6);
  }
}

RC_GTEST_PROP(Tap, OfInfiniteResistanceChangesNothingAtThePanel, ()) {
  json site = random_site(*rc::gen::inRange(1U, 100000U));
  json& input = site["parts"]["unit_part"]["unit"]["input"];
  input["impedance_ohm"] = "none";
  input["pullup_ohm"] = "none";
  expect_same(readings(site, "z1", "t1", UnitCondition::detached), readings(site, "z1", "t1", UnitCondition::powered));
}

RC_GTEST_PROP(Names, DoNotMatter, ()) {
  const json site = random_site(*rc::gen::inRange(1U, 100000U));
  std::string text = site.dump();
  for (const auto& [from, to] :
       {std::pair("\"z1\"", "\"q9\""), std::pair("\"a\"", "\"y\""), std::pair("\"b\"", "\"c\""),
        std::pair("\"da\"", "\"zz\""), std::pair("\"loop_cable\"", "\"a_cable\""), std::pair("\"u1\"", "\"a0\""),
        std::pair("\"psu\"", "\"zpsu\"")}) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + 1)) {
      text.replace(at, std::string(from).size(), to);
    }
  }
  const auto before = readings(site, "z1", "t1", UnitCondition::powered);
  const auto after = readings(json::parse(text), "q9", "t1", UnitCondition::powered);
  std::map<std::string, Said> renamed;
  for (const auto& [state, said] : after) {
    renamed[state == "alarm_y" ? "alarm_a" : state == "alarm_c" ? "alarm_b" : state] = said;
  }
  expect_same(before, renamed);
}

RC_GTEST_PROP(Neighbour, ThatSharesNothingChangesNothing, ()) {
  const json site = random_site(*rc::gen::inRange(1U, 100000U));
  json more = site;
  more["cables"]["other_cable"] = site["cables"]["loop_cable"];
  more["zones"]["z0"] = site["zones"]["z1"];
  more["zones"]["z0"].update(json{{"number", 2}, {"name", "Other"}, {"input", 2}});
  more["zones"]["z0"]["loop"]["cable"] = "other_cable";
  expect_same(readings(site, "z1", "t1", UnitCondition::powered), readings(more, "z1", "t1", UnitCondition::powered));
}

TEST(Threads, DoNotChangeAnAnswer) {
  const site::Site site = read(random_site(4));
  const auto answers = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    return electrical_answers(site);
  };
  const std::vector<chain::Evidence> one = answers(1), two = answers(2);
  ASSERT_EQ(one.size(), two.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    EXPECT_EQ(one[i].id, two[i].id);
    EXPECT_EQ(one[i].subject, two[i].subject);
    EXPECT_EQ(one[i].verdict, two[i].verdict) << one[i].id;
    EXPECT_EQ(one[i].condition, two[i].condition) << one[i].id;
    EXPECT_EQ(one[i].value, two[i].value) << one[i].id;
    EXPECT_EQ(one[i].bound, two[i].bound) << one[i].id;
    ASSERT_EQ(one[i].corner.size(), two[i].corner.size());
    for (std::size_t k = 0; k < one[i].corner.size(); ++k)
      EXPECT_EQ(one[i].corner[k].pointer, two[i].corner[k].pointer);
  }
}

}  // namespace
}  // namespace zoneproof::electric
