// Supply, arming and standby with less knowledge: no number of a whole site may become unknown, typical or assumed and
// a verdict better for it. The order is that of properties_test.cpp.
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "electric/arming_check.hpp"
#include "electric/random_site.hpp"
#include "electric/standby.hpp"
#include "electric/supply_check.hpp"

namespace zoneproof::electric {
namespace {

using chain::Verdict;
using nlohmann::json;

/// The deck site with an arming output, a battery, a keypad, a fed detector, and rules for everything.
json whole_plant() {
  json site = random_site(3);
  const std::string folder = std::string(ZONEPROOF_SOURCE_DIR) + "/tests/electric/decks/";
  json arming = json::parse(std::ifstream(folder + "output_open_collector.patch.json"));
  arming.erase("zones");
  arming.erase("triggers");
  site.merge_patch(arming);
  site.merge_patch(json::parse(R"({
    "parts": {
      "unit_part": {"unit": {"startup_A": 0.6}},
      "cells": {"kind": "battery", "battery": {"capacity_Ah": 17, "rated_h": 20, "peukert_exponent": 1.15, "full_V": 12.8,
        "empty_V": 11.0, "internal_ohm": 0.02, "internal_aged_factor": 3, "temperature_min_degC": -10, "temperature_max_degC": 50}},
      "keypad_part": {"kind": "load", "load": {"supply_min_V": 9, "supply_max_V": 15, "current_A": 0.05, "alarm_current_A": 0.02}},
      "fed_detector": {"kind": "detector", "detector": {"supply_min_V": 9, "supply_max_V": 15, "current_A": 0.02, "contacts": {}}}},
    "batteries": {"accu": {"part": "cells", "supply": "psu", "area": "hall", "blocks_in_parallel": 1, "age_years": 1}},
    "detectors": {"d1": {"part": "fed_detector", "area": "hall", "feed": {"from": "psu", "output": "aux", "cable": "loop_cable_2", "fuse_A": 0.5}}},
    "loads": {"k": {"part": "keypad_part", "area": "hall", "feed": {"from": "psu", "output": "inner", "cable": "none", "fuse_A": "none"}}}
  })"));
  const auto book =
      json::parse(std::ifstream(std::string(ZONEPROOF_SOURCE_DIR) + "/data/rulebooks/common_practice.json"));
  json& entries = site["rulebooks"]["deck_rules"]["entries"];
  for (const auto& [id, entry] : book.at("rulebook").at("entries").items()) {
    if (!entries.contains(id)) entries[id] = entry;
  }
  return site;
}

/// Verdict of each check of each subject.
std::map<std::string, Verdict> verdicts_of(const json& text) {
  const site::Site site = read(text);
  std::map<std::string, Verdict> verdicts;
  const auto take = [&](const std::vector<chain::Evidence>& all) {
    for (const chain::Evidence& e : all) {
      const std::string key = e.subject + "/" + e.id;
      const auto [at, fresh] = verdicts.emplace(key, e.verdict);
      if (!fresh) at->second = chain::together({at->second, e.verdict});  // an output each of one supply
    }
  };
  take(check_supply(site));
  take(check_arming(site, "u1"));
  take(check_standby(site));
  return verdicts;
}

/// Pointers of all numbers outside of the rulebooks that are quantities (keys with a unit).
void find_numbers(const json& at, const std::string& pointer, std::vector<std::string>& found) {
  for (const auto& [key, value] : at.items()) {
    const std::string here = pointer + "/" + key;
    const bool quantity = key.find('_') != std::string::npos && (value.is_number() || value.contains("value"));
    if (quantity) {
      found.push_back(here);
    } else if (value.is_object()) {
      find_numbers(value, here, found);
    }
  }
}

json guessed(const json& number, const char* origin) {
  json with = number.is_number() ? json{{"value", number}} : number;
  with["origin"] = origin;
  return with;
}

TEST(SupplySide, ReachesVerdictsThatCanBeLost) {
  int good = 0;
  for (const auto& [check, verdict] : verdicts_of(whole_plant())) {
    RecordProperty(check, chain::word(verdict));
    if (verdict == Verdict::proven || verdict == Verdict::thin) ++good;
  }
  EXPECT_GE(good, 8);
}

TEST(SupplySide, AGuessedOrMissingNumberNeverHelps) {
  const json plant = whole_plant();
  const auto before = verdicts_of(plant);
  std::vector<std::string> numbers;
  for (const char* collection : {"parts", "cables", "areas", "units", "batteries", "detectors", "loads"}) {
    find_numbers(plant[collection], std::string("/") + collection, numbers);
  }
  ASSERT_GT(numbers.size(), 60U);
  for (const std::string& pointer : numbers) {
    const json::json_pointer at(pointer);
    if (plant.at(at).is_number_integer() && pointer.find("cores_in_parallel") != std::string::npos)
      continue;  // a count
    for (const char* what : {"unknown", "typical", "assumed"}) {
      const bool count = pointer.find("/blocks_in_parallel") != std::string::npos;
      if (count && what != std::string("unknown")) continue;
      json changed = plant;
      changed[at] = what == std::string("unknown") ? json() : guessed(plant.at(at), what);
      const auto after = verdicts_of(changed);
      for (const auto& [check, was] : before) {
        const auto found = after.find(check);
        if (found == after.end()) {
          ADD_FAILURE() << pointer << " " << what << ": " << check << " is no longer said";
          continue;
        }
        const Verdict is = found->second;
        const bool good = is == Verdict::proven || is == Verdict::thin;
        const bool improves = good && (was == Verdict::broken || was == Verdict::unanswered ||
                                       (was == Verdict::thin && is == Verdict::proven));
        EXPECT_FALSE(improves) << pointer << " " << what << ": " << check << " " << chain::word(was) << " -> "
                               << chain::word(is);
      }
    }
  }
}

TEST(SupplySide, WhatAnAnswerRestsOnIsNeverGuessedAndProven) {
  // Each of these numbers certainly decides the check beside it.
  const std::vector<std::pair<const char*, const char*>> decisive = {
      {"/parts/supply_part/supply/mains_V", "u1/supply_voltage"},
      {"/parts/unit_part/unit/supply_min_V", "u1/supply_voltage"},
      {"/parts/unit_part/unit/current_A", "u1/supply_voltage"},
      {"/parts/supply_part/supply/rating_A", "psu/supply_current"},
      {"/parts/unit_part/unit/startup_A", "psu/starts"},
      {"/parts/fed_detector/detector/current_A", "d1/fuse_current"},
      {"/detectors/d1/feed/fuse_A", "d1/fuse_current"},
      {"/parts/cells/battery/capacity_Ah", "psu/autonomy"},
      {"/parts/supply_part/supply/own_A", "psu/autonomy"},
      {"/parts/supply_part/supply/charge_A", "psu/recharge"},
      {"/parts/output_part/output/saturation_V", "u1/arming_armed"},
      {"/parts/unit_part/unit/arming/low_max_V", "u1/arming_armed"},
      {"/parts/output_part/output/limit_A", "u1/arming_sink"},
  };
  const json plant = whole_plant();
  const auto before = verdicts_of(plant);
  for (const auto& [pointer, check] : decisive) {
    ASSERT_TRUE(before.count(check)) << check;
    for (const char* origin : {"typical", "assumed"}) {
      json changed = plant;
      const json::json_pointer at(pointer);
      changed[at] = guessed(plant.at(at), origin);
      const Verdict is = verdicts_of(changed).at(check);
      EXPECT_TRUE(is == Verdict::unanswered || is == Verdict::broken)
          << pointer << " " << origin << ": " << check << " " << chain::word(is);
    }
  }
}

}  // namespace
}  // namespace zoneproof::electric
