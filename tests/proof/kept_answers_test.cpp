// An edit is proven by what it touches, and the proof is the one that a fresh start gives: every demo site with one
// thing wrong is reached from the right one by its patch, proven with what is kept, and held against a fresh proof,
// word for word and bit for bit; and back again.
#include "electric/kept_answers.hpp"

#include <gtest/gtest.h>

#include <functional>
#include <map>
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

std::string written(const std::vector<chain::Evidence>& answers) { return write_json(results::json_of(answers)); }

std::string kept(const site::Site& site, KeptAnswers& answers) {
  return written(electrical_answers(site, "", {}, &answers));
}

TEST(KeptAnswers, AnEditAndItsUndoGiveWhatAFreshStartGives) {
  KeptAnswers answers;
  const site::Site right = with("kiln-yard", Json::array());
  const std::string fresh = written(electrical_answers(right));
  EXPECT_EQ(kept(right, answers), fresh);
  long long edits = 0, files = 0;
  for (const std::string& name : demo::names("faults", ".fault.json")) {
    const Json fault = demo::json("faults/" + name + ".fault.json");
    if (fault.at("scenario") != "kiln-yard" || ++files % 2 == 0) continue;
    SCOPED_TRACE(name);
    const site::Site wrong = with("kiln-yard", fault.at("patch"));
    EXPECT_EQ(kept(wrong, answers), written(electrical_answers(wrong)));
    EXPECT_EQ(kept(right, answers), fresh);
    ++edits;
  }
  EXPECT_GT(edits, 5);
  EXPECT_GT(answers.found(), answers.given());
}

TEST(KeptAnswers, AResistorAndASettingConcernTheirOwnZoneAlone) {
  KeptAnswers answers;
  const site::Site right = with("kiln-yard", Json::array());
  kept(right, answers);
  const std::size_t before = answers.given();
  site::Site edited = right;
  edited.revision += 1;
  edited.name = "Another name";
  kept(edited, answers);
  EXPECT_EQ(answers.given(), before) << "a name moves no level";
  edited.zones.at("z1").loop.eol_ohm.replace_with(site::Value::exactly(4700.0, site::Origin::measured));
  kept(edited, answers);
  EXPECT_EQ(answers.given(), before + 1) << "a resistor at the end of a line is felt by its own zone alone";
  for (auto& [id, trigger] : edited.triggers) {
    if (trigger.zone.id == "z2")
      trigger.setting.normal_max_V.replace_with(site::Value::exactly(4.0, site::Origin::data_sheet));
  }
  kept(edited, answers);
  EXPECT_EQ(answers.given(), before + 2);
}

/// Changes a member a little and takes it back, by the way that its shape has; `hold` looks between the two.
void nudge(const site::Field& field, void* member, const std::function<void()>& hold) {
  const auto with = [&](auto& here, auto other) {
    std::swap(here, other);
    hold();
    std::swap(here, other);
  };
  switch (field.shape) {
    case site::Shape::number: {
      auto& value = *static_cast<site::Value*>(member);
      const auto edited = [&](auto&& edit) {
        site::Value other = value;
        edit(other);
        with(value, other);
      };
      edited([](site::Value& v) {
        v.origin = v.origin == site::Origin::typical ? site::Origin::assumed : site::Origin::typical;
      });
      edited([](site::Value& v) {
        v.stated_origin = v.stated_origin ? std::nullopt : std::optional(site::Origin::measured);
      });
      edited([](site::Value& v) { v.state = v.none() ? site::Value::State::unknown : site::Value::State::none; });
      edited([](site::Value& v) { v.note += "x"; });
      if (!value.known()) break;
      edited([](site::Value& v) { v.nominal += 1.0; });
      edited([](site::Value& v) { v.low -= 1.0; });
      edited([](site::Value& v) { v.high += 1.0; });
      edited([](site::Value& v) { v.tempco_ppm_K = v.tempco_ppm_K.value_or(0.0) + 1.0; });
      break;
    }
    case site::Shape::count: {
      auto& count = static_cast<site::Count*>(member)->value;
      with(count, count ? std::optional<long long>() : std::optional<long long>(1));
      if (count) with(count, std::optional(*count + 1));
      break;
    }
    case site::Shape::whole: with(*static_cast<long long*>(member), *static_cast<long long*>(member) + 1); break;
    case site::Shape::flag: {
      auto& flag = static_cast<site::Flag*>(member)->value;
      with(flag, flag ? std::optional<bool>() : std::optional(false));
      if (flag) with(flag, std::optional(!*flag));
      break;
    }
    case site::Shape::text: with(*static_cast<std::string*>(member), *static_cast<std::string*>(member) + "x"); break;
    case site::Shape::word: {
      const auto word = field.words->get(member);
      if (!word || field.words->count < 2) break;
      field.words->set(member, (*word + 1) % field.words->count);
      hold();
      field.words->set(member, *word);
      break;
    }
    case site::Shape::reference: {
      auto& id = static_cast<site::Ref*>(member)->id;
      with(id, id + "x");
      break;
    }
    case site::Shape::references: {
      auto& all = *static_cast<std::vector<site::Ref>*>(member);
      std::vector<site::Ref> more = all;
      more.emplace_back();
      with(all, more);
      break;
    }
    case site::Shape::map:
      field.nested->add(member, "one_more");
      hold();
      field.nested->drop(member, "one_more");
      break;
    default: break;
  }
  if (field.pointer != nullptr) {
    std::string& pointer = *field.pointer(member);
    with(pointer, pointer + "x");
  }
}

/// Whatever is changed in a site, and however little, its fingerprint is another.
TEST(Fingerprint, TellsEveryChange) {
  site::Site site = with("kiln-yard", Json::array());
  const site::Fingerprint first = site::fingerprint(site);
  EXPECT_EQ(site::fingerprint(with("kiln-yard", Json::array())), first);
  std::map<site::Shape, long long> tried;
  std::map<std::string, int> seen;  // a few of each field: there are thousands of numbers
  constexpr int of_each_field = 2;
  site::walk(site::record_of<site::Site>(), &site, "",
             [&](const site::Record& record, const void* object, const std::string& pointer) {
               for (const site::Field& field : record.fields) {
                 if (++seen[std::string(record.name) + "." + std::string(field.key)] > of_each_field) continue;
                 SCOPED_TRACE(pointer + "/" + std::string(field.key));
                 nudge(field, const_cast<void*>(field.member_of(object)), [&] {
                   EXPECT_NE(site::fingerprint(site), first);
                   ++tried[field.shape];
                 });
               }
             });
  for (const site::Shape shape :
       {site::Shape::number, site::Shape::count, site::Shape::whole, site::Shape::flag, site::Shape::text,
        site::Shape::word, site::Shape::reference, site::Shape::references, site::Shape::map})
    EXPECT_GT(tried[shape], 0) << static_cast<int>(shape);
  EXPECT_EQ(site::fingerprint(site), first);
}

}  // namespace
}  // namespace zoneproof::electric
