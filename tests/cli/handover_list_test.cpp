// A handover file that replaces one of an earlier revision leaves nothing of that one in the folder, and takes nothing
// that somebody else put there.
#include "cli/handover_list.hpp"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>

#include "base/sha256.hpp"
#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;

void put(const fs::path& path, const std::string& text) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

/// A folder with an earlier handover file: two of its tables, and the list of them.
fs::path with_earlier(const std::string& name, HandoverList& list) {
  const fs::path at = fs::path(folder()) / name;
  for (const char* file : {"tables/old.csv", "tables/stays.csv"}) {
    put(at / file, file);
    list.hashes[file] = sha256_hex(file);
  }
  put(at / kHandoverList, text_of(list));
  return at;
}

TEST(AListOfHandoverFiles, ReadsWhatItWrote) {
  HandoverList list;
  const fs::path at = with_earlier("reads", list);
  std::vector<Message> notes;
  EXPECT_EQ(list_in(at.string(), notes).hashes, list.hashes);
  EXPECT_TRUE(notes.empty());
  EXPECT_TRUE(list_in((at / "nowhere").string(), notes).hashes.empty());
  EXPECT_TRUE(notes.empty());
}

TEST(AListOfHandoverFiles, RemovesWhatIsPastAndIsAsItWasWritten) {
  HandoverList before, now;
  const fs::path at = with_earlier("removes", before);
  now.hashes["tables/stays.csv"] = before.hashes.at("tables/stays.csv");
  const std::vector<Message> notes = remove_what_is_past(at.string(), before, now);
  ASSERT_EQ(notes.size(), 1U);
  EXPECT_THAT(text(notes.front()), HasSubstr("tables/old.csv"));
  EXPECT_FALSE(fs::exists(at / "tables/old.csv"));
  EXPECT_TRUE(fs::exists(at / "tables/stays.csv"));
}

TEST(AListOfHandoverFiles, LeavesWhatSomebodyChangedOrPutThereAndSaysSo) {
  HandoverList before;
  const fs::path at = with_earlier("leaves", before);
  put(at / "tables/old.csv", "written over by hand");
  put(at / "drawings/mine.svg", "a stranger's");
  put(at / "letter.txt", "of no kind that a handover file has");
  const std::vector<Message> notes = remove_what_is_past(at.string(), before, {});
  ASSERT_EQ(notes.size(), 2U);
  EXPECT_THAT(text(notes.front()), HasSubstr("tables/stays.csv"));
  EXPECT_THAT(text(notes.back()), HasSubstr("tables/old.csv"));
  EXPECT_THAT(text(notes.back()), HasSubstr("drawings/mine.svg"));
  EXPECT_EQ(bytes_of(at / "tables/old.csv"), "written over by hand");
  EXPECT_TRUE(fs::exists(at / "drawings/mine.svg"));
  EXPECT_TRUE(fs::exists(at / "letter.txt"));
}

TEST(AListOfHandoverFiles, TellsWhatWouldBeWrittenOverThoughNobodyListedItSo) {
  HandoverList before, now;
  const fs::path at = with_earlier("changed", before);
  put(at / "tables/old.csv", "written over by hand");
  put(at / "tables/mine.csv", "put there by hand");
  put(at / "tables/same.csv", "the new bytes already");
  for (const char* name : {"tables/old.csv", "tables/stays.csv", "tables/mine.csv", "tables/fresh.csv"})
    now.hashes[name] = sha256_hex("new");
  now.hashes["tables/same.csv"] = sha256_hex("the new bytes already");
  EXPECT_THAT(changed_in(at.string(), before, now), testing::ElementsAre("tables/mine.csv", "tables/old.csv"));
}

