// The command book: what a person reads and types, and its exit codes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cli/workshop.hpp"

namespace zoneproof::cli {

namespace {

using testing::HasSubstr;
using testing::StartsWith;

const std::string kDemoFolder = std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/";

/// A command line of a book of this test's own.
class BookCommand : public testing::Test {
 protected:
  BookCommand() { std::filesystem::remove_all(place()); }

  static std::string place() { return folder() + "/book"; }
  static Outcome run(const std::string& line) { return run_line("book " + line + " --book " + place()); }
  static Outcome imported(const std::string& demo) {
    return run("import " + kDemoFolder + demo + ".site.json --as yard --who Ada --why because");
  }
  static std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }
};

TEST_F(BookCommand, KeepsWhatIsImportedAndGivesItBackByteForByte) {
  EXPECT_THAT(imported("kiln-yard").out, HasSubstr("is in the book as yard, revision 1."));
  EXPECT_THAT(imported("kiln-yard-corrected").out, HasSubstr("  Front door: leaf was glass and is solid.\n"));
  EXPECT_EQ(run("export yard --revision 1").out, bytes_of(kDemoFolder + "kiln-yard.site.json"));
  const std::string target = folder() + "/out.site.json";
  std::filesystem::remove(target);
  EXPECT_EQ(run("export yard --revision 1 -o " + target).exit_code, 0);
  EXPECT_EQ(bytes_of(target), bytes_of(kDemoFolder + "kiln-yard.site.json"));
  EXPECT_EQ(run("export yard -o " + target).exit_code, 2) << "what is there is not written over";
  EXPECT_EQ(run("export yard --replace -o " + target).exit_code, 0);
}

TEST_F(BookCommand, TellsWhoWhenWhyAndWhat) {
  imported("kiln-yard");
  imported("kiln-yard-corrected");
  const Outcome log = run("log yard");
  EXPECT_EQ(log.exit_code, 0);
  EXPECT_THAT(log.out, testing::ContainsRegex("2  20..-..-.. ..:.. UTC  Ada  because\n *1  20"));
  const Outcome shown = run("show yard");
  EXPECT_THAT(shown.out, HasSubstr("Because: because"));
  EXPECT_THAT(shown.out, HasSubstr("Zone 8 (Back window): loop/eol_place was at_panel and is at_end."));
  EXPECT_LE(widest_line(shown.out), 100U);
  EXPECT_THAT(run("show yard --revision 1").out, HasSubstr("The first in the book; nothing is before it."));
  EXPECT_THAT(run("show yard --language de").out, HasSubstr("loop/eol_place war at_panel und ist at_end."));
  EXPECT_LE(widest_line(run("list").out), 100U);
}

TEST_F(BookCommand, ShowsTheLastRevisionsUnlessAllAreAskedFor) {
  const std::string text = workshop();
  for (int i = 0; i < 53; ++i) {
    nlohmann::json site = nlohmann::json::parse(text);
    site["note"] = "note " + std::to_string(i);
    ASSERT_EQ(run("import " + file_with("many.site.json", site.dump()) + " --as yard").exit_code, 0);
  }
  const auto lines = [](const std::string& out) { return std::count(out.begin(), out.end(), '\n'); };
  EXPECT_EQ(lines(run("log yard").out), 2 + 50 + 1);
  EXPECT_THAT(run("log yard").out, HasSubstr("Older ones: --all."));
  EXPECT_EQ(lines(run("log yard --all").out), 2 + 53);
}

TEST_F(BookCommand, BacksUpRestoresAndChecks) {
  imported("kiln-yard");
  const std::string backup = folder() + "/sites.zpbook";
  std::filesystem::remove(backup);
  EXPECT_EQ(run("backup " + backup).exit_code, 0);
  EXPECT_EQ(run("backup " + backup).exit_code, 2) << "a backup is not written over";
  EXPECT_EQ(run("backup " + backup + " --replace").exit_code, 0);
  EXPECT_EQ(run("restore " + backup).exit_code, 2) << "a book that is not empty is not filled";
  const std::string other = folder() + "/other";
  std::filesystem::remove_all(other);
  EXPECT_THAT(run_line("book restore " + backup + " --book " + other).out, HasSubstr("sites 1, revisions 1, files 0"));
  EXPECT_EQ(run_line("book check --book " + other).exit_code, 0);
  std::ofstream(other + "/book.sqlite") << "no database";
  const Outcome damaged = run_line("book check --book " + other);
  EXPECT_EQ(damaged.exit_code, 2);
  EXPECT_THAT(damaged.err, HasSubstr("no book of this program"));
}

TEST_F(BookCommand, SaysWhatIsWrongWithTheLine) {
  EXPECT_THAT(run("list").err, StartsWith("There is no book in"));
  EXPECT_EQ(run("list").exit_code, 2);
  EXPECT_FALSE(std::filesystem::exists(place())) << "looking makes no book";
  EXPECT_THAT(run("frobnicate").err, HasSubstr("list, log, show, import, export, backup, restore, check"));
  EXPECT_THAT(run("log").err, HasSubstr("book log needs"));
  EXPECT_THAT(run("list yard").err, HasSubstr("yard"));
  EXPECT_EQ(run("import nowhere.site.json").exit_code, 2);
  EXPECT_FALSE(std::filesystem::exists(place())) << "nor does a file that is not there";
  imported("kiln-yard");
  EXPECT_EQ(run("show yard --revision one").exit_code, 2);
  EXPECT_EQ(run("show yard --revision 2").exit_code, 2);
  EXPECT_EQ(run("show mill").exit_code, 2);
  EXPECT_EQ(run("import " + kDemoFolder + "saltmarsh.site.json --as Yard").exit_code, 2);
  const Outcome secret = run_line("book list --book " + place() + " --postgresql host=x,password=hunter2");
  EXPECT_EQ(secret.exit_code, 2);
  EXPECT_THAT(secret.err, testing::Not(HasSubstr("hunter2")));
}

}  // namespace

}  // namespace zoneproof::cli
