#include "materials/materials.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "electric/naming.hpp"
#include "messages/materials.hpp"
#include "site/file.hpp"

namespace zoneproof::materials {
namespace {

site::Site demo(const std::string& name) {
  const site::ReadResult read =
      site::load_site(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + name + ".site.json");
  if (!read.site) throw std::runtime_error("cannot read " + name);
  return *read.site;
}

const PartCount* find(const Materials& materials, const std::string& item) {
  const auto found = std::find_if(materials.parts.begin(), materials.parts.end(),
                                  [&](const PartCount& part) { return part.item == item; });
  return found == materials.parts.end() ? nullptr : &*found;
}

const CableRow& row(const Materials& materials, const std::string& id) {
  return *std::find_if(materials.cables.begin(), materials.cables.end(), [&](const CableRow& r) { return r.id == id; });
}

PriceList prices(const std::string& rows) {
  PriceListResult read = read_prices("item,unit,price,currency,tax_pct\n" + rows, "prices.csv");
  if (!read.messages.empty()) throw std::runtime_error(full_text(read.messages.front()));
  return read.list;
}

// Counted by hand on the site file of Kiln Yard.
TEST(KilnYard, HasTheCablesAndPartsThatItsFileNames) {
  const Materials materials = materials_of(demo("kiln-yard"));
  EXPECT_EQ(materials.cables.size(), 18U);
  EXPECT_DOUBLE_EQ(*find(materials, "alarm_6x0_22")->count, 18 + 16 + 7 + 27 + 34 + 31 + 43 + 38);
  EXPECT_DOUBLE_EQ(*find(materials, "data_cat5e")->count, 16 + 8 + 9 + 10 + 18);
  EXPECT_DOUBLE_EQ(*find(materials, "battery_7ah")->count, 1);
  EXPECT_DOUBLE_EQ(*find(materials, "label")->count, 2 * 8 + 1 + 2 + 2 + 5)
      << "both ends of eight trigger wires; the unit, its arming wire and supply pair; five cameras";
  double resistors = 0.0;
  for (const PartCount& part : materials.parts) resistors += part.kind == ItemKind::resistor ? *part.count : 0.0;
  EXPECT_DOUBLE_EQ(resistors, 8 * 2 + 1) << "two in each double end-of-line loop, one pull-up of the arming input";
  const CableRow& unit = row(materials, "k_unit");
  EXPECT_EQ(unit.cores_used, 9) << "eight trigger wires and the arming wire";
  EXPECT_EQ(unit.cores_there, 12);
  EXPECT_EQ(row(materials, "k_z2").cores_used, 4) << "pair and supply of the detector";
}

// Counted by hand on the site file of Tern Hollow: the loop, one supply pair that both detectors of the two reading
// rooms hang on, and a pair for the spare contact of each.
TEST(CoresInUse, APairThatFeedsTwoIsCountedOnce) {
  EXPECT_EQ(row(materials_of(demo("tern-hollow")), "k_z3").cores_used, 2 + 2 + 2 * 2);
}

TEST(CoresInUse, MoreThanTheCableHasIsTold) {
  site::Site site = demo("tern-hollow");
  site.cables.at("k_z3").cores_in_parallel.value = 2;
  const Materials materials = materials_of(site);
  EXPECT_TRUE(std::any_of(materials.notes.begin(), materials.notes.end(),
                          [](const Message& note) { return note.code == "materials_cores_short"; }));
}

TEST(WhatWasThereBefore, IsNotBought) {
  const site::Site now = demo("kiln-yard");
  site::Site before = now;
  before.units.clear();
  before.triggers.clear();
  before.cables.erase("k_unit");
  before.cables.erase("k_unit_supply");
  const Materials materials = materials_of(now, {&before, nullptr, nullptr});
  EXPECT_DOUBLE_EQ(*find(materials, "alarm_6x0_22")->count, 0.0);
  EXPECT_DOUBLE_EQ(find(materials, "alarm_6x0_22")->there, 214.0);
  EXPECT_DOUBLE_EQ(*find(materials, "alarm_12x0_22")->count, 1.5);
  EXPECT_DOUBLE_EQ(*find(materials, "unit_8_ranges_1m")->count, 1.0);
  EXPECT_FALSE(row(materials, "k_z1").new_here);
  const auto work = [&](const std::string& task) {
    const auto found =
        std::find_if(materials.work.begin(), materials.work.end(), [&](const Work& one) { return one.task == task; });
    return found == materials.work.end() ? 0.0 : *found->count;
  };
  EXPECT_DOUBLE_EQ(work("fit_unit"), 1.0);
  EXPECT_DOUBLE_EQ(work("terminate"), 2 * (9 + 2));
  EXPECT_DOUBLE_EQ(work("choose_setting"), 8 + 1);
  EXPECT_DOUBLE_EQ(work("fit_battery"), 0.0);
  EXPECT_EQ(materials_of(now, {&now, nullptr, nullptr}).parts.front().count, 0.0);
}

// "Fix a supply with its battery": counted apart as well, the battery would be paid for twice.
TEST(TheBatteryOfANewSupply, IsFittedWithItAndOneForASupplyThatIsThereByItself) {
  const site::Site now = demo("kiln-yard");
  const auto times = [](const Materials& materials, const std::string& task) {
    const auto found =
        std::find_if(materials.work.begin(), materials.work.end(), [&](const Work& one) { return one.task == task; });
    return found == materials.work.end() ? 0.0 : *found->count;
  };
  EXPECT_DOUBLE_EQ(times(materials_of(now), "fit_supply"), 1.0);
  EXPECT_DOUBLE_EQ(times(materials_of(now), "fit_battery"), 0.0);
  site::Site before = now;
  before.batteries.clear();
  EXPECT_DOUBLE_EQ(times(materials_of(now, {&before, nullptr, nullptr}), "fit_supply"), 0.0);
  EXPECT_DOUBLE_EQ(times(materials_of(now, {&before, nullptr, nullptr}), "fit_battery"), 1.0);
}

TEST(APrice, AddsUpToTheLastPlaceWithTaxByRate) {
  const site::Site now = demo("kiln-yard");
  const PriceList list = prices(
      "alarm_6x0_22,m,0.385,EUR,19\nlabel,piece,0.15,EUR,19\nbattery_7ah,piece,18.45,EUR,7\nlabour,hour,61.5,EUR,19\n");
  const Materials materials = materials_of(now, {nullptr, nullptr, &list});
  const Price& price = *materials.price;
  std::int64_t sum = 0;
  for (const PriceLine& line : price.lines) {
    EXPECT_NE(line.net.has_value(), line.unpriced.has_value()) << line.item;
    if (!line.net) continue;
    sum += *line.net;
    if (line.item == "alarm_6x0_22") {
      EXPECT_EQ(line.net, 8239) << "214 m * 0.385 = 82.39";
    }
    if (line.item == "label") {
      EXPECT_EQ(line.net, 390) << "26 * 0.15 = 3.90";
    }
  }
  EXPECT_EQ(price.net, sum);
  ASSERT_EQ(price.taxes.size(), 2U);
  std::int64_t net = 0, tax = 0;
  for (const TaxSum& rate : price.taxes) {
    net += rate.net;
    tax += *rate.tax;
    EXPECT_EQ(rate.tax, (rate.net * rate.rate_pct->digits + 50) / 100);
  }
  EXPECT_EQ(net, price.net);
  EXPECT_EQ(price.gross, sum + tax);
  EXPECT_FALSE(price.complete) << "most of the site has no price in this list";
}

TEST(WhatHasNoPrice, IsListedAsUnpricedAndTheTotalIsIncomplete) {
  const site::Site now = demo("kiln-yard");
  const PriceList list = prices("battery_7ah,piece,18.45,EUR,7\n");
  const Price price = *materials_of(now, {nullptr, nullptr, &list}).price;
  EXPECT_EQ(price.net, 1845);
  EXPECT_FALSE(price.complete);
  EXPECT_GT(std::count_if(price.lines.begin(), price.lines.end(), [](const PriceLine& l) { return l.unpriced; }), 10);
}

// A list for another site: 0.00 would be taken for a price.
TEST(APriceOfNothingThatTheSiteNeeds, IsNoSum) {
  const PriceList list = prices("door_gong,piece,18.45,EUR,7\n");
  const Price price = *materials_of(demo("kiln-yard"), {nullptr, nullptr, &list}).price;
  EXPECT_FALSE(price.net.has_value());
  EXPECT_FALSE(price.gross.has_value());
  EXPECT_FALSE(price.complete);
  const PriceList any = prices("label,piece,1,EUR,7\n");
  EXPECT_EQ(materials_of(site::Site{}, {nullptr, nullptr, &any}).price->net, 0) << "nothing is needed";
}

TEST(ALineWhoseQuantityIsNotKnown, HasNone) {
  site::Site now = demo("kiln-yard");
  now.cables.at("k_z2").length_m = {};
  now.levels.clear();
  const PriceList list = prices("labour,hour,60,EUR,20\n");
  const Materials unknown = materials_of(now, {nullptr, nullptr, &list});
  for (const PriceLine& line : unknown.price->lines)
    if (line.item == "run_cable") {
      EXPECT_FALSE(line.quantity.has_value());
    }
}

TEST(APriceList, IsFoundByIdOrByName) {
  const site::Site now = demo("kiln-yard");
  const std::string name = now.parts.at("battery_7ah").name;
  const PriceList list = prices("\"" + name + "\",piece,20,EUR,\n");
  EXPECT_EQ(materials_of(now, {nullptr, nullptr, &list}).price->net, 2000);
  EXPECT_FALSE(materials_of(now, {nullptr, nullptr, &list}).price->gross.has_value()) << "no tax rate is known";
}

TEST(ACompletePrice, HasEveryLineAndSaysSo) {
  site::Site now;
  now.supplies["psu"].part.id = "own_supply";
  site::Part part;
  part.name = "Supply, 1 A";
  part.kind.value = site::PartKind::supply;
  now.parts["own_supply"] = part;
  const PriceList list = prices("own_supply,piece,45,EUR,20\nlabour,hour,60,EUR,20\n");
  const Price price = *materials_of(now, {nullptr, nullptr, &list}).price;
  EXPECT_TRUE(price.complete);
  // 45.00 + fit_supply 60 min = 1 h = 60.00 + connect_mains 45 min = 0.75 h = 45.00
  EXPECT_EQ(price.net, 4500 + 6000 + 4500);
  EXPECT_EQ(price.gross, 18000);
}

TEST(AnUnknownLength, IsNamedAndLeavesThePriceIncompleteUnlessThePlanTellsAnEstimate) {
  site::Site now = demo("kiln-yard");
  now.cables.at("k_z2").length_m = {};
  const Materials estimated = materials_of(now);
  const CableRow& shown = row(estimated, "k_z2");
  EXPECT_EQ(shown.from, LengthFrom::rough) << "the panel is known by its area alone";
  EXPECT_GT(*shown.length_m, 0.0);
  EXPECT_GT(find(estimated, "alarm_6x0_22")->estimated, 0.0);
  now.levels.clear();
  const Materials unknown = materials_of(now);
  EXPECT_EQ(row(unknown, "k_z2").from, LengthFrom::unknown);
  EXPECT_FALSE(find(unknown, "alarm_6x0_22")->count.has_value());
  EXPECT_DOUBLE_EQ(find(unknown, "alarm_6x0_22")->known_count, 214.0 - 16.0);
  EXPECT_TRUE(std::any_of(unknown.notes.begin(), unknown.notes.end(),
                          [](const Message& note) { return note.code == "materials_no_length"; }));
}

const Work* task_of(const Materials& materials, const std::string& task) {
  const auto found =
      std::find_if(materials.work.begin(), materials.work.end(), [&](const Work& one) { return one.task == task; });
  return found == materials.work.end() ? nullptr : &*found;
}

bool lacks(const Work& work, const std::string& code) {
  return std::any_of(work.lacks.begin(), work.lacks.end(), [&](const Message& one) { return one.code == code; });
}

TEST(AnUnknownLength, LeavesTheMetresToDrawTheTimeForThemAndTheSumBlank) {
  site::Site now = demo("kiln-yard");
  EXPECT_TRUE(materials_of(now).minutes.has_value());
  now.cables.at("k_z2").length_m = {};
  now.levels.clear();
  const PriceList list = prices("labour,hour,60,EUR,20\n");
  const Materials unknown = materials_of(now, {nullptr, nullptr, &list});
  const Work& run = *task_of(unknown, "run_cable");
  EXPECT_FALSE(run.count.has_value());
  EXPECT_FALSE(run.minutes().has_value());
  EXPECT_GT(run.known_count, 0.0);
  EXPECT_TRUE(lacks(run, "lacks_length"));
  EXPECT_FALSE(unknown.minutes.has_value()) << "a sum without it would be taken for the whole";
  for (const PriceLine& line : unknown.price->lines) {
    if (line.item == "run_cable") {
      EXPECT_EQ(line.unpriced->code, "unpriced_count");
    }
  }
  EXPECT_TRUE(task_of(unknown, "terminate")->count.has_value()) << "its cores are known all the same";
}

TEST(AnUnknownNumberOfCores, LeavesTheTerminationsBlank) {
  site::Site now = demo("kiln-yard");
  now.cables.at("k_z2").cores_in_parallel.value.reset();
  const Materials unknown = materials_of(now);
  EXPECT_FALSE(task_of(unknown, "terminate")->count.has_value());
  EXPECT_TRUE(lacks(*task_of(unknown, "terminate"), "lacks_cores"));
  EXPECT_FALSE(unknown.minutes.has_value());
}

TEST(ADetectorOfUnknownPart, IsFittedAllTheSame) {
  site::Site now = demo("kiln-yard");
  const double known = *task_of(materials_of(now), "fit_detector")->count;
  now.detectors.at("d_shop").part = {};
  EXPECT_DOUBLE_EQ(*task_of(materials_of(now), "fit_detector")->count, known);
}

TEST(AFuseOfUnknownRating, IsToldAndMakesThePriceIncomplete) {
  site::Site now = demo("kiln-yard");
  const auto fuses = [](const Materials& materials) {
    double count = 0.0;
    for (const PartCount& part : materials.parts) count += part.kind == ItemKind::fuse ? *part.count : 0.0;
    return count;
  };
  auto& [id, unit] = *now.units.begin();
  unit.feed.fuse_A = site::Value::exactly(1.0, site::Origin::data_sheet);
  const Materials known = materials_of(now);
  unit.feed.fuse_A = {};
  const Materials unknown = materials_of(now);
  EXPECT_DOUBLE_EQ(fuses(unknown), fuses(known) - 1.0);
  const Message told = say::materials_no_part(text(say::name_of_fuse_of(electric::thing_words(now, id))));
  EXPECT_EQ(std::count_if(unknown.notes.begin(), unknown.notes.end(),
                          [&](const Message& note) { return text(note) == text(told); }),
            1);
}

// Two detectors 6 m and 4 m apart along the walls, 2 m and 1 m below a ceiling of 3 m: 6 + 4 + 1 + 2 = 13 m, 15 % more
// and a metre at each end (data/costs/cable_estimate.json): 16.95 m.
TEST(AnEstimate, GoesAlongTheWallsUpAndDownWithWhatIsAddedByTheFile) {
  site::Site site;
  const auto metres = [](double value) { return site::Value::exactly(value, site::Origin::measured); };
  site.levels["ground"].elevation_m = metres(0);
  site.levels["ground"].ceiling_m = metres(3);
  const auto mounted = [&](double x, double y, double z) {
    site::Mount mount;
    mount.level.id = "ground";
    mount.x_m = metres(x);
    mount.y_m = metres(y);
    mount.z_m = metres(z);
    return mount;
  };
  site.detectors["a"].mount = mounted(0, 0, 2);
  site.cameras["b"].mount = mounted(6, 4, 1);
  site.cables["k"].part.id = "none_known";
  site.data_links["l"].a.id = "a";
  site.data_links["l"].b.id = "b";
  site.data_links["l"].cable.id = "k";
  const Materials materials = materials_of(site);
  EXPECT_EQ(row(materials, "k").from, LengthFrom::estimate);
  EXPECT_NEAR(*row(materials, "k").length_m, 16.95, 1e-9);
}

}  // namespace
}  // namespace zoneproof::materials
