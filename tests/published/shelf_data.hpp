#pragma once
#include <string>
#include <vector>

/// The shelf's files as they lie in data/, read without the program's own reader, so that a check against a published
/// table cannot be spoiled by it. Places are JSON pointers. Everything throws std::runtime_error naming file and place
/// when it is not there.
namespace zoneproof::published {

/// Names of all files of data/parts or data/rulebooks, e.g. "parts/cables.json".
std::vector<std::string> shelf_files(const std::string& folder);

/// Keys of an object, members of a list counted "0", "1", ...; empty for anything else.
std::vector<std::string> keys(const std::string& file, const std::string& pointer);

bool has(const std::string& file, const std::string& pointer);
std::string text(const std::string& file, const std::string& pointer);
bool flag(const std::string& file, const std::string& pointer);

/// A number of the file with its range.
struct Figure {
  double low, nominal, high;
  std::string origin;  ///< stated beside the number; empty where it is not
  double tempco_ppm_K = 0.0;
};
/// Plain, with "min"/"max" or with "tolerance_pct": the spellings that the shelf uses.
Figure figure(const std::string& file, const std::string& pointer);
bool is_figure(const std::string& file, const std::string& pointer);

}  // namespace zoneproof::published
