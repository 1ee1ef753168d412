// A set of files that is written is written whole: a full disk, a file in the way and a folder that is none leave what
// was there before.
#include "cli/saved_files.hpp"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <thread>

#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

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
  EXPECT_EQ(bytes_of(at + "/one"), "1");
  EXPECT_EQ(bytes_of(at + "/in/two"), "22");
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
  EXPECT_EQ(bytes_of(at + "/one"), "old");
  EXPECT_EQ(bytes_of(at + "/two"), "old");
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
  EXPECT_EQ(bytes_of(at + "/real"), "new");
  EXPECT_EQ(fs::status(at + "/real").permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST(AFolderToWriteInto, IsToldApartFromAFileAndFromWhatCannotBeLookedAt) {
  EXPECT_FALSE(folder_problem(folder()));
  EXPECT_FALSE(folder_problem(folder() + "/not-yet"));
  EXPECT_EQ(folder_problem(file_with("plain", "x"))->code, "folder_is_file");
  EXPECT_EQ(folder_problem(folder() + "/" + std::string(300, 'a'))->code, "folder_unusable");
}

TEST(AFolderToWriteInto, IsMadeButNoneAboveIt) {
  EXPECT_FALSE(folder_problem(folder() + "/not-yet/"));
  EXPECT_FALSE(folder_problem("not-yet"));
  EXPECT_EQ(folder_problem(folder() + "/nowhere/papers")->code, "folder_missing");
  EXPECT_EQ(folder_problem(folder() + "/nowhere/papers/")->code, "folder_missing");
}

// The same mistake, the same answer: a command that fills a folder, and one that writes a file.
TEST(AFolderThatIsMissingAboveTheOutput, IsToldByEveryCommandThatDraws) {
  for (const std::string& line : {"handover " + kCorrected + " -o " + folder() + "/nowhere/papers",
                                  "draw " + kCorrected + " plan -o " + folder() + "/nowhere/p.pdf",
                                  "sight " + kCorrected + " --pictures " + folder() + "/nowhere/pictures"}) {
    const Outcome refused = run_line(line);
    EXPECT_EQ(refused.exit_code, 2) << line;
    EXPECT_THAT(refused.err, HasSubstr("There is no folder")) << line;
  }
  EXPECT_FALSE(fs::exists(folder() + "/nowhere"));
}

TEST(SavedFiles, AreSetAsideWhereThatIsAskedFor) {
  const std::string at = folder() + "/aside";
  ASSERT_TRUE(save_all({{at + "/one.csv", "mine"}, {at + "/two", "old"}}, {}, false).empty());
  const std::string aside = name_to_set_aside(at + "/one.csv");
  EXPECT_EQ(fs::path(aside).filename(), "one.changed-1.csv");
  ASSERT_TRUE(save_all({{at + "/one.csv", "new", aside}, {at + "/two", "new"}}, {}, true).empty());
  EXPECT_EQ(bytes_of(aside), "mine");
  EXPECT_EQ(bytes_of(at + "/one.csv"), "new");
  EXPECT_EQ(fs::path(name_to_set_aside(at + "/one.csv")).filename(), "one.changed-2.csv");
}

TEST(SavedFiles, AreBackInTheirPlaceWhereSettingAsideOrMovingFails) {
  const std::string at = folder() + "/back";
  ASSERT_TRUE(save_all({{at + "/one", "mine"}, {at + "/two", "old"}}, {}, false).empty());
  EXPECT_FALSE(
      save_all({{at + "/one", "new", at + "/one.changed-1"}, {at + "/two", "new", at + "/nowhere/two"}}, {}, true)
          .empty());
  EXPECT_EQ(bytes_of(at + "/one"), "mine");
  EXPECT_EQ(bytes_of(at + "/two"), "old");
  EXPECT_EQ(things_in(at), 2U);
}

TEST(ALeftover, IsKnownByItsName) {
  EXPECT_EQ(target_of_leftover("plan.svg.saving-4711"), "plan.svg");
  EXPECT_EQ(target_of_leftover("plan.svg.saving-4711-0"), "plan.svg") << "of a file that is written by itself";
  EXPECT_EQ(target_of_leftover("plan.svg.saving-4711.saving-4711-0"), "plan.svg") << "while one of several is written";
  for (const char* other : {"plan.svg", "plan.svg.saving-", ".saving-1", "plan.svg.saving-1.bak", "plan.saving-x"})
    EXPECT_EQ(target_of_leftover(other), "") << other;
}

TEST(WhatAKilledRunLeft, IsRemovedBesideTheFilesThatAreWrittenAndNobodyElses) {
  const std::string at = folder() + "/left";
  fs::create_directories(at);
  for (const char* name : {"one.saving-1", "one.saving-1.saving-1-0", "past.saving-7", "strange.saving-1"})
    file_with(std::string("left/") + name, "half");
  ASSERT_TRUE(save_all({{at + "/one", "1"}, {at + "/two", "2"}}, {}, true, {at + "/past"}).empty());
  EXPECT_EQ(things_in(at), 3U) << "one, two, and what is of no file of these";
  EXPECT_TRUE(fs::exists(at + "/strange.saving-1"));
}

TEST(WhatARunThatIsAliveWrites, IsWaitedFor) {
  const std::string at = folder() + "/alive";
  fs::create_directories(at);
  const std::string half = file_with("alive/one.saving-1", "half");
  const int other = ::open(at.c_str(), O_RDONLY | O_DIRECTORY);
  ASSERT_EQ(::flock(other, LOCK_EX), 0);
  std::thread waiting([&] { save_all({{at + "/one", "1"}, {at + "/two", "2"}}, {}, true); });
  std::this_thread::sleep_for(std::chrono::milliseconds(100));
  EXPECT_TRUE(fs::exists(half));
  EXPECT_FALSE(fs::exists(at + "/one"));
  ::close(other);
  waiting.join();
  EXPECT_FALSE(fs::exists(half));
  EXPECT_EQ(bytes_of(at + "/one"), "1");
}

TEST(AHandoverFile, IsRefusedWithAMessageForAFolderThatNoFileSystemTakes) {
  const Outcome refused = run_line("handover " + kCorrected + " -o " + folder() + "/" + std::string(300, 'a'));
  EXPECT_EQ(refused.exit_code, 2) << "what was typed is no folder";
  EXPECT_THAT(refused.err, HasSubstr("cannot be a folder"));
}

TEST(ADrawing, OfAllSheetsIsWrittenWholeOrNotAtAll) {
  const std::string at = folder() + "/sheets";
  fs::create_directories(at);
  file_with("sheets/wiring-3.svg", "mine");
  const Outcome refused = run_line("draw " + kCorrected + " wiring -o " + at + "/wiring.svg");
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("wiring-3.svg is there already"));
  EXPECT_EQ(things_in(at), 1U);
}

TEST(ADrawing, OfSheetsInAFolderThatIsMissingTellsItOnce) {
  const Outcome refused = run_line("draw " + kCorrected + " wiring -o " + folder() + "/nowhere/wiring.svg");
  EXPECT_EQ(refused.exit_code, 2);
  const std::size_t first = refused.err.find("There is no folder");
  ASSERT_NE(first, std::string::npos);
  EXPECT_EQ(refused.err.find("There is no folder", first + 1), std::string::npos);
}

TEST(ADrawing, ThatIsOfTheWholeSiteTakesNoId) {
  const Outcome refused = run_line("draw " + kCorrected + " plan -o " + folder() + "/plan.pdf --of ground");
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("Leave --of out"));
}

}  // namespace
}  // namespace zoneproof::cli
