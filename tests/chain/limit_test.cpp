// Tables of a rulebook: linear between rows, nothing outside, nothing on what was only taken for granted.
#include "chain/limit.hpp"

#include <gtest/gtest.h>

namespace zoneproof::chain {
namespace {

using site::Origin;
using site::Value;

site::RulePoint row(double at, double value, Origin origin = Origin::standard) {
  return {Value::exactly(at, Origin::standard), Value::exactly(value, origin)};
}

site::Site with_table(std::vector<site::RulePoint> rows) {
  site::Site site;
  site.rulebook.book.id = "book";
  site::RuleEntry entry;
  entry.points = std::move(rows);
  entry.source = "a standard";
  entry.clause = "clause 3";
  entry.verified.value = true;
  site.rulebooks["book"].entries["table"] = entry;
  return site;
}

TEST(Table, IsLinearBetweenItsRowsAndNothingOutside) {
  const std::vector<site::RulePoint> rows = {row(0, 10), row(10, 20), row(20, 0)};
  EXPECT_EQ(in_table(rows, 0), 10.0);
  EXPECT_EQ(in_table(rows, 2.5), 12.5);
  EXPECT_EQ(in_table(rows, 10), 20.0);
  EXPECT_EQ(in_table(rows, 15), 10.0);
  EXPECT_EQ(in_table(rows, 20), 0.0);
  EXPECT_FALSE(in_table(rows, -0.001).has_value());
  EXPECT_FALSE(in_table(rows, 20.001).has_value());
  EXPECT_FALSE(in_table({}, 1).has_value());
}

TEST(Table, CountsTheEndOfItsRowsThatIsAskedFor) {
  const std::vector<site::RulePoint> rows = {
      {Value::exactly(0, Origin::standard), Value::between(1, 2, 3, Origin::standard)},
      {Value::exactly(1, Origin::standard), Value::between(2, 4, 7, Origin::standard)}};
  EXPECT_EQ(in_table(rows, 0.5), 3.0);
  EXPECT_EQ(in_table(rows, 0.5, &Value::high), 5.0);
  EXPECT_EQ(in_table(rows, 0.5, &Value::low), 1.5);
}

TEST(Table, HasNothingWhereARowIsUnknown) {
  std::vector<site::RulePoint> rows = {row(0, 10), row(10, 20), row(20, 0)};
  rows[2].value = Value{};
  EXPECT_EQ(in_table(rows, 5), 15.0);
  EXPECT_FALSE(in_table(rows, 15).has_value());
}

TEST(LimitAt, TellsTheNumberWithItsSourceAndPlace) {
  const Limit limit = limit_at(with_table({row(0, 10), row(10, 20)}), "table", 5);
  EXPECT_EQ(limit.value, 15.0);
  EXPECT_EQ(limit.source, "a standard, clause 3");
  EXPECT_TRUE(limit.verified);
  EXPECT_EQ(limit.pointer, "/rulebooks/book/entries/table");
}

TEST(LimitAt, IsNothingWithoutTheEntryOrBeyondIt) {
  EXPECT_FALSE(limit_at(with_table({row(0, 10), row(10, 20)}), "other", 5).value.has_value());
  EXPECT_EQ(limit_at(with_table({}), "other", 5).pointer, "/rulebooks/book/entries/other");
  EXPECT_FALSE(limit_at(with_table({row(0, 10), row(10, 20)}), "table", 11).value.has_value());
}

TEST(LimitAt, WhatWasOnlyTakenForGrantedLimitsNothing) {
  for (const Origin guess : {Origin::typical, Origin::assumed})
    EXPECT_FALSE(limit_at(with_table({row(0, 10), row(10, 20, guess)}), "table", 5).value.has_value());
}

}  // namespace
}  // namespace zoneproof::chain
