#include "cli/folder_lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <regex>
#include <thread>
#include <utility>

#include "base/file.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;

constexpr std::chrono::milliseconds kAskAgain{50};  // nobody notices it, and a second of it costs nothing

void clear(const fs::path& folder, const std::set<std::string>& names) {
  std::vector<fs::path> leftovers;
  std::error_code failed;
  for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed))
    if (names.count(target_of_leftover(at->path().filename().string())) != 0) leftovers.push_back(at->path());
  for (const fs::path& leftover : leftovers) remove_leftover(leftover.string());
}

}  // namespace

FolderLock::FolderLock(const fs::path& folder)
    : number_(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {}

FolderLock::~FolderLock() {
  if (number_ >= 0) ::close(number_);
}

bool FolderLock::taken() {
  if (number_ < 0) return true;
  int got = 0;
  do got = ::flock(number_, LOCK_EX | LOCK_NB);
  while (got != 0 && errno == EINTR);
  held_ = got == 0;
  return held_ || errno != EWOULDBLOCK;
}

bool FolderLock::is_of(const fs::path& folder) const {
  if (number_ < 0) return true;
  struct stat locked {};
  struct stat named {};
  return ::fstat(number_, &locked) == 0 && ::stat(folder.c_str(), &named) == 0 && locked.st_dev == named.st_dev &&
         locked.st_ino == named.st_ino;
}

FoldersInTurn::FoldersInTurn(const std::vector<std::string>& paths, const Waiting& waiting) {
  for (const std::string& path : paths) add(path);
  for (const auto& [folder, names] : names_) {
    FolderLock lock(folder);
    if (!wait_for(lock, folder, waiting)) return;
    if (lock.held()) clear(folder, names);
    locks_.emplace_back(folder, std::move(lock));
  }
}

void FoldersInTurn::add(const std::string& path) {
  if (is_stream(path)) return;
  const fs::path target = behind_links(path);
  std::error_code failed;
  const fs::path folder = fs::canonical(target.parent_path().empty() ? "." : target.parent_path(), failed);
  if (!failed) names_[folder].insert(target.filename().string());
}

bool FoldersInTurn::wait_for(FolderLock& lock, const fs::path& folder, const Waiting& waiting) {
  bool told = false;
  while (!lock.taken()) {
    if (!std::exchange(told, true) && waiting.tell) waiting.tell(say::folder_in_use(folder.string()));
    if (waited_ >= waiting.longest) {
      refused_ = say::folder_still_in_use(folder.string(), lasting(std::chrono::duration<double>(waited_).count(), 2));
      locks_.clear();
      return false;
    }
    std::this_thread::sleep_for(kAskAgain);
    waited_ += kAskAgain;
  }
  return true;
}

bool FoldersInTurn::are_there() const {
  return std::all_of(locks_.begin(), locks_.end(), [](const auto& one) { return one.second.is_of(one.first); });
}

std::string target_of_leftover(const std::string& name) {
  static const std::regex left(R"((.+?)\.saving-\d+(-\d+)?(\.saving-\d+-\d+)?)");  // save_file adds to what Saving adds
  std::smatch parts;
  return std::regex_match(name, parts, left) ? parts[1].str() : std::string();
}

}  // namespace zoneproof::cli
