// No datum of a site file is silently ignored: each is taken out in turn, and then either the file is refused for it,
// or the chains ask for it by its place in the file, or its field stands in a list below with the reason why not.
//
// What runs by itself takes one datum of each field, on a few zones of each demo site. All data of both whole sites,
// hours of one core:
//   ZONEPROOF_BLANK=all build/release/tests/proof_tests --gtest_filter='*BlankedData*'
// ZONEPROOF_BLANK_FIELD=Cable. takes only fields that begin like that; ZONEPROOF_BLANK_TELL=1 prints what each does.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "base/json_pointer.hpp"
#include "proof/demo.hpp"
#include "proof/silent_fields.hpp"
#include "site/document.hpp"
#include "site/site_json.hpp"

namespace zoneproof::proof {
namespace {

using Json = nlohmann::ordered_json;
using demo::listed;

// ---- What stands in a file -----------------------------------------------------------------------------------------

struct Datum {
  std::string pointer;
  std::string field;
};

void collect(const site::Record& record, const Json& object, const std::string& pointer, std::vector<Datum>& data) {
  for (const site::Field& field : record.fields) {
    const auto found = object.find(field.key);
    if (found == object.end() || found->is_null()) continue;
    const std::string here = pointer_child(pointer, field.key);
    if (field.shape == site::Shape::record || field.shape == site::Shape::optional_record) {
      collect(field.record(), *found, here, data);
    } else if (field.shape == site::Shape::map || field.shape == site::Shape::list) {
      for (const auto& [id, inside] : found->items()) collect(field.record(), inside, pointer_child(here, id), data);
    } else {
      data.push_back({here, std::string(record.name) + "." + std::string(field.key)});
    }
  }
}

std::vector<Datum> data_of(const Json& site) {
  std::vector<Datum> data;
  collect(site::site_format().record(), site, "", data);
  return data;
}

/// Takes entries out of a collection that nothing outside the parts names.
void drop_unused(Json& site, const char* collection) {
  Json rest = site;
  rest.erase("parts");
  rest.erase("rulebooks");
  rest.erase(collection);
  const std::string text = rest.dump();
  std::vector<std::string> unused;
  for (const auto& [id, entry] : site[collection].items()) {
    if (text.find('"' + id + '"') == std::string::npos) unused.push_back(id);
  }
  for (const std::string& id : unused) site[collection].erase(id);
}

/// The site with these zones and one load alone, and with what only the others used taken out: quicker to prove.
Json with_zones(Json site, const std::set<std::string>& zones) {
  const auto erase_if = [&](const char* collection, const auto& other) {
    std::vector<std::string> gone;
    for (const auto& [id, entry] : site[collection].items()) {
      if (other(id, entry)) gone.push_back(id);
    }
    for (const std::string& id : gone) site[collection].erase(id);
  };
  const auto of_other_zone = [&](const std::string&, const Json& entry) {
    return entry.contains("zone") && zones.count(entry["zone"].get<std::string>()) == 0;
  };
  erase_if("zones", [&](const std::string& id, const Json&) { return zones.count(id) == 0; });
  erase_if("triggers", of_other_zone);
  erase_if("outputs", of_other_zone);
  erase_if("protected_places", of_other_zone);
  for (auto& [id, detector] : site["detectors"].items()) {
    if (!detector.contains("programmed")) continue;
    std::vector<std::string> gone;
    for (const auto& [contact, program] : detector["programmed"].items()) {
      if (of_other_zone(contact, program)) gone.push_back(contact);
    }
    for (const std::string& contact : gone) detector["programmed"].erase(contact);
  }
  const std::string one_load = site["loads"].begin().key();
  erase_if("loads", [&](const std::string& id, const Json&) { return id != one_load; });
  for (const char* collection : {"detectors", "cables", "areas", "parts"}) drop_unused(site, collection);
  return site;
}

// ---- What is told of it --------------------------------------------------------------------------------------------

/// Of each check of each chain the worst verdict; and every place in the file that is asked for.
struct ToldByProof {
  std::map<std::string, chain::Verdict> verdicts;
  std::set<std::string> asked;
};

ToldByProof told_by(const Proof& proof) {
  ToldByProof told;
  const auto take = [&](const std::string& chain, const chain::Evidence& evidence) {
    const std::string key = chain + " " + chain::word(evidence.link) + " " + evidence.id + " of " + evidence.subject;
    const auto [at, fresh] = told.verdicts.emplace(key, evidence.verdict);
    if (!fresh) at->second = chain::together({at->second, evidence.verdict});
    for (const chain::Gap& gap : evidence.gaps) told.asked.insert(gap.pointer);
  };
  for (const Chain& chain : proof.chains) {
    for (const LinkAnswer& link : chain.links) {
      for (const chain::Evidence& evidence : link.evidence) take(chain.zone, evidence);
    }
  }
  for (const chain::Evidence& evidence : proof.site_evidence) take("site", evidence);
  return told;
}

bool holds_or_is_thin(chain::Verdict verdict) { return chain::rank(verdict) >= chain::rank(chain::Verdict::thin); }

/// What taking one datum out did.
struct Effect {
  bool refused = false;
  bool refused_by_name = false;
  bool asked = false;                 ///< by its place
  std::vector<std::string> open;      ///< held before and hold no more
  std::vector<std::string> vanished;  ///< checks that are gone
  std::vector<std::string> asked_instead;
};

bool gone_with_a_level(const std::string& check) {
  return std::any_of(std::begin(demo::kGoneWithALevel), std::end(demo::kGoneWithALevel), [&](const auto& exemption) {
    return check.find(' ' + std::string(exemption.field) + ' ') != std::string::npos;
  });
}

Effect effect_of(const Json& site, const ToldByProof& before, const Datum& datum) {
  Json without = site;
  const std::string key = pointer_tokens(datum.pointer)->back();
  value_at(without, pointer_parent(datum.pointer))->erase(key);
  const site::ReadResult read = site::read_site_json(without, "blanked", {}, nullptr);
  Effect effect;
  effect.refused = any_error(read.messages);
  for (const Message& message : read.messages) {
    if (full_text(message).find(key) != std::string::npos) effect.refused_by_name = true;
  }
  if (effect.refused) return effect;
  const ToldByProof now = told_by(demo::prove(*read.site));
  effect.asked = now.asked.count(datum.pointer) != 0;
  for (const auto& [check, verdict] : before.verdicts) {
    const auto found = now.verdicts.find(check);
    if (found == now.verdicts.end()) {
      if (!gone_with_a_level(check)) effect.vanished.push_back(check);
    } else if (holds_or_is_thin(verdict) && !holds_or_is_thin(found->second)) {
      effect.open.push_back(check);
    }
  }
  for (const std::string& pointer : now.asked) {
    if (before.asked.count(pointer) == 0) effect.asked_instead.push_back(pointer);
  }
  return effect;
}

void tell(const Datum& datum, const Effect& effect) {
  const char* what = effect.refused ? "refused" : effect.asked ? "asked for" : effect.open.empty() ? "SILENT" : "opens";
  std::cout << datum.field << " " << datum.pointer << ": " << what << ", " << effect.open.size() << " open";
  const auto some = [](const char* words, const std::vector<std::string>& list) {
    if (!list.empty()) std::cout << ", " << words << " " << list.size() << ": " << list.front() << ", " << list.back();
  };
  some("vanished", effect.vanished);
  if (!effect.asked) some("asked instead", effect.asked_instead);
  std::cout << std::endl;
}

bool is_silent(const std::string& field) {
  return listed(demo::kRestsOnNothing, field) || listed(demo::kNotReadYet, field) ||
         listed(demo::kEnvelopeStandsIn, field) || demo::of_the_scene(field);
}

void expect_noticed(const Datum& datum, const Effect& effect) {
  if (effect.refused) {
    EXPECT_TRUE(effect.refused_by_name) << "the file is refused without naming it";
    return;
  }
  EXPECT_TRUE(listed(demo::kDecidesWhatIsAsked, datum.field) || effect.vanished.empty())
      << "without it " << effect.vanished.size() << " checks are gone, as " << effect.vanished.front();
  if (is_silent(datum.field)) {
    EXPECT_FALSE(effect.asked && !listed(demo::kEnvelopeStandsIn, datum.field))
        << "it is listed as a field that no verdict rests on";
  } else if (listed(demo::kAskedForElsewhere, datum.field)) {
    EXPECT_FALSE(effect.open.empty() && effect.asked_instead.empty()) << "nothing is open without it";
  } else {
    EXPECT_TRUE(effect.asked) << "no chain asks for it; " << effect.open.size() << " checks are open without it";
  }
}

bool setting(const char* variable, const char* value) {
  const char* set = std::getenv(variable);
  return set != nullptr && std::string_view(set) == value;
}

/// Where a field counts in some places only: one of them; null where it counts everywhere.
const demo::Place* place_of(const std::string& field) {
  const auto found = std::find_if(std::begin(demo::kCountsInPlaces), std::end(demo::kCountsInPlaces),
                                  [&](const demo::Place& place) { return place.field == field; });
  return found == std::end(demo::kCountsInPlaces) ? nullptr : found;
}

/// Whether a datum is one to take out: the first of its field, unless the field is silent, or the one where it counts.
bool chosen(const std::string& site, const Datum& datum, std::set<std::string>& seen) {
  const char* only = std::getenv("ZONEPROOF_BLANK_FIELD");
  if (only != nullptr && datum.field.rfind(only, 0) != 0) return false;
  if (const demo::Place* place = place_of(datum.field)) return place->where == site + datum.pointer;
  if (setting("ZONEPROOF_BLANK", "all")) return true;
  return !is_silent(datum.field) && seen.insert(datum.field).second;
}

/// Data of the file's root and of its rulebook choice, or of one collection.
struct Group {
  const char* site;
  const char* name;
};
void PrintTo(const Group& group, std::ostream* stream) { *stream << group.site << " " << group.name; }

std::string group_of(const Datum& datum) {
  const std::vector<std::string> tokens = *pointer_tokens(datum.pointer);
  return tokens.size() > 2 ? tokens.front() : "root";
}

Json site_of(const std::string& name) {
  Json site = demo::json(name + ".site.json");
  if (setting("ZONEPROOF_BLANK", "all")) return site;
  return with_zones(std::move(site),
                    name == "kiln-yard" ? std::set<std::string>{"z2"} : std::set<std::string>{"z5", "z6", "z9"});
}

/// The data to take out by their group; of the second site those that the first one does not have.
std::map<std::string, std::vector<Datum>> data_by_group(const std::string& name, const Json& site) {
  std::set<std::string> seen;
  if (name != "kiln-yard") {
    for (const Datum& datum : data_of(site_of("kiln-yard"))) seen.insert(datum.field);
  }
  std::map<std::string, std::vector<Datum>> groups;
  for (const Datum& datum : data_of(site)) {
    if (chosen(name, datum, seen)) groups[group_of(datum)].push_back(datum);
  }
  return groups;
}

class BlankedData : public testing::TestWithParam<Group> {};

TEST_P(BlankedData, IsNeverSilentlyIgnored) {
  const Json site = site_of(GetParam().site);
  const std::vector<Datum> data = data_by_group(GetParam().site, site)[GetParam().name];
  ASSERT_FALSE(data.empty());
  const site::ReadResult whole = site::read_site_json(site, GetParam().site, {}, nullptr);
  ASSERT_TRUE(whole.site);
  const ToldByProof before = told_by(demo::prove(*whole.site));
  for (const Datum& datum : data) {
    SCOPED_TRACE(datum.field + " at " + datum.pointer);
    try {
      const Effect effect = effect_of(site, before, datum);
      if (setting("ZONEPROOF_BLANK_TELL", "1")) tell(datum, effect);
      expect_noticed(datum, effect);
    } catch (const std::exception& fault) {
      ADD_FAILURE() << fault.what();
    }
  }
}

/// Those that have data to take out.
std::vector<Group> groups() {
  std::vector<Group> groups;
  for (const char* name : {"kiln-yard", "tern-hollow"}) {
    const auto data = data_by_group(name, site_of(name));
    const auto add = [&](const char* group) {
      if (data.count(group) != 0) groups.push_back({name, group});
    };
    add("root");
    for (const site::Field& field : site::site_format().record().fields) {
      if (field.shape == site::Shape::map) add(field.key.data());
    }
  }
  return groups;
}

INSTANTIATE_TEST_SUITE_P(demo_sites, BlankedData, testing::ValuesIn(groups()), [](const auto& instance) {
  std::string name = std::string(instance.param.site) + "_" + instance.param.name;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace zoneproof::proof
