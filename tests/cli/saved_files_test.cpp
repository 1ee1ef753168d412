// A set of files that is written is written whole: a full disk, a file in the way and a folder that is none leave what
// was there before.
#include "cli/saved_files.hpp"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <functional>
#include <utility>
#include <vector>

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
  EXPECT_TRUE(save_all({{at + "/one", "1"}, {at + "/in/two", "22"}}, {}).empty());
  EXPECT_EQ(bytes_of(at + "/one"), "1");
  EXPECT_EQ(bytes_of(at + "/in/two"), "22");
  EXPECT_EQ(things_in(at), 3U) << "nothing else is left";
}

TEST(SavedFiles, LeaveNothingOnAFullDisk) {
  const std::string at = folder() + "/full";
  std::vector<Message> problems;
  {
    const FullDisk full(100);
    problems = save_all({{at + "/one", "1"}, {at + "/in/two", std::string(500, 'x')}}, {});
  }
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(text(problems.front()), HasSubstr(at + "/in/two was not written"));
  EXPECT_FALSE(fs::exists(at));
}

TEST(SavedFiles, KeepTheEarlierOnesOnAFullDisk) {
  const std::string at = folder() + "/earlier";
  ASSERT_TRUE(save_all({{at + "/one", "old"}, {at + "/two", "old"}}, {}).empty());
  {
    const FullDisk full(100);
    EXPECT_EQ(save_all({{at + "/one", "new"}, {at + "/two", std::string(500, 'x')}}, {{}, true}).size(), 1U);
  }
  EXPECT_EQ(bytes_of(at + "/one"), "old");
  EXPECT_EQ(bytes_of(at + "/two"), "old");
  EXPECT_EQ(things_in(at), 2U);
}

TEST(SavedFiles, TellOnceThatManyAreThere) {
  const std::string at = folder() + "/there";
  const std::vector<FileToSave> files = {{at + "/one", "1"}, {at + "/two", "2"}, {at + "/three", "3"}};
  ASSERT_TRUE(save_all({files[0], files[2]}, {}).empty());
  const std::vector<Message> problems = save_all(files, {});
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_THAT(text(problems.front()), HasSubstr("2 of the files"));
  EXPECT_THAT(text(problems.front()), HasSubstr(at + "/one"));
  EXPECT_FALSE(fs::exists(at + "/two"));
}

