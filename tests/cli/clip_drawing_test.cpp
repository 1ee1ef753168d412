// What the command clip draws of the demo, and what it refuses to write over.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

using testing::HasSubstr;
namespace fs = std::filesystem;

TEST(ClipDrawing, IsOfTheKindThatItsNameSaysAndChangesNoAnswer) {
  const Outcome told = run_line("clip " + kCorrected + " --zone 4");
  const std::vector<std::pair<std::string, std::string>> kinds = {
      {"alarm.svg", "<"}, {"alarm.pdf", "%PDF-"}, {"alarm.PNG", "\x89PNG"}};
  for (const auto& [name, start] : kinds) {
    const std::string path = folder() + "/" + name;
    const Outcome drawn = run_line("clip " + kCorrected + " --zone 4 --drawing " + path);
    EXPECT_EQ(drawn.exit_code, told.exit_code) << drawn.err;
    EXPECT_EQ(drawn.out.substr(0, told.out.size()), told.out);
    EXPECT_THAT(drawn.out, HasSubstr("Drawn: " + path));
    EXPECT_GT(bytes_of(path).size(), 1000U) << name;
    EXPECT_EQ(bytes_of(path).substr(0, start.size()), start) << name;
  }
}

TEST(ClipDrawing, GoesWithJsonToo) {
  const std::string path = folder() + "/with-json.svg";
  const Outcome drawn = run_line("clip " + kCorrected + " --zone 4 --json --drawing " + path);
  EXPECT_EQ(drawn.out, run_line("clip " + kCorrected + " --zone 4 --json").out);
  EXPECT_THAT(bytes_of(path), HasSubstr("<svg"));
}

TEST(ClipDrawing, EachClipOfSeveralHasItsFile) {
  const auto machine = nlohmann::json::parse(run_line("clip " + kCorrected + " --json").out);
  std::size_t clips = 0;
  for (const auto& zone : machine.at("results").at("zones")) clips += zone.at("clips").size();
  ASSERT_GT(clips, 1U);
  run_line("clip " + kCorrected + " --drawing " + folder() + "/all.svg");
  EXPECT_FALSE(fs::exists(folder() + "/all.svg"));
  for (std::size_t i = 1; i <= clips; ++i)
    EXPECT_TRUE(fs::exists(folder() + "/all-" + std::to_string(i) + ".svg")) << i;
  EXPECT_FALSE(fs::exists(folder() + "/all-" + std::to_string(clips + 1) + ".svg"));
}

TEST(ClipDrawing, IsNeverWrittenOverAFileUnasked) {
  const std::string path = file_with("there.svg", "mine");
  const Outcome refused = run_line("clip " + kCorrected + " --zone 4 --drawing " + path);
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_EQ(refused.out, "");
  EXPECT_THAT(refused.err, HasSubstr("--replace"));
  EXPECT_EQ(bytes_of(path), "mine");
  EXPECT_NE(run_line("clip " + kCorrected + " --zone 4 --replace --drawing " + path).exit_code, 2);
  EXPECT_THAT(bytes_of(path), HasSubstr("<svg"));
}

TEST(ClipDrawing, AWrongEndingAndNothingToDrawAreTold) {
  const Outcome ending = run_line("clip " + kCorrected + " --drawing " + folder() + "/alarm.jpg");
  EXPECT_EQ(ending.exit_code, 2);
  EXPECT_THAT(ending.err, HasSubstr(".svg, .pdf or .png"));
  const std::string site = file_with("no-clips.site.json", workshop());
  const Outcome nothing = run_line("clip " + site + " --drawing " + folder() + "/nothing.svg");
  EXPECT_EQ(nothing.exit_code, 2);
  EXPECT_THAT(nothing.err, HasSubstr("nothing to draw"));
  EXPECT_FALSE(fs::exists(folder() + "/nothing.svg"));
}

}  // namespace
}  // namespace zoneproof::cli
