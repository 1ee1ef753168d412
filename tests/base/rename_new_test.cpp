// A new name is never taken from somebody, with what Linux has for it and with what stands in for it.
#include "base/rename_new.hpp"

#include <gtest/gtest.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <functional>
#include <thread>

namespace zoneproof {
namespace {

namespace fs = std::filesystem;

class ANewName : public testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "zoneproof-name-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }

  std::string file(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name) << bytes;
    return path(name);
  }
  std::string path(const std::string& name) const { return (folder_ / name).string(); }
  std::string bytes(const std::string& name) const {
    std::ifstream in(folder_ / name);
    return {std::istreambuf_iterator<char>(in), {}};
  }
  std::size_t count() const { return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), {})); }

  fs::path folder_;
};

enum class Lacks { noreplace, noreplace_and_links };

/// From then on this process's kernel answers as one does for a file system that lacks these: EINVAL for a flag of
/// renameat2(2) that it does not know, EPERM where link(2) makes none (their manual pages).
bool kernel_lacks(Lacks what) {
  const auto answer = [](int fault) { return SECCOMP_RET_ERRNO | static_cast<unsigned>(fault); };
  const unsigned number = offsetof(seccomp_data, nr);
  const unsigned flags = offsetof(seccomp_data, args) + 4 * sizeof(std::uint64_t);  // the fifth argument, its low half
#ifdef SYS_link
  const unsigned link_number = SYS_link;
#else
  const unsigned link_number = SYS_linkat;
#endif
  const unsigned links = what == Lacks::noreplace ? SECCOMP_RET_ALLOW : answer(EPERM);
  sock_filter steps[] = {
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, number),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_renameat2, 0, 3),
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, flags),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, 0, 4, 0),
      BPF_STMT(BPF_RET | BPF_K, answer(EINVAL)),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, link_number, 1, 0),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_linkat, 0, 1),
      BPF_STMT(BPF_RET | BPF_K, links),
      BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
  };
  const sock_fprog filter = {sizeof steps / sizeof *steps, steps};
  return ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 && ::prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &filter) == 0;
}

constexpr int kNoSuchKernel = 77;

/// What `does` returns in a process of its own, on such a kernel.
int on_a_kernel_that(Lacks what, const std::function<int()>& does) {
  const pid_t child = ::fork();
  if (child == 0) ::_exit(kernel_lacks(what) ? does() : kNoSuchKernel);
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(ANewName, IsGivenWhereItIsFreeAndRefusedWhereSomethingHasIt) {
  EXPECT_TRUE(rename_new(file("a", "a"), path("b")));
  EXPECT_EQ(bytes("b"), "a");
  EXPECT_FALSE(rename_new(file("c", "c"), path("b")));
  EXPECT_EQ(errno, EEXIST);
  EXPECT_EQ(bytes("b"), "a");
  EXPECT_EQ(bytes("c"), "c");
  fs::create_symlink("nowhere", folder_ / "link");
  EXPECT_FALSE(rename_new(path("c"), path("link"))) << "a link that leads nowhere has its name";
  EXPECT_FALSE(rename_new(path("none"), path("d")));
  EXPECT_EQ(errno, ENOENT);
  EXPECT_EQ(count(), 3U);
}

TEST_F(ANewName, IsGivenAndRefusedInTheSameWayWhereTheKernelHasNoCallForIt) {
  for (const Lacks what : {Lacks::noreplace, Lacks::noreplace_and_links}) {
    const std::string a = file("a", "a"), c = file("c", "c"), b = path("b"), none = path("none"), d = path("d");
    const int result = on_a_kernel_that(what, [&] {
      if (!rename_new(a, b)) return 1;
      if (rename_new(c, b) || errno != EEXIST) return 2;
      if (rename_new(none, d) || errno != ENOENT) return 3;
      return 0;
    });
    if (result == kNoSuchKernel) GTEST_SKIP() << "no filter for system calls here";
    EXPECT_EQ(result, 0);
    EXPECT_EQ(bytes("b"), "a");
    EXPECT_EQ(bytes("c"), "c");
    EXPECT_EQ(count(), 2U) << "nothing is left of the attempt";
    fs::remove(folder_ / "b");
  }
}

TEST_F(ANewName, OfTwoThatWantItOnlyOneGets) {
  for (int round = 0; round < 300; ++round) {
    const std::string a = file("a", "a"), b = file("b", "b"), name = path("name");
    bool other = false;
    std::thread beside([&] { other = rename_new(b, name); });
    const bool one = rename_new(a, name);
    beside.join();
    ASSERT_NE(one, other);
    ASSERT_EQ(bytes("name"), one ? "a" : "b");
    ASSERT_EQ(bytes(one ? "b" : "a"), one ? "b" : "a");
    fs::remove(folder_ / "name");
  }
}

}  // namespace
}  // namespace zoneproof
