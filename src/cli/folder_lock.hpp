#pragma once
#include <chrono>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/message.hpp"

/// One run at a time writes into a folder.
namespace zoneproof::cli {

/// How long a run waits for another. A folder is locked while files are written and not while they are computed: that
/// takes seconds on a disk, and a minute or two for the papers of a large site on a slow stick or a network's folder.
/// Who holds one for longer is stopped or hangs, and a script must not wait for that for ever.
inline constexpr std::chrono::minutes kLongestWait{5};

struct Waiting {
  std::function<void(const Message&)> tell = {};  ///< is told at once, and once, that another run is waited for
  std::chrono::milliseconds longest = kLongestWait;
};

/// Keeps other runs out of a folder while it lives (flock(2)). The lock is the process's: a killed one holds none.
class FolderLock {
 public:
  explicit FolderLock(const std::filesystem::path& folder);
  FolderLock(FolderLock&& other) noexcept
      : number_(std::exchange(other.number_, -1)), held_(std::exchange(other.held_, false)) {}
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  ~FolderLock();

  /// Asks for it without waiting. False: another run has it. Where nobody can have one, because the file system has no
  /// such locks or the folder may not be read, it is true, and held() is not.
  bool taken();
  bool held() const { return held_; }
  /// Whether it is of the folder that has this path now: one that is removed meanwhile keeps nobody out any more.
  bool is_of(const std::filesystem::path& folder) const;

 private:
  int number_;
  bool held_ = false;
};

/// Locks the folders of files, each once and in one order for all runs, so that no two wait for each other; removes
/// what killed runs left there beside these files (*.saving-*). A path that is no regular file, a pipe or a device, is
/// no reason to lock the folder where it stands: it is written into and nothing is put beside it.
class FoldersInTurn {
 public:
  FoldersInTurn(const std::vector<std::string>& paths, const Waiting& waiting);

  /// Another run has had one of them for too long; nothing is to be written then.
  const std::optional<Message>& refused() const { return refused_; }

  /// Whether all of them are still there: a run that fails removes the folders that it has made.
  bool are_there() const;

 private:
  void add(const std::string& path);
  bool wait_for(FolderLock& lock, const std::filesystem::path& folder, const Waiting& waiting);

  std::map<std::filesystem::path, std::set<std::string>> names_;
  std::vector<std::pair<std::filesystem::path, FolderLock>> locks_;
  std::chrono::milliseconds waited_{0};
  std::optional<Message> refused_;
};

/// The file that a leftover stands in for: "plan.svg" of "plan.svg.saving-4711", which a run that was killed left
/// behind; empty for any other name.
std::string target_of_leftover(const std::string& name);

}  // namespace zoneproof::cli
