#include "base/file.hpp"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <thread>
#include <vector>

namespace zoneproof {
namespace {

namespace fs = std::filesystem;

class File : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "zoneproof-file-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }

  std::string path(const std::string& name) const { return (folder_ / name).string(); }

  static std::string content(const std::string& path) {
    std::vector<Message> messages;
    return read_file(path, messages).value_or("unreadable");
  }

  static std::string why(const std::string& path, std::size_t limit = kLargestJsonText) {
    std::vector<Message> messages;
    EXPECT_FALSE(read_file(path, messages, limit));
    return messages.size() == 1 ? messages.front().code : "not one message";
  }

  std::size_t count() const { return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), {})); }

  fs::path folder_;
};

TEST_F(File, ReadsBackWhatWasSaved) {
  const std::string bytes("a\0b\r\n\xFF", 6);
  EXPECT_FALSE(save_file(path("site.json"), bytes));
  EXPECT_EQ(content(path("site.json")), bytes);
  EXPECT_EQ(count(), 1U);
}

TEST_F(File, SaysWhyItCannotBeRead) {
  EXPECT_EQ(why(path("none")), "file_missing");
  EXPECT_EQ(why(folder_.string()), "file_is_folder");
  ASSERT_FALSE(save_file(path("big"), "12345"));
  EXPECT_EQ(why(path("big"), 4), "file_too_large");
  EXPECT_EQ(why(path("big") + "/inside"), "file_unreadable");
  ::symlink("loop", path("loop").c_str());
  EXPECT_EQ(why(path("loop")), "file_unreadable");
}

