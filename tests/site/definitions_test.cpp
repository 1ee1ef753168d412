#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "site/costs.hpp"
#include "site/field_help.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {
namespace {

void collect(const Record& record, std::set<const Record*>& out) {
  if (!out.insert(&record).second) return;
  for (const Field& field : record.fields) {
    if (field.record != nullptr) collect(field.record(), out);
  }
}

std::set<const Record*> all_records() {
  std::set<const Record*> out;
  collect(record_of<Site>(), out);
  collect(record_of<PartsFile>(), out);
  collect(record_of<RulebookFile>(), out);
  collect(record_of<Costs>(), out);
  return out;
}

/// Offset of a member in an object that is never touched.
std::size_t offset_of(const Field& field) {
  static char arena[1 << 16];
  return static_cast<std::size_t>(static_cast<char*>(field.member(arena)) - arena);
}

TEST(Definitions, EveryMemberOfEveryStructHasOne) {
  for (const Record* record : all_records()) {
    std::vector<Field> fields = record->fields;
    std::sort(fields.begin(), fields.end(), [](const Field& a, const Field& b) { return offset_of(a) < offset_of(b); });
    std::size_t end = 0;
    std::size_t alignment = 1;
    for (const Field& field : fields) {
      const std::size_t begins = (end + field.alignment - 1) / field.alignment * field.alignment;
      EXPECT_EQ(offset_of(field), begins) << record->name << ": a member before " << field.key << " has no definition";
      end = offset_of(field) + field.size;
      alignment = std::max(alignment, field.alignment);
    }
    EXPECT_EQ((end + alignment - 1) / alignment * alignment, record->size)
        << record->name << ": the last member has none";
  }
}

TEST(Definitions, KeysAreUniqueAndSpelledAsTheFormatSays) {
  for (const Record* record : all_records()) {
    std::set<std::string_view> keys;
    for (const Field& field : record->fields) {
      EXPECT_TRUE(keys.insert(field.key).second) << record->name << "." << field.key;
      EXPECT_EQ(field.key.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_"),
                std::string_view::npos);
    }
  }
}

TEST(Definitions, EveryFieldIsExplainedInOneSentence) {
  for (const Record* record : all_records()) {
    EXPECT_TRUE(!record->meaning.empty() && record->meaning.back() == '.') << record->name;
    for (const Field& field : record->fields) {
      ASSERT_FALSE(field.meaning.empty()) << record->name << "." << field.key;
      EXPECT_EQ(field.meaning.back(), '.') << record->name << "." << field.key;
    }
  }
}

TEST(Definitions, EveryNumberHasARangeAndAUnit) {
  // An entry names its unit, a file of costs its currency; the key of a task's minutes is the unit itself.
  const std::set<std::string_view> unit_told_elsewhere = {"RuleEntry", "RulePoint", "Costs", "Price", "Task"};
  for (const Record* record : all_records()) {
    for (const Field& field : record->fields) {
      const bool number = field.shape == Shape::number;
      if (number || field.shape == Shape::count) {
        EXPECT_LT(field.low, field.high) << record->name << "." << field.key;
      }
      if (number && unit_told_elsewhere.count(record->name) == 0) {
        EXPECT_TRUE(field.unit().has_value()) << record->name << "." << field.key;
      }
    }
  }
}

TEST(Definitions, WhatCanBeManyIsBounded) {
  for (const Record* record : all_records()) {
    for (const Field& field : record->fields) {
      const bool many = field.shape == Shape::map || field.shape == Shape::list || field.shape == Shape::references;
      EXPECT_EQ(many, field.most > 0) << record->name << "." << field.key;
    }
  }
}

TEST(Definitions, ReferencesGoToCollectionsOfTheSite) {
  for (const Record* record : all_records()) {
    for (const Field& field : record->fields) {
      const bool reference = field.shape == Shape::reference || field.shape == Shape::references;
      EXPECT_EQ(reference, !field.targets.empty()) << record->name << "." << field.key;
      for (const std::string_view target : field.targets) {
        const Field* collection = record_of<Site>().find(target);
        ASSERT_NE(collection, nullptr) << record->name << "." << field.key << " to " << target;
        EXPECT_EQ(collection->shape, Shape::map);
      }
    }
  }
}

TEST(FieldHelp, FindsAFieldByThePointerOfAValue) {
  ASSERT_NE(field_at("/zones/z1/loop/eol_ohm"), nullptr);
  EXPECT_EQ(field_at("/zones/z1/loop/eol_ohm")->unit()->suffix, "ohm");
  EXPECT_EQ(field_at("/zones/z1/loop/eol_ohm/plus"), field_at("/zones/z1/loop/eol_ohm"));
  EXPECT_EQ(field_at("/zones/z1")->key, "zones");
  EXPECT_EQ(field_at("/zones/z1/loop/nothing"), nullptr);
  EXPECT_EQ(field_at("/zones/z1/number/more"), nullptr);
  EXPECT_EQ(field_at("zones"), nullptr);
  EXPECT_EQ(field_at(""), nullptr);
}

TEST(FieldHelp, GivesThePlausibleRangeOfAnUnknownValue) {
  EXPECT_EQ(allowed_range("/areas/a/temperature_min_degC"), std::pair(-60.0, 120.0));
  EXPECT_EQ(allowed_range("/parts/p/unit/input/impedance_ohm"), std::pair(0.0, 1e12));
  EXPECT_EQ(allowed_range("/zones/z/number"), std::pair(0.0, 99999.0));
  EXPECT_EQ(allowed_range("/zones/z/name"), std::nullopt);
}

TEST(FieldHelp, ListsEveryFieldWithWhereItStands) {
  std::set<std::string> pointers;
  for (const FieldHelp& help : site_fields()) {
    EXPECT_TRUE(pointers.insert(help.pointer).second) << help.pointer;
    EXPECT_EQ(field_at(help.pointer), help.field) << help.pointer;
  }
  EXPECT_EQ(pointers.count("/zones/*/loop/contacts/*/shunt_ohm"), 1U);
  EXPECT_EQ(pointers.count("/parts/*/supply/outputs/*/rating_A"), 1U);
  EXPECT_EQ(pointers.count("/rulebooks/*/entries/*/points/*/at"), 1U);
}

}  // namespace
}  // namespace zoneproof::site
