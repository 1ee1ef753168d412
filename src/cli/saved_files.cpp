#include "cli/saved_files.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <variant>

#include "base/file.hpp"
#include "base/rename_new.hpp"
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
    if (!problem) problem = replace_problem(file.path);
    if (!problem && files.size() > 1 && is_stream(file.path)) problem = say::output_is_stream(file.path);
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

std::string name_to_set_aside(const std::string& path, int number) {
  const fs::path whole = behind_links(path);
  const std::string name = fmt::format("{}.changed-{}{}", whole.stem().string(), number, whole.extension().string());
  return (whole.parent_path() / name).string();
}

struct Saving::Staged {
  std::string path;
  fs::path temporary, target;
  bool changed = false;    ///< what stands there is to be set aside
  std::string aside = {};  ///< where what was there lies now; empty: in its place, or written over
  bool is_there = false;   ///< the new one
};

Saving::Saving(std::vector<FileToSave> files, SaveAsked asked) : files_(std::move(files)), asked_(std::move(asked)) {}
Saving::~Saving() = default;

bool Saving::ready() {
  problems_ = in_the_way(files_, asked_.inputs, asked_.replace);  // no folder is made, no run waited for in vain
  if (!problems_.empty()) return false;
  // Each time they are gone another run has failed. A file system that numbers a folder anew whenever it is asked (some
  // of FUSE) never says that they are there: what is locked then is good enough.
  constexpr int most_failed_runs = 10;
  for (int i = 0; i < most_failed_runs && (!locked_ || !locked_->are_there()); ++i)
    if (!in_turn()) return undone();
  problems_ = in_the_way(files_, asked_.inputs, asked_.replace);  // another run may have written meanwhile
  // What cannot be looked at is told when it is written.
  std::error_code ignored;
  for (const FileToSave& file : files_)
    if (fs::exists(file.path, ignored)) there_.insert(file.path);
  return problems_.empty() || undone();
}

/// Makes the folders and waits for them.
bool Saving::in_turn() {
  std::vector<std::string> paths = asked_.left_behind;
  for (const FileToSave& file : files_) {
    if (!is_stream(file.path) && !folder_for(file.path)) return false;
    paths.push_back(file.path);
  }
  locked_.emplace(paths, asked_.waiting);
  if (locked_->refused()) problems_.push_back(*locked_->refused());
  return problems_.empty();
}

bool Saving::write(const std::set<std::string>& changed) {
  if (files_.size() == 1 && is_stream(files_.front().path)) {
    if (auto problem = save_file(files_.front().path, files_.front().bytes)) problems_.push_back(std::move(*problem));
    return problems_.empty();
  }
  for (const FileToSave& file : files_)
    if (!write_beside(file, changed.count(file.path) != 0)) return undone();
  for (Staged& one : staged_)
    if (one.changed && !move_aside(one)) return undone();
  for (Staged& one : staged_)
    if (!move_in(one)) return undone();
  tell_what_is_unsafe();
  return true;
}

std::vector<SetAside> Saving::set_aside() const {
  std::vector<SetAside> all;
  for (const Staged& one : staged_)
    if (!one.aside.empty()) all.push_back({one.path, one.aside});
  return all;
}

bool Saving::folder_for(const std::string& path) {
  const fs::path folder = fs::path(path).parent_path();
  std::error_code failed;
  std::vector<std::string> missing;
  for (fs::path at = folder; !at.empty() && !fs::exists(at, failed) && at != at.parent_path(); at = at.parent_path())
    missing.push_back(at.string());
  failed.clear();
  if (!folder.empty()) fs::create_directories(folder, failed);
  if (failed) problems_.push_back(folder_refused(folder.string(), failed));
  made_.insert(made_.end(), missing.rbegin(), missing.rend());
  return !failed;
}

bool Saving::write_beside(const FileToSave& file, bool changed) {
  const fs::path target = behind_links(file.path);
  const std::string temporary = target.string() + ".saving-" + std::to_string(::getpid());
  auto problem = save_file(temporary, file.bytes);
  if (problem && kind_of(problem->code).severity == Severity::error) {
    for (auto& [name, value] : problem->arguments)  // what was asked for, not what stands in for it
      if (auto* words = std::get_if<std::string>(&value); words != nullptr && *words == temporary) *words = file.path;
    problems_.push_back(std::move(*problem).at({file.path, "", 0, 0}));
    return false;
  }
  std::error_code ignored;  // a file that is new has no rights to keep
  const bool is_old = fs::exists(target, ignored);
  staged_.push_back({file.path, temporary, target, changed && is_old});
  if (is_old) fs::permissions(temporary, fs::status(target, ignored).permissions(), ignored);
  return true;
}

bool Saving::move_aside(Staged& one) {
  for (int number = 1;; ++number) {
    std::string free = name_to_set_aside(one.path, number);
    if (rename_new(one.target.string(), free)) {
      one.aside = std::move(free);
      return true;
    }
    if (errno == EEXIST) continue;  // an earlier one, which stays
    problems_.push_back(say::file_not_written(free, std::strerror(errno)));
    return false;
  }
}

bool Saving::move_in(Staged& one) {
  const std::string from = one.temporary.string(), to = one.target.string();
  const bool replaces = there_.count(one.path) != 0 && one.aside.empty();
  one.is_there = replaces ? std::rename(from.c_str(), to.c_str()) == 0 : rename_new(from, to);
  if (!one.is_there) problems_.push_back(say::file_not_written(one.path, std::strerror(errno)));
  return one.is_there;
}

/// New names that a power cut may take are told once: the remedy is the same for all.
void Saving::tell_what_is_unsafe() {
  std::set<fs::path> folders;
  for (const Staged& one : staged_) {
    const fs::path folder = one.target.parent_path();
    if (!folders.insert(folder).second || sync_folder(folder.empty() ? "." : folder.string())) continue;
    problems_.push_back(say::file_written_unsafely(one.path, std::strerror(errno)));
    return;
  }
}

/// Puts back what can be, and tells what cannot. False, as a run that does so has failed.
bool Saving::undone() {
  std::error_code ignored;  // nothing better can be done about what cannot be removed
  std::vector<std::string> written;
  for (Staged& one : staged_) {
    if (one.is_there) {
      written.push_back(one.path);
      continue;
    }
    fs::remove(one.temporary, ignored);
    if (!one.aside.empty() && rename_new(one.aside, one.target.string())) one.aside.clear();
  }
  if (!written.empty()) problems_.push_back(say::outputs_in_part(written));
  for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) fs::remove(*folder, ignored);  // where empty
  locked_.reset();
  return false;
}

std::vector<Message> save_all(std::vector<FileToSave> files, SaveAsked asked) {
  Saving saving(std::move(files), std::move(asked));
  if (saving.ready()) saving.write();
  return saving.problems();
}

}  // namespace zoneproof::cli
