#include "materials/price_check.hpp"

#include <gtest/gtest.h>

#include <string>
#include <tuple>
#include <vector>

#include "site/file.hpp"

namespace zoneproof::materials {
namespace {

using Said = std::tuple<std::string, int, int>;  // code, line, column

const site::Site& kiln_yard() {
  static const site::ReadResult read =
      site::load_site(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/kiln-yard.site.json");
  return *read.site;
}

std::vector<Said> said(const std::string& rows) {
  const PriceListResult read = read_prices("item;unit;price;currency\n" + rows, "prices.csv");
  EXPECT_TRUE(read.messages.empty()) << rows;
  std::vector<Said> all;
  for (const Message& message : check_prices(read.list, kiln_yard(), site::common_costs())) {
    EXPECT_EQ(message.place.file, "prices.csv");
    all.emplace_back(message.code, message.place.line, message.place.column);
  }
  return all;
}

TEST(ARowInAUnitThatItsItemIsNeverCountedIn, IsTold) {
  EXPECT_EQ(said("alarm_6x0_22;piece;38;EUR\n"), (std::vector<Said>{{"prices_unit_not_used", 2, 14}}));
  EXPECT_EQ(said("battery_7ah;m;18;EUR\n"), (std::vector<Said>{{"prices_unit_not_used", 2, 13}}));
  EXPECT_EQ(said("labour;piece;60;EUR\n"), (std::vector<Said>{{"prices_unit_not_used", 2, 8}}));
  EXPECT_EQ(said("test_zone;hour;60;EUR\n"), (std::vector<Said>{{"prices_unit_not_used", 2, 11}}));
  EXPECT_EQ(said("Label;m;1;EUR\n").size(), 1U) << "capitals do not count";
  EXPECT_EQ(said("battery_17ah;hour;1;EUR\n").size(), 1U) << "of the shelf, though not of this site";
}

TEST(ARowThatFitsOrThatNobodyKnows, IsNoFault) {
  EXPECT_EQ(said("alarm_6x0_22;m;0,4;EUR\nbattery_7ah;piece;18;EUR\nlabour;hour;60;EUR\ntest_zone;task;12;EUR\n"
                 "door gong;m;3;EUR\n"),
            std::vector<Said>{});
}

TEST(APartThatIsPricedByItsIdAndByItsName, IsAnErrorAtTheLaterRow) {
  const std::string name = kiln_yard().parts.at("battery_7ah").name;
  EXPECT_EQ(said("\"" + name + "\";piece;20;EUR\nlabel;piece;1;EUR\nbattery_7ah;piece;18;EUR\n"),
            (std::vector<Said>{{"prices_twice_named", 4, 1}}));
  EXPECT_EQ(said("battery_7ah;piece;18;EUR\n\"" + name + "\";m;20;EUR\n"),
            (std::vector<Said>{{"prices_unit_not_used", 3, static_cast<int>(name.size()) + 4}}))
      << "in another unit it is no second price";
}

}  // namespace
}  // namespace zoneproof::materials
