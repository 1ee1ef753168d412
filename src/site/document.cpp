#include "site/document.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "messages/site.hpp"
#include "site/costs.hpp"
#include "site/number_form.hpp"
#include "site/record_json.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

using Json = nlohmann::ordered_json;

namespace {

/// Version 2 added the building and the cameras, version 3 the data network: what stands in an older file means what it
/// meant.
void nothing_renamed(Json&) {}

}  // namespace

// Version 1 is the oldest of each format.
const Format& site_format() {
  static const Format format = {
      "zoneproof-site", kSiteVersion, &record_of<Site>, {{1, nothing_renamed}, {2, nothing_renamed}}};
  return format;
}

const Format& parts_format() {
  static const Format format = {
      "zoneproof-parts", kPartsVersion, &record_of<PartsFile>, {{1, nothing_renamed}, {2, nothing_renamed}}};
  return format;
}

const Format& rulebook_format() {
  static const Format format = {"zoneproof-rulebook", kRulebookVersion, &record_of<RulebookFile>, {}};
  return format;
}

const Format& costs_format() {
  static const Format format = {"zoneproof-costs", kCostsVersion, &record_of<Costs>, {}};
  return format;
}

namespace {

bool right_format(const Format& format, const Json& json, Findings& findings) {
  if (!json.is_object()) {
    findings.add(say::site_object_wanted(found_words(json), std::string(format.word)), "");
    return false;
  }
  const auto word = json.find("format");
  if (word == json.end()) {
    findings.add(say::site_format_missing(std::string(format.word), format.version), "");
    return false;
  }
  if (*word == std::string(format.word)) return true;
  findings.add(say::site_format_other(word->is_string() ? word->get<std::string>() : found_words(*word),
                                      std::string(format.word)),
               "/format");
  return false;
}

/// The document's version where this program can read it.
std::optional<int> readable_version(const Format& format, const Json& json, Findings& findings) {
  const auto found = json.find("version");
  const double number = found != json.end() && found->is_number() ? found->get<double>() : NAN;
  if (number != std::floor(number) || std::fabs(number) > 1e9) {
    findings.add(say::site_version_missing(std::string(format.word), format.version),
                 found == json.end() ? "" : "/version");
    return std::nullopt;
  }
  const int version = static_cast<int>(number);
  const int oldest = format.migrations.empty() ? format.version : format.migrations.front().from;
  if (version > format.version) {
    findings.add(say::site_version_newer(version, format.version), "/version");
    return std::nullopt;
  }
  if (version < oldest) {
    findings.add(say::site_version_unknown(version, std::string(format.word), format.version), "/version");
    return std::nullopt;
  }
  return version;
}

}  // namespace

DocumentReading read_document(const Format& format, Json json, void* object, Findings& findings) {
  DocumentReading reading;
  if (!right_format(format, json, findings)) return reading;
  const auto version = readable_version(format, json, findings);
  if (!version) return reading;
  if (*version < format.version) reading.migrated_from = *version;
  for (const Migration& migration : format.migrations) {
    if (migration.from < *version) continue;
    migration.step(json);
    json["version"] = migration.from + 1;
  }
  RecordReader reader(findings);
  reader.read(format.record(), object, json, std::nullopt, "format");
  reading.usable = true;
  reading.skipped = reader.skipped();
  return reading;
}

Json write_document(const Format& format, const void* object, Written how) {
  Json out = write_record(format.record(), object, how);
  out["format"] = std::string(format.word);
  return out;
}

}  // namespace zoneproof::site
