// The command remedies: nothing is written by half or over what is read, and own costs count.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/workshop.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {
namespace {

using nlohmann::json;
using testing::HasSubstr;

/// A copy of the demo of this test's own.
std::string site_file(const std::string& name) { return file_with(name + ".site.json", bytes_of(kKilnYard)); }

json results_of(const std::string& line) {
  const Outcome outcome = run_line(line + " --json");
  const json parsed = json::parse(outcome.out, nullptr, false);
  EXPECT_FALSE(parsed.is_discarded()) << line << outcome.out << outcome.err;
  return parsed.at("results");
}

TEST(RemediesCommand, WritesTheSiteOfTheRemedyThatIsTaken) {
  const std::string site = site_file("take");
  const std::string before = bytes_of(site);
  const json problems = results_of("remedies " + site + " --zone 5").at("findings");
  long long number = 0;
  for (const json& problem : problems) {
    if (problem.at("subject") == "z5" && number == 0)
      number = problem.at("remedies").at(0).at("number").get<long long>();
  }
  ASSERT_GT(number, 0);
  const std::string changed = folder() + "/taken.site.json";
  const std::string line = "remedies " + site + " --zone 5 --take " + std::to_string(number) + " -o " + changed;
  const Outcome taken = run_line(line);
  EXPECT_EQ(taken.exit_code, 0) << taken.err;
  EXPECT_THAT(taken.out, HasSubstr("is written"));
  EXPECT_EQ(bytes_of(site), before);
  const Outcome proof = run_line("prove " + changed + " --zone 5 --links trigger");
  EXPECT_EQ(proof.exit_code, 0) << proof.out;
  const Outcome again = run_line(line);  // it is there now
  EXPECT_EQ(again.exit_code, 2);
  EXPECT_EQ(run_line(line + " --replace").exit_code, 0);
}

TEST(RemediesCommand, WritesNothingOverTheFileThatItReads) {
  const std::string site = site_file("same");
  const std::string before = bytes_of(site);
  EXPECT_EQ(run_line("remedies " + site + " --zone 5 --take 1 -o " + site + " --replace").exit_code, 2);
  EXPECT_EQ(bytes_of(site), before);
}

/// Nor over a person's own prices, named or beside the site, nor over the parts that stand there.
TEST(RemediesCommand, WritesNothingOverOwnCostsAndParts) {
  const std::string site = site_file("own");
  const std::string stem = site.substr(0, site.size() - std::string(".site.json").size());
  const std::string costs = R"({"format": "zoneproof-costs", "version": 1, "name": "Ours"})";
  const std::string parts = bytes_of(std::string(ZONEPROOF_SOURCE_DIR) + "/docs/guide/own.parts.json");
  const std::string named = folder() + "/named.costs.json";
  for (const auto& [path, content] :
       {std::pair(stem + ".costs.json", costs), std::pair(stem + ".parts.json", parts), std::pair(named, costs)}) {
    std::ofstream(path) << content;
    const Outcome refused =
        run_line("remedies " + site + " --costs " + named + " --zone 5 --take 1 -o " + path + " --replace");
    EXPECT_EQ(refused.exit_code, 2) << path;
    EXPECT_THAT(refused.err, HasSubstr("is the file that is read")) << path;
    EXPECT_EQ(bytes_of(path), content) << path;
  }
}

TEST(RemediesCommand, ANumberAndAFileBelongTogether) {
  const std::string site = site_file("half");
  EXPECT_EQ(run_line("remedies " + site + " --take 1").exit_code, 2);
  EXPECT_EQ(run_line("remedies " + site + " -o " + folder() + "/x.site.json").exit_code, 2);
  EXPECT_EQ(run_line("remedies " + site + " --take 0 -o " + folder() + "/x.site.json").exit_code, 2);
  const Outcome far = run_line("remedies " + site + " --zone 5 --take 999 -o " + folder() + "/x.site.json");
  EXPECT_EQ(far.exit_code, 2);
  EXPECT_THAT(far.err, HasSubstr("There is no remedy 999"));
  EXPECT_FALSE(std::filesystem::exists(folder() + "/x.site.json"));
}

TEST(RemediesCommand, OwnCostsBesideTheSiteCountAndABadFileIsTold) {
  const std::string site = site_file("priced");
  const std::string costs = R"({"format": "zoneproof-costs", "version": 1, "currency": "crowns", "hourly_wage": 60,
    "tasks": {"choose_setting": {"minutes": 7}, "test_zone": {"minutes": 4}}})";
  file_with("priced.costs.json", costs);
  bool seen = false;
  const json problems = results_of("remedies " + site + " --zone 5").at("findings");
  for (const json& problem : problems) {
    if (problem.at("subject") != "z5") continue;
    const json& cost = problem.at("remedies").at(0).at("cost");
    EXPECT_EQ(cost.at("minutes"), 11.0);
    EXPECT_EQ(cost.at("money"), 11.0);
    EXPECT_EQ(cost.at("currency"), "crowns");
    EXPECT_EQ(problem.at("order"), "money");
    seen = true;
  }
  EXPECT_TRUE(seen);
  const std::string bad = file_with("bad.costs.json", R"({"format": "zoneproof-costs", "version": 1, "wage": 3})");
  const Outcome refused = run_line("remedies " + site + " --costs " + bad);
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("wage"));
}

}  // namespace
}  // namespace zoneproof::cli
