#include "site/patch.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>
#include <random>

#include "site/file.hpp"
#include "small_site.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;

Site small() { return *read_site(kSmallSite, "x").site; }

std::string patch_for(const Site& site, const char* operations) {
  Json patch = {{"format", "zoneproof-patch"}, {"version", 1}};
  patch["base_revision"] = {{"number", site.revision}, {"sha256", site_hash(site)}};
  patch["operations"] = Json::parse(operations);
  return patch.dump();
}

std::string only_code(const PatchResult& result) {
  EXPECT_FALSE(result.site.has_value());
  if (result.messages.size() == 1) return result.messages.front().code;
  std::string all;
  for (const Message& message : result.messages) all += full_text(message) + "\n";
  return all;
}

/// The same content, whatever the revision.
bool same_content(Site a, const Site& b) {
  a.revision = b.revision;
  return same_site(a, b);
}

TEST(Patch, GivesTheNextRevision) {
  const Site site = small();
  const PatchResult result =
      apply_patch(site, patch_for(site, R"([{"op": "replace", "path": "/zones/door/number", "value": 12}])"), "p");
  ASSERT_TRUE(result.site.has_value());
  EXPECT_EQ(result.site->revision, site.revision + 1);
  EXPECT_EQ(result.site->zones.at("door").number.value, 12);
}

TEST(Patch, ItsUndoTakesTheContentBack) {
  const Site site = small();
  const PatchResult done = apply_patch(
      site,
      patch_for(site, R"([{"op": "remove", "path": "/bonds/strap"}, {"op": "add", "path": "/areas/attic", "value": {}},
                          {"op": "replace", "path": "/cables/run/length_m", "value": {"value": 5, "tolerance_pct": 2}}])"),
      "p");
  ASSERT_TRUE(done.site.has_value());
  EXPECT_FALSE(same_content(*done.site, site));
  const PatchResult undone = apply_patch(*done.site, done.undo, "undo");
  ASSERT_TRUE(undone.site.has_value());
  EXPECT_TRUE(same_content(*undone.site, site));
  EXPECT_EQ(undone.site->revision, site.revision + 2);
}

RC_GTEST_PROP(Patch, AnyChangeThenItsUndoIsIdentity, (std::uint64_t seed)) {
  const Site site = small();
  Site changed = site;
  std::mt19937_64 random(seed);
  const auto number = [&](double high) { return static_cast<double>(random() % 1000) / 1000 * high; };
  if (random() % 2) changed.cables.at("run").length_m = Value::between(0, number(50), 100, Origin::measured);
  if (random() % 2) changed.bonds.clear();
  if (random() % 2) changed.zones.at("door").name = "Door " + std::to_string(random() % 100);
  if (random() % 2) changed.zones.at("air").number.value.reset();
  for (std::uint64_t i = random() % 4; i > 0; --i) changed.areas["area" + std::to_string(random() % 5)].name = "New";
  const PatchResult done = apply_patch(site, patch_between(site, changed), "p");
  RC_ASSERT(done.site.has_value());
  RC_ASSERT(same_content(*done.site, changed));
  const PatchResult undone = apply_patch(*done.site, done.undo, "undo");
  RC_ASSERT(undone.site.has_value());
  RC_ASSERT(same_content(*undone.site, site));
}

TEST(Patch, MayAddToWhatWasEmptyAndMakeUnknownWithNull) {
  const Site site = small();
  const PatchResult done =
      apply_patch(site, patch_for(site, R"([{"op": "add", "path": "/zones/air/loop/cable", "value": null},
                          {"op": "add", "path": "/loads/siren", "value": {"name": "Siren"}},
                          {"op": "add", "path": "/outputs/arm/partitions/-", "value": "half"},
                          {"op": "add", "path": "/partitions/half", "value": {}},
                          {"op": "replace", "path": "/zones/door/number", "value": null}])"),
                  "p");
  for (const Message& message : done.messages) ADD_FAILURE() << full_text(message);
  ASSERT_TRUE(done.site.has_value());
  EXPECT_FALSE(done.site->zones.at("door").number.known());
  EXPECT_EQ(done.site->outputs.at("arm").partitions.size(), 2U);
  const PatchResult undone = apply_patch(*done.site, done.undo, "undo");
  ASSERT_TRUE(undone.site.has_value());
  EXPECT_TRUE(same_content(*undone.site, site));
}

