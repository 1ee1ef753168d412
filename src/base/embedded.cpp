#include "base/embedded.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

namespace zoneproof {

std::string_view embedded_file(std::string_view path) {
  const std::vector<EmbeddedFile>& files = embedded_files();
  const auto found =
      std::lower_bound(files.begin(), files.end(), path,
                       [](const EmbeddedFile& file, std::string_view wanted) { return file.path < wanted; });
  if (found == files.end() || found->path != path) {
    throw std::logic_error("no embedded file " + std::string(path));
  }
  return found->bytes;
}

}  // namespace zoneproof
