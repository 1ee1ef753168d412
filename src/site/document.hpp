#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "site/field.hpp"
#include "site/findings.hpp"
#include "site/record_json.hpp"

/// A file format: its word, its version, how older versions are brought to it. The formats of this program are
/// zoneproof-site, zoneproof-parts, zoneproof-rulebook and zoneproof-costs.
namespace zoneproof::site {

/// Brings a document of version `from` to version `from + 1`, in place (renaming keys, splitting values). It may rely
/// on nothing but the document being a JSON object; what it does not understand it leaves for the reader to complain
/// about.
struct Migration {
  int from;
  void (*step)(nlohmann::ordered_json& document);
};

struct Format {
  std::string_view word;              ///< value of the key "format"
  int version;                        ///< that this program writes
  const Record& (*record)();          ///< the root object, without the key "format"
  std::vector<Migration> migrations;  ///< from the oldest version that is read, without gaps
};

const Format& site_format();
const Format& parts_format();
const Format& rulebook_format();
const Format& costs_format();

/// What reading a document left behind, beside the object and the findings.
struct DocumentReading {
  bool usable = false;            ///< false where it is no object of this format: nothing was read
  std::set<std::string> skipped;  ///< pointers of collections that were not read: too many entries, or no objects
  std::optional<int> migrated_from;
};

/// Checks format and version, migrates, and reads `json` into `object`, a struct of the format's record. Pointers of
/// findings refer to the migrated document.
DocumentReading read_document(const Format& format, nlohmann::ordered_json json, void* object, Findings& findings);

/// The document of an object, "format" included.
nlohmann::ordered_json write_document(const Format& format, const void* object, Written how = Written::canonical);

}  // namespace zoneproof::site
