// The command sight on the demo: what it tells, what it draws, and what it refuses to write over.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.hpp"
#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;
namespace fs = std::filesystem;

/// A line whose words may hold blanks.
Outcome run_words(const std::vector<std::string>& words) {
  std::ostringstream out, err;
  const int exit_code = run(words, out, err, Terminal{});
  return {exit_code, out.str(), err.str()};
}

json results_of(const Outcome& outcome) {
  const json parsed = json::parse(outcome.out, nullptr, false);
  EXPECT_FALSE(parsed.is_discarded()) << outcome.out << outcome.err;
  return parsed.at("results");
}

/// The demo with a change of its text.
std::string changed(const std::string& name, const std::function<void(nlohmann::ordered_json&)>& change) {
  auto file = nlohmann::ordered_json::parse(bytes_of(kKilnYard));
  change(file);
  return file_with(name + ".site.json", file.dump());
}

std::vector<std::string> zones_in(const json& results) {
  std::vector<std::string> zones;
  for (const json& zone : results.at("zones")) zones.push_back(zone.at("zone"));
  return zones;
}

/// The racking before a corner of the store hides it from the camera (the demo says so itself): not all is proven.
TEST(SightCommand, ExitsOneWhereAPatchIsBlindAndZeroWhereAllIsSeen) {
  const Outcome all = run_line("sight " + kKilnYard);
  EXPECT_EQ(all.exit_code, 1) << all.err;
  EXPECT_THAT(all.out, HasSubstr("Racking before the north-east corner"));
  EXPECT_LE(widest_line(all.out), 100U);
  const Outcome store = run_line("sight " + kKilnYard + " --zone 7");
  EXPECT_EQ(store.exit_code, 1);
  EXPECT_THAT(store.out, HasSubstr("Racking before the north-east corner"));
  const Outcome door = run_line("sight " + kKilnYard + " --zone 5");
  EXPECT_EQ(door.exit_code, 0) << door.out;
  EXPECT_THAT(door.out, Not(HasSubstr("Racking before the north-east corner")));
}

TEST(SightCommand, AZoneIsNamedByNumberOrIdAndAnUnknownOneIsTold) {
  EXPECT_EQ(run_line("sight " + kKilnYard + " --zone 3").out, run_line("sight " + kKilnYard + " --zone z3").out);
  const Outcome unknown = run_line("sight " + kKilnYard + " --zone 77");
  EXPECT_EQ(unknown.exit_code, 2);
  EXPECT_EQ(unknown.out, "");
  EXPECT_THAT(unknown.err, HasSubstr("77"));
}

TEST(SightCommand, ACameraIsNamedByIdOrNameAndAnUnknownOneIsToldWithTheOthers) {
  const Outcome by_id = run_words({"sight", kKilnYard, "--camera", "c_store"});
  const Outcome by_name = run_words({"sight", kKilnYard, "--camera", "Store camera"});
  EXPECT_EQ(by_id.exit_code, 1);
  EXPECT_EQ(by_id.out, by_name.out);
  EXPECT_THAT(by_id.out, HasSubstr("Store camera"));
  EXPECT_THAT(by_id.out, Not(HasSubstr("Office camera")));
  const json results = results_of(run_words({"sight", kKilnYard, "--camera", "c_store", "--json"}));
  EXPECT_EQ(zones_in(results), (std::vector<std::string>{"z7", "z8"})) << "that it is to witness";
  const Outcome unknown = run_words({"sight", kKilnYard, "--camera", "c_attic"});
  EXPECT_EQ(unknown.exit_code, 2);
  EXPECT_EQ(unknown.out, "");
  for (const char* word : {"c_attic", "c_kiln_room", "c_office", "c_shop", "c_store", "c_workshop"})
    EXPECT_THAT(unknown.err, HasSubstr(word));
}

