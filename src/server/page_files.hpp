#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "server/http.hpp"
#include "server/target.hpp"

/// The page's own files: those inside the program, or, while the page is being made, those of a folder.
namespace zoneproof::server {

/// A file that is compiled into the program (tools/embed_binary.py).
struct BinaryFile {
  std::string_view path;  ///< "index.html", "assets/page-1f3a.js"
  std::string_view bytes;
  std::string_view gzip;  ///< the same compressed; empty where that saves nothing
  std::string_view tag;   ///< begins its SHA-256
};

/// The page as it was built, sorted by path; empty where the program was built without it.
const std::vector<BinaryFile>& page_in_program();
/// The demo sites: "kiln-yard.site.json".
const std::vector<BinaryFile>& demos_in_program();

class PageFiles {
 public:
  /// `folder`: read at every request from there; empty: what is in the program.
  explicit PageFiles(std::string folder) : folder_(std::move(folder)) {}

  /// Whether there is a page at all.
  bool there() const;
  /// The file of a path, or the page itself for a path that names a place in it ("/sites/kiln_yard"): whatever has no
  /// point in its last segment. "/fonts/NAME" are the program's own letters. Nothing where there is no such file. Not
  /// modified: 304.
  std::optional<Response> find(const Target& target, const Request& request) const;

 private:
  std::optional<Response> from_program(const std::string& path, const Request& request) const;
  std::optional<Response> from_folder(const std::string& path) const;

  std::string folder_;
};

/// The media type of a file's name.
std::string_view media_type_of(std::string_view path);

}  // namespace zoneproof::server
