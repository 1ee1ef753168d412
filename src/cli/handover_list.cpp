#include "cli/handover_list.hpp"

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>

#include "base/file.hpp"
#include "base/sha256.hpp"
#include "cli/folder_lock.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;  // sorted keys

constexpr const char* kFormat = "zoneproof-handover-files";
constexpr int kVersion = 1;

/// A name that a handover file gives: nothing else is ever removed, whatever a list says.
bool is_ours(const std::string& name) {
  static const std::regex names(R"(handover\.pdf|labels\.pdf|tables\.xlsx|tables/[\w-]+\.csv|drawings/[\w-]+\.svg)");
  return std::regex_match(name, names);
}

bool is_hash(const std::string& text) {
  constexpr std::size_t digits = 64;
  return text.size() == digits && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

std::optional<HandoverList> parsed(const std::string& text) {
  const Json json = Json::parse(text, nullptr, false);
  if (!json.is_object() || json.value("format", Json()) != kFormat || json.value("version", Json()) != kVersion)
    return std::nullopt;
  const auto files = json.find("files");
  if (files == json.end() || !files->is_object()) return std::nullopt;
  HandoverList list;
  for (const auto& [name, hash] : files->items()) {
    if (!hash.is_string() || !is_hash(hash.get<std::string>())) return std::nullopt;
    if (is_ours(name)) list.hashes[name] = hash.get<std::string>();
  }
  return list;
}

/// A plain file, no link to one: what a link leads to is not in this folder.
bool is_plain(const fs::path& path) {
  std::error_code failed;
  return fs::is_regular_file(fs::symlink_status(path, failed));
}

/// The bytes of a file as a hash; nothing for a link and what cannot be read.
std::optional<std::string> hash_of(const fs::path& path) {
  std::vector<Message> problems;
  const auto bytes = is_plain(path) ? read_file(path.string(), problems) : std::nullopt;
  return bytes ? std::optional(sha256_hex(*bytes)) : std::nullopt;
}

/// Files of the kinds that a handover file has in its folders.
std::vector<std::string> lying_about(const fs::path& folder) {
  std::vector<std::string> names;
  for (const char* inside : {"tables", "drawings"}) {
    std::error_code failed;
    for (fs::directory_iterator at(folder / inside, failed), end; !failed && at != end; at.increment(failed)) {
      std::string name = std::string(inside) + "/" + at->path().filename().string();
      if (is_ours(name)) names.push_back(std::move(name));
    }
  }
  for (const char* name : {"labels.pdf"})
    if (is_plain(folder / name)) names.emplace_back(name);
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

std::string text_of(const HandoverList& list) {
  const Json json = {{"format", kFormat}, {"version", kVersion}, {"files", list.hashes}};
  return json.dump(1) + "\n";
}

HandoverList list_in(const std::string& folder, std::vector<Message>& notes) {
  const fs::path path = fs::path(folder) / kHandoverList;
  std::error_code failed;
  if (!fs::exists(path, failed)) return {};
  std::vector<Message> problems;
  const auto text = read_file(path.string(), problems);
  if (auto list = text ? parsed(*text) : std::nullopt) return *std::move(list);
  notes.push_back(say::handover_list_unreadable(path.string()));
  return {};
}

std::vector<std::string> changed_in(const std::string& folder, const HandoverList& before, const HandoverList& now) {
  std::vector<std::string> names;
  for (const auto& [name, hash] : now.hashes) {
    const fs::path path = fs::path(folder) / name;
    std::error_code failed;
    if (!fs::is_regular_file(path, failed)) continue;  // of a link what it leads to, for that is written over
    const auto there = hash_of(behind_links(path.string()));
    const auto listed = before.hashes.find(name);
    if (there == hash || (there && listed != before.hashes.end() && *there == listed->second)) continue;
    names.push_back(name);
  }
  return names;
}

std::vector<std::string> left_behind_in(const std::string& folder) {
  std::vector<std::string> paths;
  for (const char* inside : {"", "tables", "drawings"}) {
    std::error_code failed;
    for (fs::directory_iterator at(fs::path(folder) / inside, failed), end; !failed && at != end;
         at.increment(failed)) {
      const std::string target = target_of_leftover(at->path().filename().string());
      const std::string name = (fs::path(inside) / target).string();
      if (is_ours(name) || name == kHandoverList) paths.push_back((fs::path(folder) / name).string());
    }
  }
  return paths;
}

std::vector<Message> remove_what_is_past(const std::string& folder, const HandoverList& before,
                                         const HandoverList& now) {
  std::vector<std::string> removed, kept, stuck;
  for (const std::string& name : lying_about(folder)) {
    if (now.hashes.count(name) != 0) continue;
    const fs::path path = fs::path(folder) / name;
    const auto listed = before.hashes.find(name);
    if (listed == before.hashes.end() || hash_of(path) != listed->second) {
      kept.push_back(name);
      continue;
    }
    std::error_code failed;
    (fs::remove(path, failed) && !failed ? removed : stuck).push_back(name);
  }
  std::vector<Message> notes;
  if (!removed.empty()) notes.push_back(say::handover_past_removed(removed));
  if (!kept.empty()) notes.push_back(say::handover_past_kept(kept));
  if (!stuck.empty()) notes.push_back(say::handover_past_stuck(stuck));
  return notes;
}

}  // namespace zoneproof::cli