TEST(Handover, WithReplaceKeepsWhatSomebodyChangedUnderAnotherName) {
  const std::string site = file_with("kept.site.json", workshop()), at = folder() + "/kept";
  ASSERT_EQ(run_line("handover " + site + " -o " + at).err, "");
  put(fs::path(at) / "tables/chains.csv", "my remarks");
  const Outcome second = run_line("handover " + site + " -o " + at + " --replace");
  EXPECT_THAT(second.out, HasSubstr("tables/chains.csv as chains.changed-1.csv"));
  EXPECT_EQ(bytes_of(fs::path(at) / "tables/chains.changed-1.csv"), "my remarks");
  EXPECT_THAT(bytes_of(fs::path(at) / "tables/chains.csv"), HasSubstr("zone"));
  const Outcome third = run_line("handover " + site + " -o " + at + " --replace");
  EXPECT_THAT(third.out, Not(HasSubstr("changed-"))) << "told once, and it stays";
  EXPECT_EQ(bytes_of(fs::path(at) / "tables/chains.changed-1.csv"), "my remarks");
}

/// How often this process has a folder open.
int times_open(const fs::path& folder) {
  int times = 0;
  for (const auto& number : fs::directory_iterator("/proc/self/fd")) {
    std::error_code gone;
    times += fs::read_symlink(number.path(), gone) == folder ? 1 : 0;
  }
  return times;
}

// What is changed, and which names are taken, is looked at when nobody else writes there any more.
TEST(Handover, WithReplaceKeepsWhatIsChangedWhileItWaitsForAnotherRun) {
  const std::string site = file_with("waits.site.json", workshop());
  const fs::path at = fs::canonical(folder()) / "waits";
  ASSERT_EQ(run_line("handover " + site + " -o " + at.string()).err, "");
  const int other = ::open(at.c_str(), O_RDONLY | O_DIRECTORY);
  ASSERT_EQ(::flock(other, LOCK_EX), 0);
  Outcome second;
  std::thread run([&] { second = run_line("handover " + site + " -o " + at.string() + " --replace"); });
  while (times_open(at) < 2) std::this_thread::sleep_for(std::chrono::milliseconds(1));  // until it asks for the folder
  put(at / "tables/chains.csv", "my remarks");
  put(at / "tables/chains.changed-1.csv", "my earlier remarks");
  ::close(other);
  run.join();
  EXPECT_THAT(second.err, HasSubstr("Another run is writing in"));
  EXPECT_THAT(second.out, HasSubstr("tables/chains.csv as chains.changed-2.csv"));
  EXPECT_EQ(bytes_of(at / "tables/chains.changed-1.csv"), "my earlier remarks");
  EXPECT_EQ(bytes_of(at / "tables/chains.changed-2.csv"), "my remarks");
}

TEST(Handover, WithReplaceTellsTheWholePathOfWhatALinkLedTo) {
  const std::string site = file_with("linked.site.json", workshop());
  const fs::path at = fs::path(folder()) / "linked", elsewhere = fs::canonical(folder()) / "elsewhere";
  ASSERT_EQ(run_line("handover " + site + " -o " + at.string()).err, "");
  put(elsewhere / "mine.csv", "my remarks");
  fs::remove(at / "tables/chains.csv");
  fs::create_symlink(elsewhere / "mine.csv", at / "tables/chains.csv");
  const Outcome second = run_line("handover " + site + " -o " + at.string() + " --replace");
  std::string told = second.out;  // in one line
  std::replace(told.begin(), told.end(), '\n', ' ');
  EXPECT_THAT(told, HasSubstr("tables/chains.csv as " + (elsewhere / "mine.changed-1.csv").string()));
  EXPECT_EQ(bytes_of(elsewhere / "mine.changed-1.csv"), "my remarks");
}

// Two names of one file: what the second is to be is gone when the first is written.
TEST(Handover, WithReplaceTellsWhatItSetAsideAlsoWhereItFailsLater) {
  const std::string site = file_with("fails.site.json", workshop());
  const fs::path at = fs::path(folder()) / "fails";
  ASSERT_EQ(run_line("handover " + site + " -o " + at.string()).err, "");
  put(at / "tables/chains.csv", "my remarks");
  fs::remove(at / kHandoverList);
  fs::create_symlink("handover.pdf", at / kHandoverList);
  const Outcome second = run_line("handover " + site + " -o " + at.string() + " --replace");
  EXPECT_EQ(second.exit_code, 3);
  EXPECT_EQ(second.out, "");
  EXPECT_THAT(second.err, HasSubstr("tables/chains.csv as chains.changed-1.csv"));
  EXPECT_EQ(bytes_of(at / "tables/chains.changed-1.csv"), "my remarks");
}

