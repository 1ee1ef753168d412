#include "cli/saved_files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <map>
#include <regex>
#include <set>
#include <variant>

#include "base/file.hpp"
#include "cli/reading.hpp"
#include "messages/base.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;

/// One message for all files that are there already: forty times the same would hide what else is wrong.
std::vector<Message> in_the_way(const std::vector<FileToSave>& files, const std::vector<std::string>& inputs,
                                bool replace) {
  std::vector<Message> problems;
  std::optional<Message> there;
  std::string first;
  long long count = 0;
  for (const FileToSave& file : files) {
    auto problem = output_problem(file.path, inputs, replace);
    if (!problem) continue;
    if (problem->code != say::output_is_there(file.path).code) {
      problems.push_back(std::move(*problem));
    } else if (++count == 1) {
      there = std::move(problem);
      first = file.path;
    }
  }
  if (count > 1) there = say::outputs_are_there(count, first);
  if (there) problems.push_back(std::move(*there));
  return problems;
}

/// Keeps other runs out of a folder while it lives. The lock is the process's: a killed one holds none.
class FolderLock {
 public:
  explicit FolderLock(const fs::path& folder)
      : number_(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
    if (number_ < 0) return;
    int got = 0;
    do got = ::flock(number_, LOCK_EX);
    while (got != 0 && errno == EINTR);
    held_ = got == 0;
  }
  FolderLock(FolderLock&& other) noexcept
      : number_(std::exchange(other.number_, -1)), held_(std::exchange(other.held_, false)) {}
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  ~FolderLock() {
    if (number_ >= 0) ::close(number_);
  }
  bool held() const { return held_; }

 private:
  int number_;
  bool held_ = false;
};

/// Locks the folders of files that are there, each once and in one order for all runs, so that no two wait for each
/// other; removes what killed runs left there.
class Folders {
 public:
  Folders(const std::vector<FileToSave>& files, const std::vector<std::string>& left_behind) {
    for (const FileToSave& file : files) add(file.path);
    for (const std::string& path : left_behind) add(path);
    for (const auto& [folder, names] : names_) {
      FolderLock lock(folder);
      if (lock.held()) clear(folder, names);
      locks_.push_back(std::move(lock));
    }
  }

 private:
  void add(const std::string& path) {
    const fs::path target = behind_links(path);
    std::error_code failed;
    const fs::path folder = fs::canonical(target.parent_path().empty() ? "." : target.parent_path(), failed);
    if (!failed) names_[folder].insert(target.filename().string());
  }

  static void clear(const fs::path& folder, const std::set<std::string>& names) {
    std::vector<fs::path> leftovers;
    std::error_code failed;
    for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
      std::error_code gone;
      if (names.count(target_of_leftover(at->path().filename().string())) != 0 &&
          fs::is_regular_file(at->symlink_status(gone)))
        leftovers.push_back(at->path());
    }
    for (const fs::path& leftover : leftovers) fs::remove(leftover, failed);
  }

  std::map<fs::path, std::set<std::string>> names_;
  std::vector<FolderLock> locks_;
};

class Saving {
 public:
  std::vector<Message> run(const std::vector<FileToSave>& files, const std::vector<std::string>& left_behind) {
    for (const FileToSave& file : files)
      if (!folder_for(file.path)) return undone();
    const Folders locked(files, left_behind);
    for (const FileToSave& file : files)
      if (!write_beside(file)) return undone();
    for (Staged& one : staged_)
      if (!one.aside.empty() && !moved(one.target, one.aside, one.is_aside)) return undone();
    for (Staged& one : staged_)
      if (!moved(one.temporary, one.target, one.is_there)) return undone();
    return {};
  }

 private:
  struct Staged {
    fs::path temporary, target, aside;
    bool is_aside = false, is_there = false;
  };

  bool moved(const fs::path& from, const fs::path& to, bool& done) {
    std::error_code failed;
    fs::rename(from, to, failed);
    if (failed) problems_.push_back(say::file_not_written(to.string(), failed.message()));
    done = !failed;
    return done;
  }

