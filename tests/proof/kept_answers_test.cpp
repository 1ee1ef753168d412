// An edit is proven by what it touches, and the proof is the one that a fresh start gives: every demo site with one
// thing wrong is reached from the right one by its patch, proven with what is kept, and held against a fresh proof,
// word for word and bit for bit; and back again.
#include "electric/kept_answers.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_patch.hpp"
#include "base/json_text.hpp"
#include "electric/answers.hpp"
#include "proof/demo.hpp"
#include "results/results.hpp"
#include "site/fingerprint.hpp"
#include "site/record_json.hpp"
#include "site/walk.hpp"

namespace zoneproof::electric {
namespace {

using Json = nlohmann::ordered_json;

site::Site with(const std::string& scenario, const Json& patch) {
  Json document = demo::json(scenario + ".site.json");
  for (const Message& message : apply_patch(document, patch)) ADD_FAILURE() << full_text(message);
  return demo::site_of(write_json(document), scenario);
}

std::string told(const std::vector<chain::Evidence>& answers) { return write_json(results::json_of(answers)); }

std::string kept(const site::Site& site, KeptAnswers& answers) {
  return told(electrical_answers(site, "", {}, &answers));
}

TEST(KeptAnswers, AnEditAndItsUndoGiveWhatAFreshStartGives) {
  KeptAnswers answers;
  const site::Site right = with("kiln-yard", Json::array());
  const std::string fresh = told(electrical_answers(right));
  EXPECT_EQ(kept(right, answers), fresh);
  long long edits = 0, files = 0;
  for (const std::string& name : demo::names("faults", ".fault.json")) {
    const Json fault = demo::json("faults/" + name + ".fault.json");
    if (fault.at("scenario") != "kiln-yard" || ++files % 2 == 0) continue;
    SCOPED_TRACE(name);
    const site::Site wrong = with("kiln-yard", fault.at("patch"));
    EXPECT_EQ(kept(wrong, answers), told(electrical_answers(wrong)));
    EXPECT_EQ(kept(right, answers), fresh);
    ++edits;
  }
  EXPECT_GT(edits, 5);
  EXPECT_GT(answers.found(), answers.given());
}

TEST(KeptAnswers, AnInputsSettingConcernsItsOwnZoneAlone) {
  KeptAnswers answers;
  const site::Site right = with("kiln-yard", Json::array());
  kept(right, answers);
  const std::size_t before = answers.given();
  site::Site edited = right;
  edited.revision += 1;
  edited.name = "Another name";
  kept(edited, answers);
  EXPECT_EQ(answers.given(), before) << "a name moves no level";
  edited.zones.at("z1").loop.eol_ohm = site::Value::exactly(4700.0, site::Origin::measured);
  kept(edited, answers);
  EXPECT_LE(answers.given(), before + edited.triggers.size());
  EXPECT_GT(answers.given(), before);
}

/// Whatever number, word or reference of a site is changed, its fingerprint is another.
TEST(Fingerprint, TellsEveryChange) {
  site::Site site = with("kiln-yard", Json::array());
  const site::Fingerprint first = site::fingerprint(site);
  EXPECT_EQ(site::fingerprint(with("kiln-yard", Json::array())), first);
  long long tried = 0;
  site::walk(site::record_of<site::Site>(), &site, "",
             [&](const site::Record& record, const void* object, const std::string& pointer) {
               for (const site::Field& field : record.fields) {
                 if (field.shape != site::Shape::number && field.shape != site::Shape::reference) continue;
                 void* member = const_cast<void*>(field.member_of(object));
                 SCOPED_TRACE(pointer + "/" + std::string(field.key));
                 if (field.shape == site::Shape::reference) {
                   auto& reference = *static_cast<site::Ref*>(member);
                   reference.id += "x";
                   EXPECT_NE(site::fingerprint(site), first);
                   reference.id.pop_back();
                 } else {
                   auto& value = *static_cast<site::Value*>(member);
                   if (!value.known()) continue;
                   const double high = value.high;
                   value.high += 1.0;
                   EXPECT_NE(site::fingerprint(site), first);
                   value.high = high;
                 }
                 ++tried;
               }
             });
  EXPECT_GT(tried, 500);
  EXPECT_EQ(site::fingerprint(site), first);
}

}  // namespace
}  // namespace zoneproof::electric
