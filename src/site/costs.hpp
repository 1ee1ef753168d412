#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "site/value.hpp"

/// What a change of a site costs: minutes by task, prices by part. Data and never numbers in code: the program brings
/// data/costs/common_practice.json, and a person's own file of the same format overrides it entry by entry. No price
/// comes with the program; one that nobody entered stays unknown.
namespace zoneproof::site {

/// One kind of work.
struct Task {
  std::string meaning;
  Value minutes;       ///< of one person, for one of what the meaning names; no unit suffix: min
  std::string source;  ///< or "common practice, no source"
  Flag verified;
};

struct Price {
  Value price;  ///< of one piece, of cable of one metre; in the file's currency
  std::string source;
};

/// A file of costs: {"format": "zoneproof-costs", "version": 1, ...}.
struct Costs {
  long long version = 1;
  std::string name;
  std::string note;
  std::string currency;          ///< as it is to be shown; empty: unknown
  Value hourly_wage;             ///< what an hour of work costs, in the currency
  std::optional<Origin> origin;  ///< of the plain numbers
  Map<Task> tasks;
  Map<Price> prices;  ///< by id of the part
};

/// The costs that come with the program.
const Costs& common_costs();

/// A person's own costs; messages have line and column. Every task and price is optional there. Refused are a task that
/// no change counts, a number that leaves open which one is meant, and money without a currency: each would give a sum
/// that looks like one and is none.
struct CostsResult {
  Costs costs;
  std::vector<Message> messages;
};
CostsResult read_costs(std::string_view text, const std::string& name);

/// `own` over `common`: what `own` states counts, entry by entry; of a task number by number.
Costs costs_over(const Costs& common, const Costs& own);

/// What a change needs.
struct PartNeed {
  std::string part;    ///< id of the part
  double count = 1.0;  ///< pieces, or metres of cable
  bool metres = false;
};
struct WorkNeed {
  std::string task;  ///< id of the task
  double count = 1.0;
};
struct Bill {
  std::vector<PartNeed> parts;
  std::vector<WorkNeed> work;
};

/// Puts what `more` needs on the bill.
void add(Bill& bill, const Bill& more);

/// A bill in numbers. What is unknown makes the sum unknown, and is named.
struct Cost {
  std::optional<double> minutes;
  std::optional<double> money;  ///< in the currency: parts and work at the hourly wage
  std::string currency;
  double pieces = 0.0;               ///< parts to be bought, a run of cable counting as one
  std::vector<std::string> missing;  ///< pointers into the costs file: "/prices/battery_17ah", "/hourly_wage"
  bool verified = true;              ///< every task's minutes were checked by somebody
};
Cost cost_of(const Bill& bill, const Costs& costs);

/// How several costs are put in order: by money where all are known in money, else by minutes, then pieces. What is
/// not known comes last.
bool all_in_money(const std::vector<Cost>& costs);
bool cheaper(const Cost& a, const Cost& b, bool by_money);

/// Puts what has a `cost` in order: the highest `worth(one)` first, of equal ones the cheapest, and what costs the same
/// as it stood. Whether money decided.
template <class Priced, class Worth>
bool best_first(std::vector<Priced>& all, Worth worth) {
  std::vector<Cost> costs;
  for (const Priced& one : all) costs.push_back(one.cost);
  const bool by_money = all_in_money(costs);
  std::stable_sort(all.begin(), all.end(), [&](const Priced& a, const Priced& b) {
    const auto first = worth(a), second = worth(b);
    return first != second ? first > second : cheaper(a.cost, b.cost, by_money);
  });
  return by_money;
}

}  // namespace zoneproof::site
