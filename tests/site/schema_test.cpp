// The schemas are generated and never written by hand; an independent reader of them (python3-jsonschema) accepts and
// refuses the same files as the program, as far as a schema can tell.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "base/json_text.hpp"
#include "generated.hpp"
#include "site/document.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"
#include "site/site_record.hpp"
#include "small_site.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;

std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void put_file(const std::filesystem::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

const std::filesystem::path kSchemas = std::filesystem::path(ZONEPROOF_SOURCE_DIR) / "data" / "schema";

/// ZONEPROOF_WRITE_SCHEMAS=1 site_tests --gtest_filter='Schema.*' writes them anew.
void expect_current(const char* name, const std::string& generated) {
  if (std::getenv("ZONEPROOF_WRITE_SCHEMAS") != nullptr) put_file(kSchemas / name, generated);
  EXPECT_TRUE(file_text(kSchemas / name) == generated)
      << name << " is stale: run ZONEPROOF_WRITE_SCHEMAS=1 site_tests --gtest_filter='Schema.*'";
}

TEST(Schema, FilesAreCurrent) {
  expect_current("site.schema.json", site_schema());
  expect_current("parts.schema.json", parts_schema());
  expect_current("rulebook.schema.json", rulebook_schema());
  expect_current("costs.schema.json", costs_schema());
}

/// Whether the program takes the document's fields as they are, references and rules between fields left aside.
bool reader_accepts(const Json& json) {
  Findings findings("x");
  Site site;
  return read_document(site_format(), json, &site, findings).usable && !findings.any();
}

Json changed(const std::string& pointer, const Json& value) {
  Json site = Json::parse(kSmallSite);
  site[Json::json_pointer(pointer)] = value;
  return site;
}

/// Documents of both kinds: single changes of a valid site, and generated ones.
std::vector<Json> documents() {
  std::vector<Json> out = {Json::parse(kSmallSite), Json::object(), Json::array(), nullptr};
  const char* const values[] = {"null",
                                "0",
                                "1",
                                "1.5",
                                "-1",
                                "1e9",
                                "\"none\"",
                                "\"run\"",
                                "\"Two Words\"",
                                "true",
                                "[]",
                                "[\"shop\"]",
                                "{}",
                                "{\"value\": 3}",
                                "{\"value\": \"none\"}",
                                "{\"value\": null}",
                                "{\"value\": null, \"min\": 1, \"max\": 2}",
                                "{\"min\": 1, \"max\": 2}",
                                "{\"min\": 1}",
                                "{\"value\": 1, \"plus\": 0.1, \"minus\": 0.1}",
                                "{\"value\": 1, \"plus\": 0.1}",
                                "{\"value\": 1, \"plus\": null, \"minus\": 0.1}",
                                "{\"value\": 1, \"tolerance_pct\": 5}",
                                "{\"value\": 1, \"tolerance_pct\": 101}",
                                "{\"value\": 1, \"tolerance_pct\": 5, \"min\": 0, \"max\": 2}",
                                "{\"value\": 1, \"origin\": \"measured\"}",
                                "{\"value\": 1, \"origin\": \"guess\"}",
                                "{\"value\": 1, \"note\": \"two\\nlines\"}",
                                "{\"value\": 1, \"more\": 1}",
                                "\"intruder\"",
                                "\"a\\u0001b\"",
                                "\"a\\u202eb\"",
                                "\"a\\u200cb\"",
                                "\"a\\uffffb\"",
                                "\" \\u2003\"",
                                "{\"value\": 1, \"note\": \" \\n\"}",
                                "\"two\\nlines\""};
  const char* const pointers[] = {"/zones/door/loop/eol_ohm",
                                  "/cables/run/leakage_ohm",
                                  "/cables/run/areas",
                                  "/zones/door/type",
                                  "/zones/door/name",
                                  "/zones/door/number",
                                  "/zones/door/panel",
                                  "/zones/door/doubled_with",
                                  "/zones/door/loop",
                                  "/zones/door",
                                  "/zones",
                                  "/zones/Door",
                                  "/zones/none",
                                  "/bonds_complete",
                                  "/note",
                                  "/parts/pir/kind",
                                  "/parts/pir/load",
                                  "/parts/pir/detector",
                                  "/parts/pir/shelf_hash",
                                  "/revision",
                                  "/version",
                                  "/format",
                                  "/unknown",
                                  "/rulebooks/house_rules/entries/loop_margin_V/verified",
                                  "/rulebooks/house_rules/entries/battery_factor/points",
                                  "/rulebooks/house_rules/entries/Bad"};
  for (const char* pointer : pointers) {
    for (const char* value : values) out.push_back(changed(pointer, Json::parse(value)));
  }
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    Site site = generated<Site>(seed);
    if (seed % 4 != 0) site.parts.clear();  // generated kinds rarely fit their objects: such files are refused
    out.push_back(write_document(site_format(), &site));
  }
  return out;
}