TEST(SavedFiles, FollowLinksAndKeepRights) {
  const std::string at = folder() + "/linked";
  ASSERT_TRUE(save_all({{at + "/real", "old"}, {at + "/other", "old"}}, {}).empty());
  fs::create_symlink("real", at + "/link");
  fs::permissions(at + "/real", fs::perms::owner_read | fs::perms::owner_write);
  ASSERT_TRUE(save_all({{at + "/link", "new"}, {at + "/other", "new"}}, {{}, true}).empty());
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

TEST(SavedFiles, AreSetAsideWhereThatIsAskedForUnderANameThatIsFree) {
  const std::string at = folder() + "/aside";
  ASSERT_TRUE(save_all({{at + "/one.csv", "mine"}, {at + "/two", "old"}}, {}).empty());
  EXPECT_EQ(fs::path(name_to_set_aside(at + "/one.csv", 1)).filename(), "one.changed-1.csv");
  file_with("aside/one.changed-1.csv", "of last time");
  Saving saving({{at + "/one.csv", "new"}, {at + "/two", "new"}}, {{}, true});
  ASSERT_TRUE(saving.ready());
  ASSERT_TRUE(saving.write({at + "/one.csv"}));
  ASSERT_EQ(saving.set_aside().size(), 1U);
  EXPECT_EQ(saving.set_aside()[0].path, at + "/one.csv");
  EXPECT_EQ(fs::path(saving.set_aside()[0].as).filename(), "one.changed-2.csv");
  EXPECT_EQ(bytes_of(saving.set_aside()[0].as), "mine");
  EXPECT_EQ(bytes_of(at + "/one.changed-1.csv"), "of last time");
  EXPECT_EQ(bytes_of(at + "/one.csv"), "new");
}

// Two names of one file: what the second is to replace has gone with the first.
TEST(SavedFiles, AreBackInTheirPlaceWhereSettingAsideFails) {
  const std::string at = folder() + "/back";
  ASSERT_TRUE(save_all({{at + "/one", "mine"}, {at + "/two", "mine too"}}, {}).empty());
  fs::create_symlink("two", at + "/again");
  Saving saving({{at + "/one", "new"}, {at + "/two", "new"}, {at + "/again", "new"}}, {{}, true});
  ASSERT_TRUE(saving.ready());
  EXPECT_FALSE(saving.write({at + "/one", at + "/two", at + "/again"}));
  EXPECT_EQ(saving.problems().size(), 1U);
  EXPECT_TRUE(saving.set_aside().empty());
  EXPECT_EQ(bytes_of(at + "/one"), "mine");
  EXPECT_EQ(bytes_of(at + "/two"), "mine too");
  EXPECT_EQ(things_in(at), 3U);
}

TEST(SavedFiles, AreToldWhereTheyLieAlsoWhenALaterOneFails) {
  const std::string at = folder() + "/later";
  ASSERT_TRUE(save_all({{at + "/one", "mine"}, {at + "/two", "old"}}, {}).empty());
  fs::create_symlink("two", at + "/again");
  Saving saving({{at + "/one", "new"}, {at + "/two", "new"}, {at + "/again", "new"}}, {{}, true});
  ASSERT_TRUE(saving.ready());
  EXPECT_FALSE(saving.write({at + "/one"}));
  ASSERT_EQ(saving.set_aside().size(), 1U);
  EXPECT_EQ(bytes_of(saving.set_aside()[0].as), "mine");
  ASSERT_EQ(saving.problems().size(), 2U);
  EXPECT_EQ(saving.problems()[0].code, "file_not_written");
  EXPECT_THAT(text(saving.problems()[1]), HasSubstr(at + "/one, " + at + "/two")) << "what is new all the same";
}

TEST(SavedFiles, OfWhichOneIsNoFileAreRefusedBeforeAnyIsWritten) {
  const std::string at = folder() + "/mixed";
  fs::create_directories(at + "/inside");
  ASSERT_EQ(::mkfifo((at + "/pipe").c_str(), 0600), 0);
  for (const auto& [name, code] : {std::pair("pipe", "output_is_stream"), std::pair("inside", "file_is_folder")}) {
    const auto problems = save_all({{at + "/one", "1"}, {at + "/" + name, "2"}}, {{}, true});
    ASSERT_EQ(problems.size(), 1U) << name;
    EXPECT_EQ(problems[0].code, code);
  }
  EXPECT_EQ(things_in(at), 2U);
  EXPECT_TRUE(fs::is_fifo(at + "/pipe"));
}

TEST(SavedFiles, ThatNobodyMayWriteStay) {
  const std::string at = folder() + "/protected";
  ASSERT_TRUE(save_all({{at + "/one", "old"}, {at + "/two", "old"}}, {}).empty());
  fs::permissions(at + "/two", fs::perms::owner_read);
  const auto problems = save_all({{at + "/one", "new"}, {at + "/two", "new"}}, {{}, true});
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_EQ(problems[0].code, "file_write_protected");
  EXPECT_EQ(bytes_of(at + "/one"), "old");
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
  ASSERT_TRUE(save_all({{at + "/one", "1"}, {at + "/two", "2"}}, {{}, true, {at + "/past"}}).empty());
  EXPECT_EQ(things_in(at), 3U) << "one, two, and what is of no file of these";
  EXPECT_TRUE(fs::exists(at + "/strange.saving-1"));
}

/// Another run that writes into a folder, until it ends.
class OtherRun {
 public:
  explicit OtherRun(const std::string& at) : number_(::open(at.c_str(), O_RDONLY | O_DIRECTORY)) {
    EXPECT_EQ(::flock(number_, LOCK_EX | LOCK_NB), 0);
  }
  ~OtherRun() { end(); }
  OtherRun(const OtherRun&) = delete;
  OtherRun& operator=(const OtherRun&) = delete;
  void end() {
    if (number_ >= 0) ::close(std::exchange(number_, -1));
  }

 private:
  int number_;
};

/// Where a run waits for another, `meanwhile` happens and then the other one ends. The codes of what is told of it.
Waiting waiting_with(OtherRun& other, std::vector<std::string>& told, std::function<void()> meanwhile) {
  return {[&other, &told, meanwhile = std::move(meanwhile)](const Message& message) {
    told.push_back(message.code);
    meanwhile();
    other.end();
  }};
}

TEST(WhatARunThatIsAliveWrites, IsWaitedForAndThatIsTold) {
  const std::string at = folder() + "/alive";
  fs::create_directories(at);
  const std::string half = file_with("alive/one.saving-1", "half");
  OtherRun other(at);
  std::vector<std::string> told;
  bool stays = false;
  const auto problems = save_all({{at + "/one", "1"}, {at + "/two", "2"}},
                                 {{}, true, {}, waiting_with(other, told, [&] { stays = fs::exists(half); })});
  EXPECT_TRUE(problems.empty());
  EXPECT_EQ(told, std::vector<std::string>{"folder_in_use"}) << "once";
  EXPECT_TRUE(stays);
  EXPECT_FALSE(fs::exists(half)) << "left by a run that was killed, since nobody has the folder any more";
  EXPECT_EQ(bytes_of(at + "/one"), "1");
}

TEST(WhatARunThatIsAliveWrites, IsNotWaitedForWithoutEnd) {
  const std::string at = folder() + "/hangs";
  fs::create_directories(at);
  OtherRun other(at);
  std::vector<std::string> told;
  const auto tell = [&](const Message& message) { told.push_back(message.code); };
  const auto problems =
      save_all({{at + "/one", "1"}, {at + "/new/two", "2"}}, {{}, true, {}, {tell, std::chrono::milliseconds(120)}});
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_EQ(problems[0].code, "folder_still_in_use");
  EXPECT_EQ(told.size(), 1U);
  EXPECT_EQ(things_in(at), 0U) << "no file, and no folder that was made for one";
}

// A run that fails removes the folder that it has made: who waited for it makes it anew, and has that one to itself.
TEST(AFolderThatIsWaitedFor, MayBeGoneThen) {
  const std::string at = folder() + "/gone";
  fs::create_directories(at);
  OtherRun other(at);
  std::vector<std::string> told;
  Saving saving({{at + "/one", "1"}, {at + "/two", "2"}},
                {{}, false, {}, waiting_with(other, told, [&] { fs::remove(at); })});
  ASSERT_TRUE(saving.ready());
  EXPECT_EQ(told.size(), 1U);
  const int third = ::open(at.c_str(), O_RDONLY | O_DIRECTORY);
  EXPECT_NE(::flock(third, LOCK_EX | LOCK_NB), 0) << "nobody else has it";
  ::close(third);
  EXPECT_TRUE(saving.write());
  EXPECT_EQ(bytes_of(at + "/two"), "2");
}

TEST(WhatARunThatIsAliveWrites, IsNotWrittenOverByOneThatMustReplaceNothing) {
  const std::string at = folder() + "/came";
  fs::create_directories(at);
  for (const std::vector<FileToSave>& files :
       {std::vector<FileToSave>{{at + "/one", "1"}}, {{at + "/one", "1"}, {at + "/two", "2"}}}) {
    OtherRun other(at);
    std::vector<std::string> told;
    const auto problems =
        save_all(files, {{}, false, {}, waiting_with(other, told, [] { file_with("came/one", "the other's"); })});
    ASSERT_EQ(problems.size(), 1U);
    EXPECT_EQ(problems[0].code, "output_is_there");
    EXPECT_EQ(bytes_of(at + "/one"), "the other's");
    EXPECT_EQ(things_in(at), 1U);
    fs::remove(at + "/one");
  }
}

// Who copies a file there by hand asks for no lock.
TEST(SavedFiles, DoNotWriteOverWhatComesAfterTheyHaveLooked) {
  const std::string at = folder() + "/by-hand";
  fs::create_directories(at);
  for (const bool replace : {false, true}) {
    Saving saving({{at + "/one", "1"}, {at + "/two", "2"}}, {{}, replace});
    ASSERT_TRUE(saving.ready());
    file_with("by-hand/one", "mine");
    EXPECT_FALSE(saving.write());
    ASSERT_EQ(saving.problems().size(), 1U);
    EXPECT_EQ(saving.problems()[0].code, "file_not_written");
    EXPECT_EQ(bytes_of(at + "/one"), "mine");
    EXPECT_EQ(things_in(at), 1U);
    fs::remove(at + "/one");
  }
}

TEST(AStream, IsWrittenIntoThoughAnotherRunHasTheFolderWhereItStands) {
  const std::string at = folder() + "/streams";
  fs::create_directories(at);
  ASSERT_EQ(::mkfifo((at + "/plan.svg").c_str(), 0600), 0);
  const int reader = ::open((at + "/plan.svg").c_str(), O_RDONLY | O_NONBLOCK);
  const OtherRun other(at);
  const Waiting impatient = {[](const Message& message) { ADD_FAILURE() << text(message); },
                             std::chrono::milliseconds(0)};
  EXPECT_TRUE(save_all({{at + "/plan.svg", "drawing"}}, {{}, false, {}, impatient}).empty());
  char read_back[16] = {};
  EXPECT_EQ(::read(reader, read_back, sizeof read_back), 7);
  EXPECT_STREQ(read_back, "drawing");
  ::close(reader);
  const auto nobody = save_all({{at + "/plan.svg", "drawing"}}, {{}, false, {}, impatient});
  ASSERT_EQ(nobody.size(), 1U) << "nobody reads it: told, not waited for";
  EXPECT_EQ(nobody[0].code, "file_not_written");
  EXPECT_TRUE(save_all({{"/dev/null", "drawing"}}, {{}, false, {}, impatient}).empty());
  EXPECT_EQ(things_in(at), 1U);
}

// "> FILE" of a shell makes the file before the program starts: that it is there is no reason to refuse.
TEST(AStream, ThatAShellHasOpenedIsNoFileInTheWay) {
  const std::string file = file_with("redirected", "");
  const int number = ::open(file.c_str(), O_WRONLY);
  const Outcome done = run_line("netlist " + kCorrected + " -o /dev/fd/" + std::to_string(number));
  EXPECT_EQ(done.exit_code, 0) << done.err;
  EXPECT_THAT(bytes_of(file), HasSubstr(".end"));
  ::close(number);
  EXPECT_EQ(run_line("netlist " + kCorrected + " -o " + file).exit_code, 2)
      << "a name that was typed is another matter";
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
  const Outcome refused = run_line("draw " + kCorrected + " plan -o " + folder() + "/plan-of-one.pdf --of ground");
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.err, HasSubstr("Leave --of out"));
}

}  // namespace
}  // namespace zoneproof::cli
