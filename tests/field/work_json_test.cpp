#include "results/work.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "field/demo_site.hpp"

namespace zoneproof::results {
namespace {

TEST(TheOrderOfWorkAsJson, HasEveryStepOnceAndNullWhereNothingIsExpected) {
  site::Site site = field::demo_site("kiln-yard");
  site.zones.at("z4").loop.eol_ohm = {};
  const field::OrderOfWork work = field::order_of_work(site);
  const auto json = json_of(work);
  EXPECT_EQ(json.at("steps").size(), work.steps.size());
  std::set<std::string> walked;
  for (const auto& phase : json.at("phases")) {
    for (const auto& stop : phase.at("stops")) {
      for (const auto& id : stop.at("steps")) walked.insert(id.get<std::string>());
    }
  }
  EXPECT_EQ(walked.size(), work.steps.size());
  for (const auto& step : json.at("steps")) {
    if (step.at("id") != "dead.loop.z4") continue;
    EXPECT_TRUE(step.at("expected").at("low").is_null());
    EXPECT_FALSE(step.at("expected").at("gaps").empty());
    EXPECT_EQ(step.at("expected").at("unit"), "ohm");
  }
}

TEST(ThePriceAsJson, HasAmountsAsTextsWithAllTheirPlaces) {
  const materials::PriceListResult read =
      materials::read_prices("item,unit,price,currency,tax_pct\nlabel,piece,0.5,EUR,20\n", "prices.csv");
  materials::Question question;
  question.prices = &read.list;
  const auto json = json_of(materials::materials_of(field::demo_site("kiln-yard"), question));
  EXPECT_EQ(json.at("price").at("net"), "13.00") << "26 labels";
  EXPECT_EQ(json.at("price").at("gross"), "15.60");
  EXPECT_EQ(json.at("price").at("complete"), false);
  EXPECT_EQ(json.at("cables").size(), 18U);
}

}  // namespace
}  // namespace zoneproof::results
