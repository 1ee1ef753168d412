#pragma once
#include <string_view>
#include <vector>

namespace zoneproof {

/// A file of data/ that is compiled into the program.
struct EmbeddedFile {
  std::string_view path;  ///< relative to data/, e.g. "parts/cables.json"
  std::string_view bytes;
};

/// All embedded files, sorted by path: the parts shelf and the rulebooks.
const std::vector<EmbeddedFile>& embedded_files();

/// The bytes of one embedded file; throws std::logic_error where there is none of that name.
std::string_view embedded_file(std::string_view path);

}  // namespace zoneproof
