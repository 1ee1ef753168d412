#include "cli/saved_files.hpp"

#include <unistd.h>

#include <filesystem>
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

class Saving {
 public:
  std::vector<Message> run(const std::vector<FileToSave>& files) {
    for (const FileToSave& file : files)
      if (!folder_for(file.path) || !write_beside(file)) return undone();
    for (const Staged& one : staged_) {
      std::error_code failed;
      fs::rename(one.temporary, one.target, failed);
      if (failed) problems_.push_back(say::file_not_written(one.target.string(), failed.message()));
      if (failed) return undone();
    }
    return {};
  }

 private:
  struct Staged {
    fs::path temporary, target;
  };

  bool folder_for(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    std::error_code failed;
    std::vector<fs::path> missing;
    for (fs::path at = folder; !at.empty() && !fs::exists(at, failed) && at != at.parent_path(); at = at.parent_path())
      missing.push_back(at);
    failed.clear();
    if (!folder.empty()) fs::create_directories(folder, failed);
    if (failed) problems_.push_back(say::folder_not_made(folder.string(), failed.message()));
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
    staged_.push_back({temporary, target});
    std::error_code ignored;  // a file that is new has no rights to keep
    if (fs::exists(target, ignored)) fs::permissions(temporary, fs::status(target, ignored).permissions(), ignored);
    return true;
  }

  std::vector<Message> undone() {
    std::error_code ignored;  // nothing better can be done about what cannot be removed
    for (const Staged& one : staged_) fs::remove(one.temporary, ignored);
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
  if (inside.type() == fs::file_type::none) return say::folder_not_made(path, failed.message());
  if (!fs::exists(inside) && fs::is_regular_file(path, failed)) return say::folder_is_file(path);
  return std::nullopt;
}

std::vector<Message> save_all(const std::vector<FileToSave>& files, const std::vector<std::string>& inputs,
                              bool replace) {
  std::vector<Message> problems = in_the_way(files, inputs, replace);
  if (!problems.empty()) return problems;
  if (files.size() != 1) return Saving().run(files);
  // A single one may be a device or a pipe, which is written into.
  if (auto problem = save_file(files.front().path, files.front().bytes)) problems.push_back(std::move(*problem));
  return problems;
}

}  // namespace zoneproof::cli
