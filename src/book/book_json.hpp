#pragma once
#include <nlohmann/json_fwd.hpp>

#include "book/book.hpp"
#include "book/import.hpp"

/// What a book says, for programs: the same for the command and the server (docs/guide/json.md).
namespace zoneproof::book {

/// {"id", "name", "revision", "sha256", "when", "who"}
nlohmann::ordered_json json_of(const SiteEntry& entry);
nlohmann::ordered_json json_of(const std::vector<SiteEntry>& entries);

/// {"edit", "number", "sha256", "when", "who", "why"}; patch and undo are left out.
nlohmann::ordered_json json_of(const Revision& revision);
nlohmann::ordered_json json_of(const std::vector<Revision>& revisions);
/// The same with "patch" and "undo" as objects, null where there are none.
nlohmann::ordered_json json_with_patches(const Revision& revision);

/// {"files", "problems", "revisions", "sites"}
nlohmann::ordered_json json_of(const Check& check);

}  // namespace zoneproof::book