  bool folder_for(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    std::error_code failed;
    std::vector<fs::path> missing;
    for (fs::path at = folder; !at.empty() && !fs::exists(at, failed) && at != at.parent_path(); at = at.parent_path())
      missing.push_back(at);
    failed.clear();
    if (!folder.empty()) fs::create_directories(folder, failed);
    if (failed) problems_.push_back(folder_refused(folder.string(), failed));
    made_.insert(made_.end(), missing.rbegin(), missing.rend());  // the outermost first
    return !failed;
  }

  bool write_beside(const FileToSave& file) {
    const fs::path target = behind_links(file.path);
    const fs::path temporary = target.string() + ".saving-" + std::to_string(::getpid());
    auto problem = save_file(temporary.string(), file.bytes);
    if (problem) {
      for (auto& [name, value] : problem->arguments)  // what was asked for, not what stands in for it
        if (auto* words = std::get_if<std::string>(&value); words != nullptr && *words == temporary.string())
          *words = file.path;
      problems_.push_back(std::move(*problem).at({file.path, "", 0, 0}));
      return false;
    }
    staged_.push_back({temporary, target, file.aside});
    std::error_code ignored;  // a file that is new has no rights to keep
    if (fs::exists(target, ignored)) fs::permissions(temporary, fs::status(target, ignored).permissions(), ignored);
    return true;
  }

  std::vector<Message> undone() {
    std::error_code ignored;  // nothing better can be done about what cannot be removed
    for (const Staged& one : staged_) {
      fs::remove(one.temporary, ignored);
      if (one.is_aside && !one.is_there) fs::rename(one.aside, one.target, ignored);
    }
    for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) fs::remove(*folder, ignored);  // where empty
    return std::move(problems_);
  }

  std::vector<Staged> staged_;
  std::vector<fs::path> made_;
  std::vector<Message> problems_;
};

}  // namespace

std::optional<Message> folder_problem(const std::string& path) {
  std::error_code failed;
  // What is inside tells more than the folder itself: whether it may be searched, and whether it is one.
  const fs::file_status inside = fs::status(fs::path(path) / ".", failed);
  if (inside.type() == fs::file_type::none) return say::folder_unusable(path, failed.message());
  if (fs::exists(inside)) return std::nullopt;
  if (fs::is_regular_file(path, failed)) return say::folder_is_file(path);
  fs::path named = fs::path(path).lexically_normal();
  if (named.filename().empty()) named = named.parent_path();  // "papers/" is papers
  const fs::path above = named.parent_path();
  if (!above.empty() && !fs::exists(above, failed)) return say::folder_missing(above.string()).at({path, "", 0, 0});
  return std::nullopt;
}

Message folder_refused(const std::string& path, const std::error_code& why) {
  for (const std::errc named_badly :
       {std::errc::filename_too_long, std::errc::not_a_directory, std::errc::file_exists, std::errc::invalid_argument,
        std::errc::too_many_symbolic_link_levels, std::errc::no_such_file_or_directory, std::errc::permission_denied,
        std::errc::operation_not_permitted, std::errc::read_only_file_system})
    if (why == named_badly) return say::folder_unusable(path, why.message());
  return say::folder_not_made(path, why.message());
}

std::string name_to_set_aside(const std::string& path) {
  const fs::path whole = behind_links(path);
  fs::path free;
  std::error_code failed;
  for (int number = 1; number == 1 || fs::exists(fs::symlink_status(free, failed)); ++number)
    free =
        whole.parent_path() / fmt::format("{}.changed-{}{}", whole.stem().string(), number, whole.extension().string());
  return free.string();
}

std::string target_of_leftover(const std::string& name) {
  static const std::regex left(R"((.+?)\.saving-\d+(-\d+)?(\.saving-\d+-\d+)?)");  // save_file adds to what Saving adds
  std::smatch parts;
  return std::regex_match(name, parts, left) ? parts[1].str() : std::string();
}

std::vector<Message> save_all(const std::vector<FileToSave>& files, const std::vector<std::string>& inputs,
                              bool replace, const std::vector<std::string>& left_behind) {
  std::vector<Message> problems = in_the_way(files, inputs, replace);
  if (!problems.empty()) return problems;
  if (files.size() != 1) return Saving().run(files, left_behind);
  // A single one may be a device or a pipe, which is written into.
  const Folders locked(files, left_behind);
  if (auto problem = save_file(files.front().path, files.front().bytes)) problems.push_back(std::move(*problem));
  return problems;
}

}  // namespace zoneproof::cli
