#pragma once
#include <string>
#include <string_view>

/// A small workshop on parts of the shelf, for tests of the commands: an 8-zone panel, a passive infrared detector on a
/// double end-of-line loop (zone 1), a door contact (zone 2, its cable's length unknown), one unit tapped to zone 1.
namespace zoneproof::cli {

/// The site file's text, parts and rulebook copied in as `draft` copies them.
std::string workshop();

/// What a command did.
struct Outcome {
  int exit_code = 0;
  std::string out, err;
};

/// Runs a command line ("prove SITE --json", split at blanks) as in a pipe, or on a terminal.
Outcome run_line(std::string_view line, bool on_terminal = false, bool no_colour = false);

inline const std::string kKilnYard = std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/kiln-yard.site.json";
inline const std::string kCorrected = std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/kiln-yard-corrected.site.json";

/// A folder of this test program alone, removed at its end; and a file in it.
std::string folder();
std::string file_with(std::string_view name, std::string_view bytes);
std::string bytes_of(const std::string& path);

/// The widest line in cells, colour left out.
std::size_t widest_line(const std::string& text);

}  // namespace zoneproof::cli
