// Every field of a costs file: key (the member's name), meaning. See field.hpp.
#include "site/costs.hpp"
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

namespace {
constexpr double kMostMinutes = 10'000.0;  // of one task: four weeks of work
constexpr double kMostMoney = 1e9;         // any currency
}  // namespace

template <>
const Record& record_of<Task>() {
  using Here = Task;
  static const Record record = {
      "Task",
      "One kind of work and how long it takes.",
      {FIELD(meaning).as(TextForm::lines, 1000).means("What is done, and for one of what the minutes count."),
       FIELD(minutes).range(0.0, kMostMinutes).means("Minutes of one person for one of it."),
       FIELD(source).as(TextForm::lines, 1000).means("Where the minutes come from, or \"common practice, no source\"."),
       FIELD(verified).means("Whether somebody has checked the minutes against work that was done.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Price>() {
  using Here = Price;
  static const Record record = {
      "Price",
      "What a part costs.",
      {FIELD(price).range(0.0, kMostMoney).means("Price of one piece, of cable of one metre, in the file's currency."),
       FIELD(source).as(TextForm::lines, 1000).means("Where the price comes from: a list, an offer, a date.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Costs>() {
  using Here = Costs;
  static const Record record = {
      "Costs",
      "A file of costs: minutes by task, prices by part.",
      {FIELD(version).range(kCostsVersion, kCostsVersion).needed().means("Version of the file format."),
       FIELD(name).means("What people call these costs."),
       FIELD(note).as(TextForm::lines, 4000).means("Anything worth knowing, in words."),
       FIELD(currency).as(TextForm::line, 20).means("The currency of wage and prices, as it is to be shown."),
       FIELD(hourly_wage).range(0.0, kMostMoney).means("What an hour of work costs, in the currency."),
       FIELD(origin).means("Where the plain numbers come from."),
       FIELD(tasks).at_most(kMostRuleEntries).means("Minutes of work, by task."),
       FIELD(prices).at_most(kMostParts).means("Prices, by id of the part.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