/// What people read and what programs read are one answer.
TEST(SightCommand, TextAndJsonSayTheSame) {
  const Outcome text = run_line("sight " + kKilnYard);
  const Outcome machine = run_line("sight " + kKilnYard + " --json");
  EXPECT_EQ(machine.exit_code, text.exit_code);
  std::string flat;  // lines are broken where they are too long
  std::istringstream words(text.out);
  for (std::string word; words >> word;) flat += word + " ";
  const json results = results_of(machine);
  EXPECT_EQ(results.at("all_seen"), false);
  EXPECT_EQ(results.at("zones").size(), 8U);
  for (const json& zone : results.at("zones")) {
    EXPECT_THAT(flat, HasSubstr(zone.at("name").get<std::string>()));
    EXPECT_THAT(flat, HasSubstr(zone.at("witnessed").at("says").at("text").get<std::string>()));
    for (const json& sensed : zone.at("sensed"))
      EXPECT_THAT(flat, HasSubstr(sensed.at("says").at("text").get<std::string>()));
    std::size_t told = 0;
    for (const json& cure : zone.at("cures"))
      EXPECT_TRUE(++told > 4 || flat.find(cure.at("says").at("text")) != std::string::npos) << cure;
    double blind = 0.0;
    for (const json& patch : zone.at("patches")) {
      blind += patch.at("area_m2").get<double>();
      for (const json& cause : patch.at("causes"))
        EXPECT_TRUE(cause.at("area_m2").get<double>() < 0.1 * patch.at("area_m2").get<double>() ||
                    flat.find(cause.at("says").at("text")) != std::string::npos)
            << cause;
    }
    const double area = zone.at("area_m2"), witnessed = zone.at("witnessed_m2");
    EXPECT_NEAR(area, witnessed + blind, 1e-9 * area);
    EXPECT_NEAR(zone.at("witnessed").at("value").get<double>(), 100.0 * witnessed / area, 1e-9);
  }
  for (const json& camera : results.at("cameras")) EXPECT_FALSE(camera.at("shows_nothing"));
}

TEST(SightCommand, DrawsAPlanOfTheKindThatItsNameSays) {
  const std::vector<std::pair<std::string, std::string>> kinds = {
      {"plan.svg", "<?xml"}, {"plan.pdf", "%PDF-"}, {"plan.PNG", "\x89PNG\r\n\x1a\n"}};
  for (const auto& [name, start] : kinds) {
    const std::string path = folder() + "/" + name;
    const Outcome drawn = run_line("sight " + kKilnYard + " --zone 7 --plan " + path);
    EXPECT_EQ(drawn.exit_code, 1) << "drawing does not make it proven: " << drawn.err;
    EXPECT_THAT(drawn.out, HasSubstr(path));
    const std::string content = bytes_of(path);
    EXPECT_GT(content.size(), 1000U) << name;
    const std::string begin = content.substr(0, start.size());
    EXPECT_TRUE(begin == start || (name == "plan.svg" && begin.substr(0, 4) == "<svg")) << name;
  }
}

TEST(SightCommand, APlanIsNeverWrittenOverUnasked) {
  const std::string path = file_with("there.svg", "mine");
  const Outcome refused = run_line("sight " + kKilnYard + " --zone 7 --plan " + path);
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_EQ(refused.out, "");
  EXPECT_THAT(refused.err, HasSubstr("--replace"));
  EXPECT_EQ(bytes_of(path), "mine");
  EXPECT_EQ(run_line("sight " + kKilnYard + " --zone 7 --replace --plan " + path).exit_code, 1);
  EXPECT_THAT(bytes_of(path), HasSubstr("<svg"));
  // Nor the file that is read, whatever it is called.
  const std::string site = file_with("site.svg", bytes_of(kKilnYard));
  EXPECT_EQ(run_line("sight " + site + " --zone 7 --replace --plan " + site).exit_code, 2);
  EXPECT_EQ(bytes_of(site), bytes_of(kKilnYard));
}

TEST(SightCommand, AWrongEndingIsToldBeforeAnythingIsComputed) {
  for (const char* name : {"plan.jpg", "plan", "plan.svgz"}) {
    const std::string path = folder() + "/" + name;
    const Outcome refused = run_line("sight " + kKilnYard + " --plan " + path);
    EXPECT_EQ(refused.exit_code, 2) << name;
    EXPECT_EQ(refused.out, "");
    EXPECT_THAT(refused.err, HasSubstr(".svg, .pdf or .png"));
    EXPECT_FALSE(fs::exists(path));
  }
}

