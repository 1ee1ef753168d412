#include "book/book_json.hpp"

#include <nlohmann/json.hpp>

#include "base/json_text.hpp"
#include "results/results.hpp"

namespace zoneproof::book {

using Json = nlohmann::ordered_json;

namespace {

/// Null for what is empty, and for what a damaged book holds instead of JSON.
Json json_or_null(const std::string& text) {
  if (text.empty()) return nullptr;
  std::vector<Message> problems;
  return parse_json(text, "", problems);
}

template <class Entry>
Json list_of(const std::vector<Entry>& entries) {
  Json list = Json::array();
  for (const Entry& entry : entries) list.push_back(json_of(entry));
  return list;
}

}  // namespace

Json json_of(const SiteEntry& entry) {
  return {{"id", entry.id},         {"name", entry.name}, {"revision", entry.revision},
          {"sha256", entry.sha256}, {"when", entry.when}, {"who", entry.who}};
}

Json json_of(const Revision& revision) {
  return {{"edit", revision.edit}, {"number", revision.number}, {"sha256", revision.sha256},
          {"when", revision.when}, {"who", revision.who},       {"why", revision.why}};
}

Json json_with_patches(const Revision& revision) {
  Json json = json_of(revision);
  json["patch"] = json_or_null(revision.patch);
  json["undo"] = json_or_null(revision.undo);
  return json;
}

Json json_of(const std::vector<SiteEntry>& entries) { return list_of(entries); }
Json json_of(const std::vector<Revision>& revisions) { return list_of(revisions); }

Json json_of(const Check& check) {
  return {{"files", check.files},
          {"problems", results::json_of(check.problems)},
          {"revisions", check.revisions},
          {"sites", check.sites}};
}

}  // namespace zoneproof::book
