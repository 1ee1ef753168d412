#pragma once
#include <string>
#include <vector>

/// What the tests of the session ask, each as a question and as the command line that asks the same.
namespace zoneproof::browser {

struct Asked {
  std::string question;           ///< JSON
  std::vector<std::string> line;  ///< "SITE" stands for the site file; --json goes without saying
};

/// A few of every kind, refused ones too.
std::vector<Asked> everything_asked();

/// The bytes of a file of the project; throws std::runtime_error where it cannot be read.
std::string bytes_of(const std::string& path);

/// The path of a file of the project.
std::string path_of(const std::string& path);

/// What the command prints on standard output for that line.
std::string command_says(std::vector<std::string> line, const std::string& site);

/// The text of a patch for the state of a site that an answer of open or apply tells.
std::string patch_on(const std::string& answer, const std::string& operations);

}  // namespace zoneproof::browser
