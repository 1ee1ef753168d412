// A set of files that is written is written whole: a full disk, a file in the way and a folder that is none leave what
// was there before.
#include "cli/saved_files.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>

#include <csignal>
#include <filesystem>
#include <fstream>

#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

const std::string kDemo = std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/kiln-yard-corrected.site.json";

std::string bytes(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::size_t things_in(const std::string& path) {
  return static_cast<std::size_t>(std::distance(fs::recursive_directory_iterator(path), {}));
}

/// No file may grow beyond so many bytes: to a program the same as a disk that is full there.
class FullDisk {
 public:
  explicit FullDisk(rlim_t most) {
    before_ = std::signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &old_);
    const rlimit now{most, old_.rlim_max};
    setrlimit(RLIMIT_FSIZE, &now);
  }
  ~FullDisk() {
    setrlimit(RLIMIT_FSIZE, &old_);
    std::signal(SIGXFSZ, before_);
  }
  FullDisk(const FullDisk&) = delete;
  FullDisk& operator=(const FullDisk&) = delete;

 private:
  rlimit old_{};
  void (*before_)(int) = SIG_DFL;
};

TEST(SavedFiles, AreAllThereWithTheirFolders) {
  const std::string at = folder() + "/new";
  EXPECT_TRUE(save_all({{at + "/one", "1"}, {at + "/in/two", "22"}}, {}, false).empty());
  EXPECT_EQ(bytes(at + "/one"), "1");
  EXPECT_EQ(bytes(at + "/in/two"), "22");
  EXPECT_EQ(things_in(at), 3U) << "nothing else is left";
}

TEST(SavedFiles, LeaveNothingOnAFullDisk) {
  const std::string at = folder() + "/full";
  std::vector<Message> problems;
  {
    const FullDisk full(100);
    problems = save_all({{at + "/one", "1"}, {at + "/in/two", std::string(500, 'x')}}, {}, false);
  }
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(text(problems.front()), HasSubstr(at + "/in/two was not written"));
  EXPECT_FALSE(fs::exists(at));
}

TEST(SavedFiles, KeepTheEarlierOnesOnAFullDisk) {
  const std::string at = folder() + "/kept";
  ASSERT_TRUE(save_all({{at + "/one", "old"}, {at + "/two", "old"}}, {}, false).empty());
  {
    const FullDisk full(100);
    EXPECT_EQ(save_all({{at + "/one", "new"}, {at + "/two", std::string(500, 'x')}}, {}, true).size(), 1U);
  }
  EXPECT_EQ(bytes(at + "/one"), "old");
  EXPECT_EQ(bytes(at + "/two"), "old");
  EXPECT_EQ(things_in(at), 2U);
}

TEST(SavedFiles, TellOnceThatManyAreThere) {
  const std::string at = folder() + "/there";
  const std::vector<FileToSave> files = {{at + "/one", "1"}, {at + "/two", "2"}, {at + "/three", "3"}};
  ASSERT_TRUE(save_all({files[0], files[2]}, {}, false).empty());
  const std::vector<Message> problems = save_all(files, {}, false);
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(text(problems.front()), HasSubstr("2 of the files"));
  EXPECT_THAT(text(problems.front()), HasSubstr(at + "/one"));
  EXPECT_FALSE(fs::exists(at + "/two"));
}

TEST(SavedFiles, FollowLinksAndKeepRights) {
  const std::string at = folder() + "/linked";
  ASSERT_TRUE(save_all({{at + "/real", "old"}, {at + "/other", "old"}}, {}, false).empty());
  fs::create_symlink("real", at + "/link");
  fs::permissions(at + "/real", fs::perms::owner_read | fs::perms::owner_write);
  ASSERT_TRUE(save_all({{at + "/link", "new"}, {at + "/other", "new"}}, {}, true).empty());
  EXPECT_TRUE(fs::is_symlink(at + "/link"));
  EXPECT_EQ(bytes(at + "/real"), "new");
  EXPECT_EQ(fs::status(at + "/real").permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST(AFolderToWriteInto, IsToldApartFromAFileAndFromWhatCannotBeLookedAt) {
  EXPECT_FALSE(folder_problem(folder()));
  EXPECT_FALSE(folder_problem(folder() + "/not-yet"));
  EXPECT_EQ(folder_problem(file_with("plain", "x"))->code, "folder_is_file");
  EXPECT_EQ(folder_problem(folder() + "/" + std::string(300, 'a'))->code, "folder_not_made");
}

TEST(AHandoverFile, IsRefusedWithAMessageForAFolderThatNoFileSystemTakes) {
  const Outcome refused = run_line("handover " + kDemo + " -o " + folder() + "/" + std::string(300, 'a'));
  EXPECT_EQ(refused.exit_code, 3) << "as for every output that could not be written";
  EXPECT_THAT(refused.err, HasSubstr("could not be made"));
}

TEST(ADrawing, OfAllSheetsIsWrittenWholeOrNotAtAll) {
  const std::string at = folder() + "/sheets";
  fs::create_directories(at);
  file_with("sheets/wiring-3.svg", "mine");
  const Outcome refused = run_line("draw " + kDemo + " wiring -o " + at + "/wiring.svg");
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("wiring-3.svg is there already"));
  EXPECT_EQ(things_in(at), 1U);
}

TEST(ADrawing, OfSheetsInAFolderThatIsMissingTellsItOnce) {
  const Outcome refused = run_line("draw " + kDemo + " wiring -o " + folder() + "/nowhere/wiring.svg");
  EXPECT_EQ(refused.exit_code, 2);
  const std::size_t first = refused.err.find("There is no folder");
  ASSERT_NE(first, std::string::npos);
  EXPECT_EQ(refused.err.find("There is no folder", first + 1), std::string::npos);
}

TEST(ADrawing, ThatIsOfTheWholeSiteTakesNoId) {
  const Outcome refused = run_line("draw " + kDemo + " plan -o " + folder() + "/plan.pdf --of ground");
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("Leave --of out"));
}

}  // namespace
}  // namespace zoneproof::cli