TEST(Patch, BetweenEqualSitesHasNoOperations) {
  EXPECT_THAT(patch_between(small(), small()), testing::HasSubstr("\"operations\": []"));
}

TEST(Patch, IsRefusedOnAnyOtherStateOfTheSite) {
  const Site site = small();
  const std::string patch = patch_for(site, R"([{"op": "remove", "path": "/bonds/strap"}])");
  Site later = site;
  later.revision = 4;
  EXPECT_EQ(only_code(apply_patch(later, patch, "p")), "patch_other_revision");
  Site other = site;
  other.name = "Another";
  EXPECT_EQ(only_code(apply_patch(other, patch, "p")), "patch_other_content");
}

TEST(Patch, CannotTouchWhatTheProgramKeeps) {
  const Site site = small();
  for (const char* operations :
       {R"([{"op": "replace", "path": "/revision", "value": 9}])", R"([{"op": "remove", "path": "/format"}])",
        R"([{"op": "replace", "path": "", "value": {}}])",
        R"([{"op": "move", "from": "/version", "path": "/note"}])"}) {
    EXPECT_EQ(only_code(apply_patch(site, patch_for(site, operations), "p")), "patch_touches") << operations;
  }
  EXPECT_TRUE(apply_patch(site, patch_for(site, R"([{"op": "test", "path": "/revision", "value": 3}])"), "p").site);
}

TEST(Patch, ThatFailsChangesNothingAndSaysWhere) {
  const Site site = small();
  const PatchResult result = apply_patch(
      site, patch_for(site, R"([{"op": "remove", "path": "/bonds/strap"}, {"op": "remove", "path": "/bonds/strap"}])"),
      "p.json");
  EXPECT_EQ(only_code(result), "patch_path_missing");
  EXPECT_EQ(result.messages.front().place.file, "p.json");
  EXPECT_EQ(result.messages.front().place.pointer.rfind("/operations/1", 0), 0U)
      << result.messages.front().place.pointer;
  EXPECT_EQ(result.messages.front().place.line, 1);
}

TEST(Patch, WhoseResultIsNoSiteIsRefusedWithThePlaceInTheSite) {
  const Site site = small();
  const PatchResult result = apply_patch(site, patch_for(site, R"([{"op": "remove", "path": "/panels/panel"}])"), "p");
  EXPECT_FALSE(result.site.has_value());
  ASSERT_EQ(result.messages.size(), 3U);
  EXPECT_EQ(result.messages.front().code, "site_dangling");
  EXPECT_EQ(result.messages.front().place.pointer, "/outputs/arm/panel");
}

TEST(Patch, ThatIsNoneIsRefused) {
  const Site site = small();
  EXPECT_EQ(only_code(apply_patch(site, "[]", "p")), "site_object_wanted");
  EXPECT_EQ(only_code(apply_patch(site, "{}", "p")), "site_format_missing");
  EXPECT_EQ(only_code(apply_patch(site, R"({"format": "zoneproof-patch", "version": 1, "operations": []})", "p")),
            "site_missing");
  Json text = Json::parse(patch_for(site, "[]"));
  text.erase("operations");
  EXPECT_EQ(only_code(apply_patch(site, text.dump(), "p")), "site_missing");
  text["operations"] = "remove";
  EXPECT_EQ(only_code(apply_patch(site, text.dump(), "p")), "site_list_wanted");
  EXPECT_EQ(only_code(apply_patch(site, patch_for(site, R"(["remove"])"), "p")), "patch_not_an_object");
  EXPECT_EQ(only_code(apply_patch(site, "{", "p")).substr(0, 5), "json_");
}

}  // namespace
}  // namespace zoneproof::site
