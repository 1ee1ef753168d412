#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"

namespace zoneproof::cli {

struct FileToSave {
  std::string path, bytes;
};

/// Whether something at a path may be a folder to write into: nothing where it is one or is not there yet, else why
/// not.
std::optional<Message> folder_problem(const std::string& path);

/// Writes all files or none, with the folders that they need: a set of papers of which half are of an earlier revision
/// misleads more than none. What is in the way is told before anything is written; then every file is written beside
/// its place, which is where a full disk shows, and only then all are moved. Symbolic links are followed.
/// `inputs` are never written over; what is there already only where `replace` says so.
std::vector<Message> save_all(const std::vector<FileToSave>& files, const std::vector<std::string>& inputs,
                              bool replace);

}  // namespace zoneproof::cli
