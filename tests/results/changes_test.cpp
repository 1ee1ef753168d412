// The readable difference: what a person has changed, in the words of the site, and nothing else.
#include "results/changes.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "base/language.hpp"
#include "site/file.hpp"
#include "site/patch.hpp"

namespace zoneproof::results {

namespace {

using Json = nlohmann::json;
using testing::ElementsAre;

site::Site demo(const std::string& name) {
  std::ifstream file(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + name + ".site.json", std::ios::binary);
  const site::ReadResult read = site::read_site(std::string(std::istreambuf_iterator<char>(file), {}), name);
  if (!read.site) throw std::runtime_error("no demo site " + name);
  return *read.site;
}

site::Site edited(const site::Site& site, const std::string& operations) {
  Json patch = {{"format", "zoneproof-patch"}, {"version", 1}, {"operations", Json::parse(operations)}};
  patch["base_revision"] = {{"number", site.revision}, {"sha256", site::site_hash(site)}};
  const site::PatchResult result = site::apply_patch(site, patch.dump(), "patch");
  if (!result.site) throw std::runtime_error("refused: " + full_text(result.messages.at(0)));
  return *result.site;
}

std::vector<std::string> sentences(const site::Site& from, const site::Site& to) {
  std::vector<std::string> all;
  for (const Change& change : changes_between(from, to)) all.push_back(sentence_of(change));
  return all;
}

std::vector<std::string> of_edit(const std::string& operations) {
  static const site::Site yard = demo("kiln-yard");
  return sentences(yard, edited(yard, operations));
}

TEST(Changes, OfNothingAreNone) {
  for (const char* name : {"kiln-yard", "saltmarsh", "tern-hollow"}) {
    const site::Site site = demo(name);
    site::Site later = site;
    ++later.revision;
    EXPECT_THAT(sentences(site, later), ElementsAre()) << "the revision's number is no change";
  }
}

TEST(Changes, OfFiguresHaveTheirUnits) {
  EXPECT_THAT(of_edit(R"([{"op": "replace", "path": "/zones/z6/loop/eol_ohm/value", "value": 4700}])"),
              ElementsAre("Zone 6 (Kiln room): loop/eol_ohm was 5.6 kohm (5.544 kohm to 5.656 kohm) and is 4.7 kohm "
                          "(4.653 kohm to 4.747 kohm)."));
  EXPECT_THAT(of_edit(R"([{"op": "remove", "path": "/zones/z6/loop/eol_ohm"}])"),
              ElementsAre("Zone 6 (Kiln room): loop/eol_ohm was 5.6 kohm (5.544 kohm to 5.656 kohm) and is no longer "
                          "said."));
}

TEST(Changes, OfOneFigureAreOneChange) {
  // Value and tolerance stand at two places of the file.
  EXPECT_THAT(of_edit(R"([{"op": "replace", "path": "/zones/z6/loop/eol_ohm/value", "value": 4700},
                          {"op": "replace", "path": "/zones/z6/loop/eol_ohm/tolerance_pct", "value": 5}])"),
              ElementsAre("Zone 6 (Kiln room): loop/eol_ohm was 5.6 kohm (5.544 kohm to 5.656 kohm) and is 4.7 kohm "
                          "(4.465 kohm to 4.935 kohm)."));
}

TEST(Changes, ThatTheWordsDoNotShowAreToldAsTheFileHasThem) {
  const auto told = of_edit(R"([{"op": "replace", "path": "/zones/z6/loop/eol_ohm/origin", "value": "measured"}])");
  ASSERT_EQ(told.size(), 1U);
  EXPECT_THAT(told[0], testing::AllOf(testing::HasSubstr("\"data_sheet\""), testing::HasSubstr("\"measured\"")));
}

TEST(Changes, OfWholeThingsNameThem) {
  EXPECT_THAT(of_edit(R"([{"op": "add", "path": "/areas/attic", "value": {"name": "Attic"}}])"),
              ElementsAre("Attic was added."));
  const site::Site yard = demo("kiln-yard");
  const site::Site more = edited(yard, R"([{"op": "add", "path": "/areas/attic", "value": {"name": "Attic"}}])");
  EXPECT_THAT(sentences(more, yard), ElementsAre("Attic was removed."));
}

TEST(Changes, SpeakGerman) {
  const SpokenLanguage german(language_called("de").value());
  EXPECT_THAT(of_edit(R"([{"op": "replace", "path": "/zones/z6/name", "value": "Brennraum"}])"),
              ElementsAre("Meldergruppe 6 (Brennraum): name war Kiln room und ist Brennraum."));
}

TEST(Changes, AreThoseOfAPatchPointByPoint) {
  // Held against the patch between the sites: every operation is told by a change above or at its place, every change
  // has an operation.
  for (const auto& [one, other] : {std::pair("kiln-yard", "kiln-yard-corrected"), std::pair("kiln-yard", "saltmarsh"),
                                   std::pair("saltmarsh", "tern-hollow")}) {
    const site::Site from = demo(one), to = demo(other);
    const std::vector<Change> changes = changes_between(from, to);
    const Json operations = Json::parse(site::patch_between(from, to)).at("operations");
    std::set<std::string> used;
    for (const Json& operation : operations) {
      const std::string path = operation.at("path").get<std::string>();
      bool told = false;
      for (const Change& change : changes) {
        if ((path + "/").rfind(change.pointer + "/", 0) != 0) continue;
        told = true;
        used.insert(change.pointer);
      }
      EXPECT_TRUE(told) << path;
    }
    EXPECT_EQ(used.size(), changes.size());
    for (const Change& change : changes) {
      EXPECT_FALSE(change.kind == Change::Kind::changed && change.before == change.after) << change.pointer;
      EXPECT_FALSE(sentence_of(change).empty());
    }
    // Backwards: the same things, the other way round.
    const std::vector<Change> back = changes_between(to, from);
    ASSERT_EQ(back.size(), changes.size());
    for (std::size_t i = 0; i < back.size(); ++i) {
      EXPECT_EQ(back[i].pointer, changes[i].pointer);
      EXPECT_EQ(back[i].before, changes[i].after);
      EXPECT_EQ(back[i].after, changes[i].before);
    }
  }
}

TEST(Changes, BetweenDemoSitesReadAsAPersonWouldTellThem) {
  EXPECT_THAT(
      sentences(demo("kiln-yard"), demo("kiln-yard-corrected")),
      testing::IsSupersetOf({"Panel battery, boxed: part was battery_7ah and is battery_38ah.",
                             "Front door: leaf was glass and is solid.", "Part battery_38ah was added.",
                             "Trigger of Zone 7 (Store) to Video unit: setting/normal_max_V was 3 V and is 2.85 V.",
                             "Zone 8 (Back window): loop/eol_place was at_panel and is at_end."}));
}

TEST(Changes, ForProgramsHaveAClosedForm) {
  const site::Site yard = demo("kiln-yard");
  const auto told =
      json_of(changes_between(yard, edited(yard, R"([{"op": "replace", "path": "/zones/z6/name", "value": "Firing"},
                             {"op": "add", "path": "/areas/attic", "value": {"name": "Attic"}}])")));
  ASSERT_EQ(told.size(), 2U);
  EXPECT_EQ(Json(told[0]), Json::parse(R"({"kind": "added", "pointer": "/areas/attic", "thing": "Attic", "field": null,
      "before": null, "after": null, "text": "Attic was added."})"));
  EXPECT_EQ(Json(told[1]),
            Json::parse(R"j({"kind": "changed", "pointer": "/zones/z6/name", "thing": "Zone 6 (Firing)", "field": "name",
      "before": "Kiln room", "after": "Firing", "text": "Zone 6 (Firing): name was Kiln room and is Firing."
})j"));
}

}  // namespace

}  // namespace zoneproof::results