TEST(AListOfHandoverFiles, LeadsNowhereElse) {
  const fs::path at = fs::path(folder()) / "list";
  const fs::path outside = fs::path(folder()) / "outside.csv";
  put(outside, "outside");
  put(at / "tables/link.csv", "");
  fs::remove(at / "tables/link.csv");
  fs::create_symlink(outside, at / "tables/link.csv");
  const std::string hash = sha256_hex("outside");
  const nlohmann::json list = {{"format", "zoneproof-handover-files"},
                               {"version", 1},
                               {"files",
                                {{"../outside.csv", hash},
                                 {"tables/../../outside.csv", hash},
                                 {outside.string(), hash},
                                 {"tables/link.csv", hash}}}};
  put(at / kHandoverList, list.dump());
  std::vector<Message> notes;
  const HandoverList read = list_in(at.string(), notes);
  EXPECT_EQ(read.hashes.size(), 1U) << "names that lead out are none";
  remove_what_is_past(at.string(), read, {});
  EXPECT_EQ(bytes_of(outside), "outside");
  EXPECT_TRUE(fs::is_symlink(at / "tables/link.csv"));
}

TEST(AListOfHandoverFiles, ThatCannotBeReadIsToldAndCountsAsNone) {
  const fs::path at = fs::path(folder()) / "unreadable";
  for (const char* spoilt :
       {"", "{", "[]", "{\"format\": 3}", "{\"format\": \"zoneproof-handover-files\", \"version\": 1}",
        "{\"format\": \"zoneproof-handover-files\", \"version\": 1, \"files\": {\"a\": 1}}"}) {
    put(at / kHandoverList, spoilt);
    std::vector<Message> notes;
    EXPECT_TRUE(list_in(at.string(), notes).hashes.empty());
    EXPECT_EQ(notes.size(), 1U) << spoilt;
  }
}

nlohmann::json parsed(const std::string& text) { return nlohmann::json::parse(text); }

TEST(Handover, WithReplaceRemovesThePagesOfAZoneThatIsNoMore) {
  const std::string site = file_with("shop.site.json", workshop()), at = folder() + "/papers";
  const Outcome first = run_line("handover " + site + " -o " + at);
  ASSERT_EQ(first.err, "");
  HandoverList listed;
  std::vector<Message> notes;
  listed = list_in(at, notes);
  std::size_t files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(at)) files += entry.is_regular_file() ? 1 : 0;
  EXPECT_EQ(listed.hashes.size() + 1, files) << "all are on the list but the list";
  for (const auto& [name, hash] : listed.hashes) EXPECT_EQ(sha256_hex(bytes_of(fs::path(at) / name)), hash) << name;

  nlohmann::json less = parsed(workshop());
  less["units"] = nlohmann::json::object();
  less["triggers"] = nlohmann::json::object();
  std::ofstream(site) << less.dump();
  const Outcome second = run_line("handover " + site + " -o " + at + " --replace");
  EXPECT_THAT(second.out, HasSubstr("Removed, for this revision no longer has them:"));
  files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(at)) files += entry.is_regular_file() ? 1 : 0;
  EXPECT_EQ(list_in(at, notes).hashes.size() + 1, files);
  EXPECT_LT(list_in(at, notes).hashes.size(), listed.hashes.size());
  const Outcome third = run_line("handover " + site + " -o " + at + " --replace");
  EXPECT_THAT(third.out, Not(HasSubstr("Removed")));
}

TEST(Handover, OfASiteWithoutZonesExitsAndSaysAsProveDoes) {
  nlohmann::json none = parsed(workshop());
  none["zones"] = none["triggers"] = nlohmann::json::object();
  const std::string site = file_with("empty.site.json", none.dump());
  const Outcome prove = run_line("prove " + site),
                handover = run_line("handover " + site + " -o " + folder() + "/none");
  EXPECT_EQ(prove.exit_code, 1) << prove.err;
  EXPECT_EQ(handover.exit_code, 1) << handover.err;
  const std::string says = "There is no zone in this file: nothing is proven.";
  EXPECT_THAT(prove.out, HasSubstr(says));
  EXPECT_THAT(handover.out, HasSubstr(says));
}

}  // namespace
}  // namespace zoneproof::cli