TEST(SightCommand, EveryCameraAskedForGetsItsPictureInThreeKinds) {
  const std::string pictures = folder() + "/pictures";
  const Outcome drawn = run_line("sight " + kKilnYard + " --camera c_store --pictures " + pictures);
  EXPECT_EQ(drawn.exit_code, 1) << drawn.err;
  for (const char* kind : {"svg", "pdf", "png"}) {
    const std::string path = pictures + "/c_store." + kind;
    EXPECT_GT(bytes_of(path).size(), 1000U) << path;
    EXPECT_THAT(drawn.out, HasSubstr(path));
  }
  EXPECT_FALSE(fs::exists(pictures + "/c_office.svg"));
  const std::string before = bytes_of(pictures + "/c_store.svg");
  const Outcome again = run_line("sight " + kKilnYard + " --camera c_store --pictures " + pictures);
  EXPECT_EQ(again.exit_code, 2) << "they are there already";
  EXPECT_EQ(run_line("sight " + kKilnYard + " --camera c_store --replace --pictures " + pictures).exit_code, 1);
  EXPECT_EQ(bytes_of(pictures + "/c_store.svg"), before) << "the same file gives the same bytes";
}

TEST(SightCommand, AFolderThatIsAFileIsTold) {
  const std::string file = file_with("occupied", "mine");
  const Outcome refused = run_line("sight " + kKilnYard + " --pictures " + file);
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("is a file"));
  EXPECT_EQ(bytes_of(file), "mine");
}

/// A site that was entered for its loops alone: nothing is called blind, and what to enter is named.
TEST(SightCommand, ASiteWithoutASceneIsUnansweredAndNamesWhatToEnter) {
  const std::string site = file_with("sceneless.site.json", workshop());
  const Outcome text = run_line("sight " + site);
  EXPECT_EQ(text.exit_code, 1) << text.err;
  const json results = results_of(run_line("sight " + site + " --json"));
  ASSERT_FALSE(results.at("zones").empty());
  for (const json& zone : results.at("zones")) {
    EXPECT_EQ(zone.at("witnessed").at("verdict"), "unanswered") << zone.at("zone");
    EXPECT_FALSE(zone.at("witnessed").at("gaps").empty());
    EXPECT_TRUE(zone.at("patches").empty());
    EXPECT_TRUE(zone.at("cures").empty());
  }
  const Outcome plan = run_line("sight " + site + " --plan " + folder() + "/nothing.svg");
  EXPECT_EQ(plan.exit_code, 2);
  EXPECT_THAT(plan.err, HasSubstr("nothing to draw"));
  EXPECT_FALSE(fs::exists(folder() + "/nothing.svg"));
  const Outcome camera = run_line("sight " + site + " --camera c1");
  EXPECT_EQ(camera.exit_code, 2) << "it has none";
  EXPECT_THAT(camera.err, HasSubstr("c1"));
}

/// It looks at the ceiling.
TEST(SightCommand, ACameraThatShowsNothingIsTold) {
  const std::string site =
      changed("away", [](nlohmann::ordered_json& file) { file["cameras"]["c_office"]["mount"]["tilt_deg"] = 60; });
  const Outcome outcome = run_words({"sight", site, "--camera", "Office camera"});
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_THAT(outcome.out, HasSubstr("It shows nothing of any zone."));
}

/// Onto the pavement, through the windows of the shop.
TEST(SightCommand, FilmingWhereNobodyMayBeFilmedExitsOne) {
  const std::string site =
      changed("filming", [](nlohmann::ordered_json& file) { file["cameras"]["c_shop"]["mount"]["tilt_deg"] = -15; });
  const json results = results_of(run_line("sight " + site + " --camera c_shop --json"));
  const json& filmed = results.at("cameras").at(0).at("filmed_m2");
  ASSERT_TRUE(filmed.contains("v_pavement")) << "through the shop windows";
  EXPECT_GT(filmed.at("v_pavement").get<double>(), 0.05);
  const Outcome text = run_line("sight " + site + " --camera c_shop");
  EXPECT_EQ(text.exit_code, 1);
  EXPECT_THAT(text.out, HasSubstr("Pavement before the shop"));
}

}  // namespace
}  // namespace zoneproof::cli
