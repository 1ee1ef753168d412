#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "base/sha256.hpp"
#include "messages/site.hpp"
#include "site/checks.hpp"
#include "site/document.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"
#include "site/site_json.hpp"
#include "site/walk.hpp"

namespace zoneproof::site {

using Json = nlohmann::ordered_json;

namespace {

constexpr std::string_view kSiteEnding = ".site.json";

/// Adds the messages, and the site where there is one.
void append(ReadResult& to, ReadResult more) {
  to.messages.insert(to.messages.end(), std::make_move_iterator(more.messages.begin()),
                     std::make_move_iterator(more.messages.end()));
  if (more.site) to.site = std::move(more.site);
}

/// Adds a person's own parts to those of the site. Of a faulty file none: its faults are told at their place in it, and
/// not again as if they stood in the site.
void add_parts(Site& site, const OwnParts& own, Findings& findings) {
  for (const auto& [id, part] : own.parts) {
    const auto there = site.parts.find(id);
    if (there == site.parts.end()) {
      if (!own.faulty) site.parts.emplace(id, part);
    } else if (!same(there->second, part)) {
      findings.add(say::site_own_part_clash(id, own.name), pointer_child("/parts", id), true);
    }
  }
}

/// A part that says that it is a copy of the shelf's and no longer is: nobody but the person speaks for its figures.
void check_copies(const Site& site, Findings& findings) {
  for (const auto& [id, part] : site.parts) {
    if (is_changed_copy(part)) findings.add(say::site_part_changed(id), pointer_child("/parts", id), true);
  }
}

bool ends_with(const std::string& path, std::string_view ending) {
  return path.size() >= ending.size() && path.compare(path.size() - ending.size(), path.npos, ending) == 0;
}

std::string with_other_ending(const std::string& path, std::string_view ending, std::string_view other) {
  return path.substr(0, path.size() - ending.size()) + std::string(other);
}

/// A note where parts of the same name stand beside a site whose own name does not lead to them.
void note_parts_not_read(const std::string& path, std::vector<Message>& messages) {
  const std::string stem = ends_with(path, ".json") ? with_other_ending(path, ".json", "") : path;
  const std::string parts = stem + std::string(kPartsEnding);
  std::error_code none;
  if (!std::filesystem::exists(parts, none)) return;
  const std::string site = std::filesystem::path(stem + std::string(kSiteEnding)).filename().string();
  messages.push_back(say::site_parts_not_read(parts, site).at({path, "", 0, 0, false}));
}

}  // namespace

std::string file_beside(const std::string& site_path, std::string_view ending) {
  return ends_with(site_path, kSiteEnding) ? with_other_ending(site_path, kSiteEnding, ending) : "";
}

ReadResult read_site(std::string_view text, const std::string& name) {
  ReadResult result;
  const Json json = parse_json(text, name, result.messages);
  if (any_error(result.messages)) return result;
  append(result, read_site_json(json, name, text, nullptr));
  return result;
}

ReadResult read_site_with_parts(std::string_view text, const std::string& name, std::string_view parts_text,
                                const std::string& parts_name) {
  ReadResult result;
  PartsResult own = read_parts(parts_text, parts_name);
  const OwnParts parts = {own.parts, parts_name, any_error(own.messages)};
  const Json json = parse_json(text, name, result.messages);
  if (!any_error(result.messages)) append(result, read_site_json(json, name, text, &parts));
  if (parts.faulty) result.site.reset();
  append(result, {std::nullopt, std::move(own.messages)});
  return result;
}

ReadResult read_site_json(const Json& json, const std::string& name, std::optional<std::string_view> text,
                          const OwnParts* own) {
  ReadResult result;
  Findings findings(name);
  Site site;
  DocumentReading reading = read_document(site_format(), json, &site, findings);
  if (reading.usable) {
    if (own != nullptr) add_parts(site, *own, findings);
    if (own != nullptr && own->faulty) reading.skipped.insert("/parts");  // what refers to them cannot be judged
    check_references(site, reading.skipped, findings);
    check_rules(site, findings);
    check_copies(site, findings);
  }
  result.messages = text ? findings.in_text(*text) : findings.by_pointer();
  if (reading.migrated_from) {
    result.messages.push_back(say::site_migrated(*reading.migrated_from, kSiteVersion).at({name, "", 0, 0, false}));
  }
  if (!any_error(result.messages)) result.site = std::move(site);
  return result;
}

std::string write_site(const Site& site) { return write_json(write_document(site_format(), &site)); }

std::string site_hash(const Site& site) { return sha256_hex(write_site(site)); }

bool same_site(const Site& a, const Site& b) { return same(a, b); }

ReadResult load_site(const std::string& path) {
  ReadResult result;
  const auto text = read_file(path, result.messages);
  if (!text) return result;
  const std::string own_path = file_beside(path, kPartsEnding);
  std::error_code none;
  if (own_path.empty()) note_parts_not_read(path, result.messages);
  if (own_path.empty() || !std::filesystem::exists(own_path, none)) {
    append(result, read_site(*text, path));
    return result;
  }
  const auto own_text = read_file(own_path, result.messages);
  if (!own_text) return result;
  return read_site_with_parts(*text, path, *own_text, own_path);
}

std::vector<Message> save_site(const Site& site, const std::string& path) {
  std::vector<Message> messages;
  if (auto problem = save_file(path, write_site(site))) messages.push_back(std::move(*problem));
  return messages;
}

}  // namespace zoneproof::site
