#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "site/model.hpp"

/// Text in, Site out, and back. Nothing is lost or half-loaded: either a whole site, or messages that tell every
/// problem.
namespace zoneproof::site {

struct ReadResult {
  std::optional<Site> site;       ///< absent when any message is an error
  std::vector<Message> messages;  ///< every problem, in the order of the file, with pointer, line and column
};

/// Parses, migrates from an older format version, checks every field, reference and rule of the definitions.
/// `name` is used in the messages' places only. Cost: linear in the text.
ReadResult read_site(std::string_view text, const std::string& name);

/// The same with a person's own parts (text of a `zoneproof-parts` file) beside it: those that the site does not hold
/// are added to its parts, so that its references to them are good. The same id with different content is an error.
ReadResult read_site_with_parts(std::string_view text, const std::string& name, std::string_view parts_text,
                                const std::string& parts_name);

/// Canonical form: sorted keys, shortest round-trip numbers, UTF-8, LF. read_site(write_site(s)) equals s.
std::string write_site(const Site& site);

/// SHA-256 of the canonical form, in lower-case hex.
std::string site_hash(const Site& site);

/// What a file of a person's own is called beside `NAME.site.json`.
inline constexpr std::string_view kPartsEnding = ".parts.json";
inline constexpr std::string_view kCostsEnding = ".costs.json";

/// Where the file of that ending would stand beside a site; empty where the site's name does not end as a site's does.
std::string file_beside(const std::string& site_path, std::string_view ending);

/// Reads `NAME.site.json` and, beside it, `NAME.parts.json` (a person's own parts) where there is one; problems as
/// messages.
ReadResult load_site(const std::string& path);

/// Saves atomically (temporary file, fsync, rename); the messages tell what stood in the way.
std::vector<Message> save_site(const Site& site, const std::string& path);

/// JSON Schemas (draft 2020-12) of the four file formats, generated from the definitions. What only the program checks
/// (references, tolerances that contradict each other, rules between fields) is not in them.
std::string site_schema();
std::string parts_schema();
std::string rulebook_schema();
std::string costs_schema();

/// Whether two sites say the same: everything but pointers and inherited origins, which follow from where things stand.
bool same_site(const Site& a, const Site& b);

}  // namespace zoneproof::site
