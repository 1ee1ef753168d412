#include "site/shelf.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/embedded.hpp"
#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "base/sha256.hpp"
#include "site/checks.hpp"
#include "site/document.hpp"
#include "site/record_json.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

using Json = nlohmann::ordered_json;

namespace {

/// A file of the shelf must be without fault: it comes with the program.
void refuse_errors(std::string_view path, const std::vector<Message>& messages) {
  for (const Message& message : messages) {
    if (kind_of(message.code).severity == Severity::error) {
      throw std::logic_error(fmt::format("embedded {}: {}", path, full_text(message)));
    }
  }
}

/// What a parts file says of all its parts, said by each: a part must mean the same when it is copied elsewhere.
/// A part of which nobody says where its numbers come from is assumed, in whatever site it is used.
void settle(PartsFile& file) {
  for (auto& entry : file.parts) {
    Part& part = entry.second;
    if (!part.origin) part.origin = file.origin.value_or(Origin::assumed);
    if (part.shelf_version.empty()) part.shelf_version = file.shelf_version;
  }
}

template <class File>
std::string hash_of(const File& object) {
  return sha256_hex(write_json(write_record(record_of<File>(), &object)));
}

Map<Part> read_shelf_parts() {
  Map<Part> shelf;
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.path.substr(0, 6) != "parts/") continue;
    PartsResult read = read_parts(file.bytes, std::string(file.path));
    refuse_errors(file.path, read.messages);
    for (auto& [id, part] : read.parts) {
      if (!shelf.emplace(id, std::move(part)).second) {
        throw std::logic_error(fmt::format("embedded {}: part {} stands in another file too", file.path, id));
      }
    }
  }
  return shelf;
}

Map<Rulebook> read_shelf_rulebooks() {
  Map<Rulebook> shelf;
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.path.substr(0, 10) != "rulebooks/") continue;
    RulebookResult read = read_rulebook(file.bytes, std::string(file.path));
    refuse_errors(file.path, read.messages);
    if (!shelf.emplace(read.id, std::move(read.rulebook)).second) {
      throw std::logic_error(fmt::format("embedded {}: rulebook {} stands in another file too", file.path, read.id));
    }
  }
  return shelf;
}

/// Reads one file of a format into `file`; messages have lines and columns.
template <class File>
std::vector<Message> read_file_of(const Format& format, std::string_view text, const std::string& name, File& file,
                                  void (*check)(const File&, Findings&)) {
  std::vector<Message> messages;
  const Json json = parse_json(text, name, messages);
  if (any_error(messages)) return messages;
  Findings findings(name);
  if (read_document(format, json, &file, findings).usable) check(file, findings);
  for (Message& message : findings.in_text(text)) messages.push_back(std::move(message));
  return messages;
}

}  // namespace

PartsResult read_parts(std::string_view text, const std::string& name) {
  PartsResult result;
  PartsFile file;
  result.messages = read_file_of(parts_format(), text, name, file, &check_parts);
  settle(file);
  result.parts = std::move(file.parts);
  return result;
}

RulebookResult read_rulebook(std::string_view text, const std::string& name) {
  RulebookResult result;
  RulebookFile file;
  result.messages = read_file_of(rulebook_format(), text, name, file, &check_rulebook);
  result.id = std::move(file.id);
  result.rulebook = std::move(file.rulebook);
  return result;
}

const Map<Part>& parts_shelf() {
  static const Map<Part> shelf = read_shelf_parts();
  return shelf;
}

const Map<Rulebook>& rulebook_shelf() {
  static const Map<Rulebook> shelf = read_shelf_rulebooks();
  return shelf;
}

std::optional<Part> part_for_site(std::string_view id) {
  const auto found = parts_shelf().find(std::string(id));
  if (found == parts_shelf().end()) return std::nullopt;
  Part part = found->second;
  part.shelf_hash = hash_of(found->second);
  return part;
}

bool is_changed_copy(const Part& part) {
  if (part.shelf_hash.empty()) return false;
  Part content = part;
  content.shelf_hash.clear();
  return hash_of(content) != part.shelf_hash;
}

std::optional<Rulebook> rulebook_for_site(std::string_view id) {
  const auto found = rulebook_shelf().find(std::string(id));
  if (found == rulebook_shelf().end()) return std::nullopt;
  Rulebook book = found->second;
  book.hash = hash_of(found->second);
  return book;
}

const Rulebook* rulebook_of(const Site& site) {
  const auto found = site.rulebooks.find(site.rulebook.book.id);
  return found == site.rulebooks.end() ? nullptr : &found->second;
}

const RuleEntry* rule(const Site& site, std::string_view id) {
  const Rulebook* book = rulebook_of(site);
  if (book == nullptr) return nullptr;
  if (site.rulebook.grade.known()) {
    const auto graded = book->entries.find(fmt::format("{}_grade_{}", id, *site.rulebook.grade.value));
    if (graded != book->entries.end()) return &graded->second;
  }
  const auto found = book->entries.find(std::string(id));
  return found == book->entries.end() ? nullptr : &found->second;
}

}  // namespace zoneproof::site
