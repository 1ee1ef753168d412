#pragma once
#include <optional>
#include <string>
#include <system_error>
#include <vector>

#include "base/message.hpp"

namespace zoneproof::cli {

struct FileToSave {
  std::string path, bytes;
  std::string aside = {};  ///< what stands at `path` is called so from then on; empty: it is written over
};

/// Whether something at a path may be a folder to write into: nothing where it is one, or is not there yet and the
/// folder above it is, else why not. A command makes the folder that it fills and none above it: a slip of the pen
/// would be one.
std::optional<Message> folder_problem(const std::string& path);

/// Why a folder could not be made: bad input where no such folder can be, else output that could not be written.
Message folder_refused(const std::string& path, const std::error_code& why);

/// A name that is free, "tables/chains.changed-1.csv" of "tables/chains.csv": for what is set aside.
std::string name_to_set_aside(const std::string& path);

/// The file that a leftover stands in for: "plan.svg" of "plan.svg.saving-4711", which a run that was killed left
/// behind; empty for any other name.
std::string target_of_leftover(const std::string& name);

/// Writes all files or none, with the folders that they need: a set of papers of which half are of an earlier revision
/// misleads more than none. What is in the way is told before anything is written; then every file is written beside
/// its place, which is where a full disk shows, and only then all are moved. Symbolic links are followed.
/// `inputs` are never written over; what is there already only where `replace` says so.
///
/// One run at a time writes into a folder: the others wait (flock(2), which ends with the process that holds it). So
/// what a killed run left beside these files, or beside those of `left_behind`, is nobody's and is removed. Where a
/// file system has no such locks it stays.
std::vector<Message> save_all(const std::vector<FileToSave>& files, const std::vector<std::string>& inputs,
                              bool replace, const std::vector<std::string>& left_behind = {});

}  // namespace zoneproof::cli
