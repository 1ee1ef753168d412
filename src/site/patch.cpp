#include "site/patch.hpp"

#include <array>
#include <nlohmann/json.hpp>

#include "base/json_patch.hpp"
#include "base/json_place.hpp"
#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "messages/site.hpp"
#include "site/definitions.hpp"
#include "site/document.hpp"
#include "site/number_form.hpp"
#include "site/site_json.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

using Json = nlohmann::ordered_json;

/// Which state of a site a patch is made for.
struct BaseRevision {
  Count number;
  std::string sha256;
};

/// A patch without its operations, which base/json_patch.hpp reads.
struct PatchFile {
  long long version = 1;
  BaseRevision base_revision;
};

template <>
const Record& record_of<BaseRevision>() {
  using Here = BaseRevision;
  static const Record record = {
      "BaseRevision",
      "The state of a site that a patch is made for.",
      {ZONEPROOF_FIELD(number).range(0, 1e15).needed().means("The revision's running number."),
       ZONEPROOF_FIELD(sha256).as(TextForm::sha256, 64).needed().means("SHA-256 of the site's canonical text.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PatchFile>() {
  using Here = PatchFile;
  static const Record record = {
      "PatchFile",
      "A change of a site.",
      {ZONEPROOF_FIELD(version).range(1, 1).needed().means("Version of the patch format."),
       ZONEPROOF_FIELD(base_revision).needed().means("The state of the site that the patch is made for.")},
      sizeof(Here),
      {}};
  return record;
}

namespace {

const Format& patch_format() {
  static const Format format = {"zoneproof-patch", 1, &record_of<PatchFile>, {}};
  return format;
}

/// What no patch changes: the program writes it.
constexpr std::array<std::string_view, 4> kKept = {"", "/format", "/version", "/revision"};

/// The first kept pointer that an operation would change; nothing where it leaves all alone.
std::optional<std::string> kept_pointer(const Json& operation) {
  if (!operation.is_object() || operation.value("op", Json()) == "test") return std::nullopt;
  for (const char* key : {"path", "from"}) {
    const auto found = operation.find(key);
    if (found == operation.end() || !found->is_string()) continue;
    const std::string& pointer = found->get_ref<const std::string&>();
    for (const std::string_view kept : kKept) {
      if (pointer == kept || (!kept.empty() && pointer_within(pointer, kept))) return pointer;
    }
  }
  return std::nullopt;
}

/// A member of an object, which no longer has it.
std::optional<Json> taken_out(Json& object, const char* key) {
  if (!object.is_object() || !object.contains(key)) return std::nullopt;
  Json taken = std::move(object[key]);
  object.erase(key);
  return taken;
}

void check_operations(const std::optional<Json>& operations, Findings& findings) {
  if (!operations) {
    findings.add(say::site_missing("operations", std::string(record_of<PatchFile>().name),
                                   "What is to change, as RFC 6902 has it."),
                 "");
    return;
  }
  if (!operations->is_array()) {
    findings.add(say::site_list_wanted(found_words(*operations), "operations"), "/operations");
    return;
  }
  std::size_t index = 0;
  for (const Json& operation : *operations) {
    if (const auto kept = kept_pointer(operation)) {
      findings.add(say::patch_touches(static_cast<long long>(index), *kept), pointer_child("/operations", index));
    }
    ++index;
  }
}

void check_base(const Site& site, const BaseRevision& base, Findings& findings) {
  if (!base.number.known() || base.sha256.empty()) return;  // missing: told already
  const long long wanted = *base.number.value;
  if (wanted != site.revision) {
    findings.add(say::patch_other_revision(wanted, site.revision), base.number.pointer);
  } else if (const std::string hash = site_hash(site); hash != base.sha256) {
    findings.add(say::patch_other_content(wanted, base.sha256, hash), "/base_revision/sha256");
  }
}

std::string patch_text_of(const Site& base, Json operations) {
  Json patch = {{"format", "zoneproof-patch"}, {"version", 1}};
  patch["base_revision"] = {{"number", base.revision}, {"sha256", site_hash(base)}};
  patch["operations"] = std::move(operations);
  return write_json(patch);
}

/// Messages of base/json_patch.hpp point into the list of operations.
void place_in_operations(std::vector<Message>& messages, const std::string& name, std::string_view text) {
  for (Message& message : messages) {
    message.place.file = name;
    message.place.pointer = "/operations" + message.place.pointer;
  }
  place_in_text(messages, text);
}

}  // namespace

PatchResult apply_patch(const Site& site, std::string_view patch_text, const std::string& name,
                        const std::string& site_name) {
  PatchResult result;
  Json patch = parse_json(patch_text, name, result.messages);
  if (any_error(result.messages)) return result;

  Findings findings(name);
  PatchFile file;
  const auto operations = taken_out(patch, "operations");
  if (read_document(patch_format(), patch, &file, findings).usable) {
    check_operations(operations, findings);
    check_base(site, file.base_revision, findings);
  }
  result.messages = findings.in_text(patch_text);
  if (any_error(result.messages)) return result;

  Json document = write_document(site_format(), &site, Written::complete);
  result.messages = zoneproof::apply_patch(document, *operations);
  if (any_error(result.messages)) {
    place_in_operations(result.messages, name, patch_text);
    return result;
  }
  document["revision"] = site.revision + 1;
  ReadResult read = read_site_json(document, site_name, std::nullopt, nullptr);
  result.messages = std::move(read.messages);
  if (!read.site) return result;
  result.undo = patch_between(*read.site, site);  // of the sites, not of the documents: null and absent are one there
  result.site = std::move(read.site);
  return result;
}

std::string patch_between(const Site& from, const Site& to) {
  Json before = write_document(site_format(), &from, Written::complete);
  Json after = write_document(site_format(), &to, Written::complete);
  after["revision"] = before["revision"];
  after["version"] = before["version"];
  return patch_text_of(from, difference(before, after));
}

}  // namespace zoneproof::site
