#include "materials/price_list.hpp"

#include <gtest/gtest.h>

#include <string>
#include <tuple>
#include <vector>

namespace zoneproof::materials {
namespace {

using SaidOfList = std::tuple<std::string, int, int>;  // code, line, column

std::vector<SaidOfList> said_of_list(const std::string& text) {
  std::vector<SaidOfList> all;
  for (const Message& message : read_prices(text, "prices.csv").messages)
    all.emplace_back(message.code, message.place.line, message.place.column);
  return all;
}

TEST(APriceList, IsReadWithEveryColumn) {
  const PriceListResult read = read_prices(
      "Item,Unit,Price,Currency,Tax_pct,Note\n"
      "battery_7ah,piece,18.40,EUR,19,\"list, page 3\"\n"
      "\"Alarm cable, 6 x 0.22\",m,0.385,EUR,19,\n"
      "labour,hour,62,EUR,,\n",
      "prices.csv");
  ASSERT_TRUE(read.messages.empty()) << full_text(read.messages.front());
  EXPECT_EQ(read.list.currency, "EUR");
  EXPECT_EQ(read.list.places, 2);
  ASSERT_EQ(read.list.rows.size(), 3U);
  EXPECT_EQ(read.list.rows[0].price, (Decimal{1840, 2}));
  EXPECT_EQ(read.list.rows[1].item, "Alarm cable, 6 x 0.22");
  EXPECT_EQ(read.list.rows[1].unit, PriceUnit::metre);
  EXPECT_EQ(read.list.rows[1].price, (Decimal{385, 3}));
  EXPECT_EQ(read.list.rows[0].tax_pct, (Decimal{19, 0}));
  EXPECT_FALSE(read.list.rows[2].tax_pct.has_value());
  EXPECT_EQ(read.list.rows[2].line, 4);
}

TEST(APriceList, TakesADecimalCommaWhereCommasSeparateNothing) {
  const PriceListResult read = read_prices("item;unit;price;currency\nfuse;piece;0,45;CHF\n", "p");
  ASSERT_TRUE(read.messages.empty());
  EXPECT_EQ(read.list.rows[0].price, (Decimal{45, 2}));
}

TEST(APriceList, IsReadWithTheDecimalSignThatAllItsNumbersShow) {
  const PriceListResult cable = read_prices("item;unit;price;currency\nk;m;0,385;EUR\nu;piece;1.250;EUR\n", "p");
  ASSERT_TRUE(cable.messages.empty());
  EXPECT_EQ(cable.list.rows[0].price, (Decimal{385, 3}));
  EXPECT_EQ(cable.list.rows[1].price, (Decimal{1250, 0})) << "the comma of line 2 leaves the point for thousands";
  const PriceListResult quoted = read_prices("item,unit,price,currency\nk,m,\"0,385\",EUR\nu,m,\"1,250\",EUR\n", "p");
  ASSERT_TRUE(quoted.messages.empty());
  EXPECT_EQ(quoted.list.rows[1].price, (Decimal{1250, 3}));
}

TEST(APriceThatMayBeTwo, IsAskedBackWithBothReadings) {
  const auto read = read_prices("item,unit,price,currency\nk,m,1.250,EUR\n", "p");
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(read.messages.front().code, "prices_may_be_thousands");
  EXPECT_EQ(remedy(read.messages.front()), "Write 1250 or 1.25.");
  const auto both = read_prices("item;unit;price;currency\nk;m;0,45;EUR\nl;m;0.45;EUR\nu;m;1,250;EUR\n", "p");
  ASSERT_EQ(both.messages.size(), 1U);
  EXPECT_EQ(both.messages.front().code, "prices_two_signs");
  EXPECT_NE(text(both.messages.front()).find("point in line 3, a decimal comma in line 2"), std::string::npos);
}

TEST(ARateOfTax, IsBoundedByThePriceItself) {
  EXPECT_EQ(said_of_list("item;unit;price;currency;tax_pct\na;m;1;EUR;1900\nb;m;1;EUR;100\nc;m;1;EUR;100,01\n"
                         "d;m;1;EUR;999999999999999\n"),
            (std::vector<SaidOfList>{{"prices_tax", 2, 11}, {"prices_tax", 4, 11}, {"prices_tax", 5, 11}}));
}

TEST(ABadPriceList, GetsOneMessageAProblemWithLineAndColumn) {
  EXPECT_EQ(said_of_list("item,unit,price,currency\na,box,1,EUR\nb,piece,x,EUR\nc,piece,1,USD\n,piece,1,EUR\n"),
            (std::vector<SaidOfList>{{"prices_unit", 2, 3},
                                     {"prices_not_a_number", 3, 9},
                                     {"prices_other_currency", 4, 11},
                                     {"prices_no_item", 5, 1}}));
  EXPECT_EQ(said_of_list("item,unit,price\na,piece,1\n"), (std::vector<SaidOfList>{{"prices_no_column", 1, 1}}));
  EXPECT_EQ(said_of_list("item\na\n"), (std::vector<SaidOfList>{{"prices_no_column", 1, 1}}))
      << "one message, whatever is missing";
  EXPECT_EQ(said_of_list("a,piece,1,EUR\nb,piece,2,EUR\n"), (std::vector<SaidOfList>{{"prices_no_header", 1, 1}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency,colour\na,piece,1,EUR,red\n"),
            (std::vector<SaidOfList>{{"prices_column", 1, 26}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency,price\na,piece,1,EUR,2\n"),
            (std::vector<SaidOfList>{{"prices_column_twice", 1, 26}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency\na,piece,1,EUR\na,piece,2,EUR\n"),
            (std::vector<SaidOfList>{{"prices_twice", 3, 1}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency\nLabel,piece,1,EUR\nlabel,piece,9,EUR\n"),
            (std::vector<SaidOfList>{{"prices_twice", 3, 1}}))
      << "capitals do not count where a price is looked up, nor here";
  EXPECT_EQ(said_of_list("item;unit;price;currency\na;piece;1.250;EUR\n"),
            (std::vector<SaidOfList>{{"prices_may_be_thousands", 2, 9}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency\na,piece,-1,EUR\n"),
            (std::vector<SaidOfList>{{"prices_not_a_number", 2, 9}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency\na,piece,1,\n"),
            (std::vector<SaidOfList>{{"prices_no_currency", 2, 11}}));
  EXPECT_EQ(said_of_list("item,unit,price,currency\n"), (std::vector<SaidOfList>{{"prices_no_rows", 0, 0}}));
  EXPECT_EQ(said_of_list(""), (std::vector<SaidOfList>{{"prices_no_rows", 0, 0}}));
  EXPECT_EQ(std::get<0>(said_of_list("item,unit,price,currency\na,piece,\"1,EUR\n").back()), "csv_quote_open");
}

TEST(ACurrencyWhosePlacesNobodyKnows, HasToStateThem) {
  EXPECT_EQ(said_of_list("item,unit,price,currency\na,piece,1,crowns\n"),
            (std::vector<SaidOfList>{{"prices_places_unknown", 2, 11}}));
  const PriceListResult read = read_prices("item,unit,price,currency,places\na,piece,1,crowns,0\nb,m,2,crowns,\n", "p");
  ASSERT_TRUE(read.messages.empty());
  EXPECT_EQ(read.list.places, 0);
  EXPECT_EQ(said_of_list("item,unit,price,currency,places\na,piece,1,crowns,7\n").front(),
            (SaidOfList{"prices_places", 2, 18}));
}

// ISO 4217, column minor unit.
TEST(PlacesOfACurrency, AreThoseOfTheStandard) {
  for (const auto& [code, places] : std::vector<std::pair<const char*, int>>{
           {"EUR", 2}, {"GBP", 2}, {"USD", 2}, {"CHF", 2}, {"JPY", 0}, {"KRW", 0}, {"KWD", 3}, {"TND", 3}})
    EXPECT_EQ(places_of_currency(code), places) << code;
  EXPECT_FALSE(places_of_currency("crowns").has_value());
  EXPECT_FALSE(places_of_currency("eur").has_value());
}

}  // namespace
}  // namespace zoneproof::materials