/// Part kinds and their objects are ruled by the schema, and by a rule between fields in the program.
bool program_accepts(const Json& json) {
  if (!reader_accepts(json)) return false;
  const ReadResult full = read_site(write_json(json), "x");
  for (const Message& message : full.messages) {
    if (message.code == "site_part_object_missing" || message.code == "site_part_object_other") return false;
  }
  return true;
}

bool older_version(const Json& document) {
  const auto version = document.is_object() ? document.find("version") : document.end();
  return version != document.end() && version->is_number_integer() && *version >= 1 && *version < kSiteVersion;
}

TEST(Schema, AnIndependentReaderAcceptsAndRefusesTheSameFiles) {
  const std::filesystem::path folder = std::filesystem::path(testing::TempDir()) / "zoneproof_schema";
  std::filesystem::create_directories(folder);
  const std::vector<Json> all = documents();
  put_file(folder / "documents.json", Json(all).dump());
  put_file(folder / "judge.py",
           "import json, sys\n"
           "from jsonschema import Draft202012Validator as V\n"
           "schema = json.load(open(sys.argv[1], encoding='utf-8'))\n"
           "V.check_schema(schema)\n"
           "v = V(schema)\n"
           "print(' '.join('1' if v.is_valid(d) else '0' for d in json.load(open(sys.argv[2], encoding='utf-8'))))\n");
  const std::string command = "python3 '" + (folder / "judge.py").string() + "' '" +
                              (kSchemas / "site.schema.json").string() + "' '" + (folder / "documents.json").string() +
                              "' > '" + (folder / "answers").string() + "'";
  ASSERT_EQ(std::system(command.c_str()), 0) << "needs python3-jsonschema";
  std::istringstream answers(file_text(folder / "answers"));
  std::size_t accepted = 0;
  for (const Json& document : all) {
    int answer = -1;
    answers >> answer;
    ASSERT_GE(answer, 0);
    if (older_version(document)) continue;  // read by migration; the schema describes the present one
    EXPECT_EQ(answer == 1, program_accepts(document))
        << (answer ? "only the schema takes " : "only the program takes ") << document.dump().substr(0, 3000);
    accepted += answer == 1 ? 1 : 0;
  }
  EXPECT_GT(accepted, 70U);
  EXPECT_GT(all.size() - accepted, 300U);
}

TEST(Schema, OfPartsAndRulebooksTakesTheShelf) {
  for (const auto& [folder, schema] :
       {std::pair("parts", "parts.schema.json"), std::pair("rulebooks", "rulebook.schema.json")}) {
    const std::string command =
        "cd '" + (std::filesystem::path(ZONEPROOF_SOURCE_DIR) / "data" / folder).string() +
        "' && python3 -c 'import json,sys,glob\nfrom jsonschema import Draft202012Validator as V\n"
        "v=V(json.load(open(sys.argv[1])))\nfiles=glob.glob(\"*.json\")\nassert files\n"
        "[v.validate(json.load(open(f,encoding=\"utf-8\"))) for f in files]' '" +
        (kSchemas / schema).string() + "'";
    EXPECT_EQ(std::system(command.c_str()), 0) << folder;
  }
}

}  // namespace
}  // namespace zoneproof::site
