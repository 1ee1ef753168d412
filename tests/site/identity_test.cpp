// Nothing is lost between memory and file, whatever the definitions allow.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_text.hpp"
#include "generated.hpp"
#include "site/file.hpp"
#include "site/record_json.hpp"
#include "site/shelf.hpp"
#include "site/site_record.hpp"
#include "site/walk.hpp"
#include "small_site.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;

/// Writes `object` to text, parses that, reads it again.
template <class T>
T through_text(const T& object) {
  const std::string text = write_json(write_record(record_of<T>(), &object));
  std::vector<Message> messages;
  const Json json = parse_json(text, "x", messages);
  RC_ASSERT(messages.empty());
  Findings findings("x");
  T back{};
  RecordReader(findings).read(record_of<T>(), &back, json);
  for (const Message& message : findings.in_text(text)) RC_FAIL(full_text(message));
  RC_ASSERT(write_json(write_record(record_of<T>(), &back)) == text);
  return back;
}

RC_GTEST_PROP(Identity, OfAnySite, (std::uint64_t seed)) {
  const Site site = generated<Site>(seed);
  RC_ASSERT(same(site, through_text(site)));
}

RC_GTEST_PROP(Identity, OfAnyPart, (std::uint64_t seed)) {
  const PartsFile file = generated<PartsFile>(seed);
  RC_ASSERT(same(file, through_text(file)));
}

RC_GTEST_PROP(Identity, OfAnyRulebook, (std::uint64_t seed)) {
  const RulebookFile file = generated<RulebookFile>(seed);
  RC_ASSERT(same(file, through_text(file)));
}

// Found by the property above: a rulebook of which nothing is known was left out, and the reader asked for it.
TEST(Identity, OfARulebookOfWhichNothingIsKnown) {
  RulebookFile file;
  file.id = "empty";
  Json json = write_record(record_of<RulebookFile>(), &file);
  EXPECT_EQ(json, Json::parse(R"({"version": 1, "id": "empty", "rulebook": {}})"));
  json["format"] = "zoneproof-rulebook";
  const RulebookResult back = read_rulebook(write_json(json), "x");
  for (const Message& message : back.messages) ADD_FAILURE() << full_text(message);
  EXPECT_EQ(back.id, "empty");
  EXPECT_TRUE(same(back.rulebook, Rulebook{}));
}

RC_GTEST_PROP(Same, TellsAnyTwoGeneratedSitesApartExactlyWhenTheirTextsDiffer, (std::uint64_t a, std::uint64_t b)) {
  const auto text = [](const Zone& zone) { return write_json(write_record(record_of<Zone>(), &zone)); };
  const Zone one = generated<Zone>(a);
  const Zone other = generated<Zone>(b % 8);
  RC_ASSERT(same(one, other) == (text(one) == text(other)));
}

TEST(Identity, OfTheSmallSiteAndItsCanonicalText) {
  const ReadResult first = read_site(kSmallSite, "x");
  ASSERT_TRUE(first.site.has_value());
  const std::string canonical = write_site(*first.site);
  const ReadResult second = read_site(canonical, "x");
  ASSERT_TRUE(second.site.has_value());
  EXPECT_TRUE(same_site(*first.site, *second.site));
  EXPECT_EQ(write_site(*second.site), canonical);
  EXPECT_EQ(canonical.back(), '\n');
  EXPECT_EQ(site_hash(*first.site), site_hash(*second.site));
}

TEST(Identity, OfASiteThatHoldsTheWholeShelf) {
  Site site;
  for (const auto& entry : parts_shelf()) site.parts.emplace(entry.first, *part_for_site(entry.first));
  for (const auto& entry : rulebook_shelf()) site.rulebooks.emplace(entry.first, *rulebook_for_site(entry.first));
  const std::string canonical = write_site(site);
  const ReadResult back = read_site(canonical, "x");
  for (const Message& message : back.messages) ADD_FAILURE() << full_text(message);
  ASSERT_TRUE(back.site.has_value());
  EXPECT_TRUE(same_site(site, *back.site));
  EXPECT_EQ(write_site(*back.site), canonical);
}

TEST(Identity, OrderOfKeysAndSpacingDoNotMatter) {
  const Json site = Json::parse(kSmallSite);
  std::vector<std::string> keys;
  for (const auto& item : site.items()) keys.push_back(item.key());
  Json reversed = Json::object();
  for (auto key = keys.rbegin(); key != keys.rend(); ++key) reversed[*key] = site[*key];
  const ReadResult a = read_site(kSmallSite, "x");
  const ReadResult b = read_site(reversed.dump(), "x");
  ASSERT_TRUE(a.site && b.site);
  EXPECT_EQ(site_hash(*a.site), site_hash(*b.site));
}

TEST(Identity, ASavedSiteIsTheSameWhenLoaded) {
  const ReadResult first = read_site(kSmallSite, "x");
  ASSERT_TRUE(first.site.has_value());
  const std::string path = testing::TempDir() + "saved.site.json";
  EXPECT_TRUE(save_site(*first.site, path).empty());
  const ReadResult second = load_site(path);
  ASSERT_TRUE(second.site.has_value());
  EXPECT_TRUE(same_site(*first.site, *second.site));
  EXPECT_EQ(load_site(path + "no").messages.front().code, "file_missing");
  EXPECT_EQ(save_site(*first.site, testing::TempDir() + "no/such/folder/x.site.json").front().code, "folder_missing");
}

}  // namespace
}  // namespace zoneproof::site
