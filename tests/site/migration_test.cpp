// The mechanism by which older files are read, tried with a format of its own, and on a file of version 1.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "site/file.hpp"
#include "site/old_format.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;

struct Read {
  Site site;
  DocumentReading reading;
  std::vector<Message> messages;
};

Read read_old(const char* text) {
  Read read;
  Findings findings("old.site.json");
  read.reading = read_document(old_format(), Json::parse(text), &read.site, findings);
  read.messages = findings.in_text(text);
  return read;
}

TEST(Migration, BringsAnOldFileThroughEveryVersionInBetween) {
  const Read read = read_old(R"({"format": "zoneproof-site", "version": -1, "title": "Old mill",
                                 "cables": {"run": {"length_ft": 100}}})");
  for (const Message& message : read.messages) ADD_FAILURE() << full_text(message);
  EXPECT_EQ(read.reading.migrated_from, -1);
  EXPECT_EQ(read.site.name, "Old mill");
  EXPECT_DOUBLE_EQ(read.site.cables.at("run").length_m.nominal, 30.48);
  EXPECT_EQ(read.site.version, kSiteVersion);
}

TEST(Migration, StartsAtTheFilesOwnVersion) {
  const Read read = read_old(R"({"format": "zoneproof-site", "version": 0, "name": "Mill",
                                 "cables": {"run": {"length_ft": 10}}})");
  EXPECT_TRUE(read.messages.empty());
  EXPECT_EQ(read.reading.migrated_from, 0);
  EXPECT_EQ(read.site.name, "Mill");
}

TEST(Migration, ANewFileIsNotTouched) {
  const Read read = read_old(R"({"format": "zoneproof-site", "version": 3, "cables": {"run": {"length_ft": 10}}})");
  EXPECT_FALSE(read.reading.migrated_from.has_value());
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(read.messages.front().code, "site_foreign_unit");
}

TEST(Migration, OlderThanTheOldestKnownIsRefused) {
  const Read read = read_old(R"({"format": "zoneproof-site", "version": -2})");
  EXPECT_FALSE(read.reading.usable);
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(read.messages.front().code, "site_version_unknown");
}

// Version 2 added the building and its cameras, version 3 the data network: an older file means what it meant, and is
// saved as version 3.
TEST(Migration, AFileOfVersionOneIsReadAsItStoodAndSaidSo) {
  const ReadResult read =
      read_site(R"({"format": "zoneproof-site", "version": 1, "name": "Mill", "zones": {"z1": {"number": 3}}})",
                "mill.site.json");
  ASSERT_TRUE(read.site.has_value());
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(read.messages.front().code, "site_migrated");
  EXPECT_EQ(read.site->version, 3);
  EXPECT_EQ(*read.site->zones.at("z1").number.value, 3);
  EXPECT_TRUE(read.site->walls.empty());
}

TEST(Migration, AFileOfVersionTwoKeepsItsCameras) {
  const ReadResult read = read_site(
      R"({"format": "zoneproof-site", "version": 2, "name": "Mill", "cameras": {"c": {"name": "Yard", "focal_mm": 4}}})",
      "mill.site.json");
  ASSERT_TRUE(read.site.has_value());
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(read.messages.front().code, "site_migrated");
  EXPECT_EQ(read.site->version, 3);
  EXPECT_EQ(read.site->cameras.at("c").focal_mm.nominal, 4.0);
  EXPECT_TRUE(read.site->cameras.at("c").streams.empty());
}

}  // namespace
}  // namespace zoneproof::site