TEST_F(File, SavesThroughALinkAndKeepsPermissions) {
  ASSERT_FALSE(save_file(path("real"), "old"));
  ASSERT_EQ(::chmod(path("real").c_str(), 0640), 0);
  ASSERT_EQ(::symlink("real", path("link").c_str()), 0);
  EXPECT_FALSE(save_file(path("link"), "new"));
  EXPECT_TRUE(fs::is_symlink(path("link")));
  EXPECT_EQ(content(path("real")), "new");
  ASSERT_EQ(::symlink("to-come", path("nowhere").c_str()), 0);  // the file is made where the link says
  EXPECT_FALSE(save_file(path("nowhere"), "new"));
  EXPECT_TRUE(fs::is_symlink(path("nowhere")));
  EXPECT_EQ(content(path("to-come")), "new");
  ASSERT_EQ(::symlink("circle", path("circle").c_str()), 0);
  EXPECT_TRUE(save_file(path("circle"), "new"));
  EXPECT_TRUE(fs::is_symlink(path("circle")));
  struct stat status {};
  ASSERT_EQ(::stat(path("real").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777U, 0640U);
}

TEST_F(File, AnUnwritablePlaceLeavesTheOldFileAlone) {
  const std::optional<Message> missing_folder = save_file(path("none/site.json"), "x");
  ASSERT_TRUE(missing_folder);
  EXPECT_EQ(missing_folder->code, "folder_missing");
  EXPECT_NE(text(*missing_folder).find(path("none") + "."), std::string::npos) << text(*missing_folder);
  const std::optional<Message> a_folder = save_file(folder_.string(), "x");
  ASSERT_TRUE(a_folder);
  EXPECT_EQ(a_folder->code, "file_is_folder");
}

TEST_F(File, APipeIsWrittenIntoAndStaysAPipe) {
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  const std::optional<Message> nobody = save_file(path("pipe"), "x");  // nobody reads: not waited for
  ASSERT_TRUE(nobody);
  EXPECT_EQ(nobody->code, "file_not_written");
  const int reader = ::open(path("pipe").c_str(), O_RDONLY | O_NONBLOCK);
  ASSERT_GE(reader, 0);
  EXPECT_FALSE(save_file(path("pipe"), "deck"));
  char read_back[8] = {};
  EXPECT_EQ(::read(reader, read_back, sizeof read_back), 4);
  EXPECT_STREQ(read_back, "deck");
  ::close(reader);
  EXPECT_TRUE(fs::is_fifo(path("pipe")));
}

TEST_F(File, APipeIsReadToItsEndAndOneWithoutWriterIsNotWaitedFor) {
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  EXPECT_EQ(why(path("pipe")), "file_pipe_without_writer");
  const int keeper = ::open(path("pipe").c_str(), O_RDWR | O_NONBLOCK);  // Linux: opens without a partner
  ASSERT_GE(keeper, 0);
  ASSERT_EQ(::write(keeper, "ab", 2), 2);
  const int writer = ::open(path("pipe").c_str(), O_WRONLY);
  const pid_t child = ::fork();
  if (child == 0) {
    ::usleep(50000);  // the reader has to wait for the rest
    ::_exit(::write(writer, "cd", 2) == 2 ? 0 : 1);
  }
  ::close(writer);
  std::thread closes([keeper] {  // the bytes in a pipe live as long as somebody has it open for reading
    ::usleep(20000);
    ::close(keeper);
  });
  EXPECT_EQ(content(path("pipe")), "abcd");
  closes.join();
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  EXPECT_EQ(status, 0);
}

TEST_F(File, AWriteProtectedFileIsLeftAlone) {
  ASSERT_FALSE(save_file(path("site.json"), "old"));
  ASSERT_EQ(::chmod(path("site.json").c_str(), 0444), 0);
  const std::optional<Message> refused = save_file(path("site.json"), "new");
  ASSERT_TRUE(refused);
  EXPECT_EQ(refused->code, "file_write_protected");
  EXPECT_EQ(content(path("site.json")), "old");
}

TEST_F(File, WhatAKilledProcessLeftBehindIsNotTakenOver) {
  const std::string left = path("site.json") + ".saving-" + std::to_string(::getpid()) + "-0";
  ASSERT_FALSE(save_file(left, "somebody else's"));
  EXPECT_FALSE(save_file(path("site.json"), "new"));
  EXPECT_EQ(content(path("site.json")), "new");
  EXPECT_EQ(content(left), "somebody else's");
}

// A disk that fills up while the file is written: the limit on a file's size fails a write in the same way.
TEST_F(File, AWriteThatFailsHalfWayLeavesTheOldFileAndNoOther) {
  ASSERT_FALSE(save_file(path("site.json"), "old"));
  const pid_t child = ::fork();
  if (child == 0) {
    ::signal(SIGXFSZ, SIG_IGN);
    const rlimit small = {5000, 5000};
    ::setrlimit(RLIMIT_FSIZE, &small);
    const std::optional<Message> message = save_file(path("site.json"), std::string(100000, 'n'));
    ::_exit(message && message->code == "file_not_written" ? 0 : 1);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  EXPECT_EQ(status, 0);
  EXPECT_EQ(content(path("site.json")), "old");
  EXPECT_EQ(count(), 1U);
}

// Killed at an arbitrary moment of saving again and again, the file is one of the two texts, whole.
TEST_F(File, AKillAtAnyMomentLeavesOneWholeText) {
  const std::string a(300000, 'a');
  const std::string b(200000, 'b');
  ASSERT_FALSE(save_file(path("site.json"), a));
  for (useconds_t delay = 200; delay < 20000; delay += 400) {
    const pid_t child = ::fork();
    if (child == 0) {
      for (;;) {
        save_file(path("site.json"), b);
        save_file(path("site.json"), a);
      }
    }
    ::usleep(delay);
    ::kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFSIGNALED(status));
    const std::string now = content(path("site.json"));
    ASSERT_TRUE(now == a || now == b) << "after " << delay << " us: " << now.size() << " bytes";
  }
}

/// A process that saves for the owner alone and is killed by the kernel when it writes more than 5000 bytes: what it
/// leaves is what it had made so far.
void killed_while_it_saves_a_secret(const std::string& path) {
  const pid_t child = ::fork();
  if (child == 0) {
    ::umask(0);
    ::signal(SIGXFSZ, SIG_DFL);
    const rlimit none = {0, 0}, small = {5000, 5000};
    ::setrlimit(RLIMIT_CORE, &none);
    ::setrlimit(RLIMIT_FSIZE, &small);
    save_file(path, std::string(100000, 's'), Access::owner);
    ::_exit(0);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  ASSERT_TRUE(WIFSIGNALED(status));
}

mode_t rights(const std::string& path) {
  struct stat status {};
  return ::stat(path.c_str(), &status) == 0 ? status.st_mode & 0777U : 0;
}

TEST_F(File, ForItsOwnerAloneIsSoFromTheFirstByteAndAKilledRunLeavesNone) {
  killed_while_it_saves_a_secret(path("key"));
  ASSERT_EQ(count(), 1U) << "what the killed one had written";
  EXPECT_EQ(rights(fs::directory_iterator(folder_)->path().string()), 0600U);
  EXPECT_FALSE(save_file(path("key"), "secret", Access::owner));
  EXPECT_EQ(content(path("key")), "secret");
  EXPECT_EQ(rights(path("key")), 0600U);
  EXPECT_EQ(count(), 1U);
}

TEST_F(File, ForItsOwnerAloneReplacesOneThatOthersMayReadOrNobodyMayWrite) {
  for (const mode_t before : {0644U, 0400U}) {
    ASSERT_FALSE(save_file(path("key"), "old", Access::owner));
    ASSERT_EQ(::chmod(path("key").c_str(), before), 0);
    EXPECT_FALSE(save_file(path("key"), "new", Access::owner));
    EXPECT_EQ(content(path("key")), "new");
    EXPECT_EQ(rights(path("key")), 0600U);
  }
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  EXPECT_TRUE(save_file(path("pipe"), "new", Access::owner)) << "others may read what goes through it";
}

TEST_F(File, ForItsOwnerAloneLeavesWhatSomebodyWritesAndWhatIsNotItsOwn) {
  const std::string alive = path("key.saving-1-0");
  const int writer = ::open(alive.c_str(), O_WRONLY | O_CREAT, 0600);
  ASSERT_EQ(::flock(writer, LOCK_EX), 0);  // as whoever writes one has it
  for (const char* other :
       {"key.saving-1", "key.saving-1-", "key.saving-x-0", "key.saving-1-0.bak", "other.saving-1-0"})
    ASSERT_FALSE(save_file(path(other), "x"));
  ASSERT_FALSE(save_file(path("key"), "secret", Access::owner));
  EXPECT_EQ(count(), 7U);
  ::close(writer);
  ASSERT_FALSE(save_file(path("key"), "secret", Access::owner));
  EXPECT_FALSE(fs::exists(alive));
  EXPECT_EQ(count(), 6U);
}

// Several at once write one secret and clear away what the dead left: nobody takes another's for left behind.
TEST_F(File, ForItsOwnerAloneIsSavedByManyAtOnce) {
  std::vector<pid_t> children;
  for (int i = 0; i < 4; ++i) {
    const pid_t child = ::fork();
    if (child == 0) {
      int failed = 0;
      for (int round = 0; round < 50; ++round)
        failed += save_file(path("key"), std::string(1000, 'k'), Access::owner) ? 1 : 0;
      ::_exit(failed);
    }
    children.push_back(child);
  }
  for (const pid_t child : children) {
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    EXPECT_EQ(WIFEXITED(status) ? WEXITSTATUS(status) : -1, 0);
  }
  EXPECT_EQ(content(path("key")), std::string(1000, 'k'));
  EXPECT_EQ(count(), 1U);
}

// What a shell makes of "-o /dev/stdout | less", "-o >(less)" and "-o /dev/stdout >> FILE".
TEST_F(File, ThatIsOpenAlreadyIsWrittenOnAndNotReplaced) {
  int pipe[2] = {-1, -1};
  ASSERT_EQ(::pipe(pipe), 0);
  for (const char* folder : {"/dev/fd/", "/proc/self/fd/"}) {
    EXPECT_TRUE(is_stream(folder + std::to_string(pipe[1])));
    const auto problem = save_file(folder + std::to_string(pipe[1]), "deck");
    EXPECT_FALSE(problem) << text(*problem);
    char read_back[8] = {};
    EXPECT_EQ(::read(pipe[0], read_back, sizeof read_back), 4);
  }
  ASSERT_FALSE(save_file(path("log"), "before "));
  struct stat before {
  }, after{};
  ASSERT_EQ(::stat(path("log").c_str(), &before), 0);
  const int log = ::open(path("log").c_str(), O_WRONLY | O_APPEND);
  ASSERT_EQ(::symlink(("/dev/fd/" + std::to_string(log)).c_str(), path("link").c_str()), 0);
  EXPECT_FALSE(save_file(path("link"), "after"));
  EXPECT_EQ(content(path("log")), "before after");
  ASSERT_EQ(::stat(path("log").c_str(), &after), 0);
  EXPECT_EQ(after.st_ino, before.st_ino) << "the same file, which others have open";
  for (const int number : {log, pipe[0], pipe[1]}) ::close(number);
  EXPECT_TRUE(save_file("/dev/fd/" + std::to_string(log), "x")) << "closed by now";
}

TEST_F(File, IsToldFromAStream) {
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  ASSERT_EQ(::symlink("pipe", path("link").c_str()), 0);
  ASSERT_FALSE(save_file(path("plain"), "x"));
  for (const std::string& stream : {path("pipe"), path("link"), std::string("/dev/null"), std::string("/dev/stdout")})
    EXPECT_TRUE(is_stream(stream)) << stream;
  for (const std::string& none : {path("plain"), path("none"), folder_.string()}) EXPECT_FALSE(is_stream(none)) << none;
}

}  // namespace
}  // namespace zoneproof
