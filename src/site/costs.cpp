#include "site/costs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/embedded.hpp"
#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "messages/site.hpp"
#include "site/document.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

namespace {

constexpr const char* kCommonCosts = "costs/common_practice.json";

CostsResult read_with(std::string_view text, const std::string& name, void (*check)(const Costs&, Findings&)) {
  CostsResult result;
  const nlohmann::ordered_json json = parse_json(text, name, result.messages);
  if (any_error(result.messages)) return result;
  Findings findings(name);
  if (read_document(costs_format(), json, &result.costs, findings).usable) check(result.costs, findings);
  for (Message& message : findings.in_text(text)) result.messages.push_back(std::move(message));
  return result;
}

void check_tasks(const Costs& own, Findings& findings) {
  std::vector<std::string> tasks;
  for (const auto& entry : common_costs().tasks) tasks.push_back(entry.first);
  for (const auto& [id, task] : own.tasks) {
    if (common_costs().tasks.count(id) != 0) continue;
    const std::string near = findings.nearest(id, tasks);
    findings.add(near.empty() ? say::costs_no_task(id, tasks) : say::costs_no_task_near(id, near, tasks),
                 pointer_child("/tasks", id), true);
  }
}

/// A sum of tolerances would be no price: one number is asked for.
void check_own(const Costs& own, Findings& findings) {
  check_tasks(own, findings);
  std::vector<const Value*> money{&own.hourly_wage};
  for (const auto& entry : own.prices) money.push_back(&entry.second.price);
  std::vector<const Value*> numbers = money;
  for (const auto& entry : own.tasks) numbers.push_back(&entry.second.minutes);
  for (const Value* number : numbers) {
    if (number->known() && number->low < number->high) findings.add(say::costs_one_number(), number->pointer);
  }
  const auto stated = std::find_if(money.begin(), money.end(), [](const Value* one) { return one->known(); });
  if (own.currency.empty() && stated != money.end()) findings.add(say::costs_no_currency(), (*stated)->pointer);
}

/// The one file of costs that comes with the program; it must be without fault.
Costs read_common() {
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.path != kCommonCosts) continue;
    CostsResult read = read_with(file.bytes, std::string(file.path), [](const Costs&, Findings&) {});
    for (const Message& message : read.messages) {
      if (kind_of(message.code).severity == Severity::error)
        throw std::logic_error(fmt::format("embedded {}: {}", file.path, full_text(message)));
    }
    return std::move(read.costs);
  }
  throw std::logic_error(fmt::format("no embedded {}", kCommonCosts));
}

void take(std::string& here, const std::string& own) {
  if (!own.empty()) here = own;
}
void take(Value& here, const Value& own) {
  if (!own.unknown()) here = own;
}

/// Adds `count` of something that costs `each`; unknown: names it, and gives up the sum.
void add(std::optional<double>& sum, double count, const Value* each, const std::string& pointer, Cost& cost) {
  if (each == nullptr || !each->known()) {
    sum = std::nullopt;
    cost.missing.push_back(pointer);
  } else if (sum) {
    *sum += count * each->nominal;
  }
}

template <class T>
const T* find_in(const Map<T>& map, const std::string& id) {
  const auto found = map.find(id);
  return found == map.end() ? nullptr : &found->second;
}

}  // namespace

const Costs& common_costs() {
  static const Costs costs = read_common();
  return costs;
}

CostsResult read_costs(std::string_view text, const std::string& name) { return read_with(text, name, check_own); }

Costs costs_over(const Costs& common, const Costs& own) {
  Costs costs = common;
  take(costs.name, own.name);
  take(costs.note, own.note);
  take(costs.currency, own.currency);
  take(costs.hourly_wage, own.hourly_wage);
  for (const auto& [id, task] : own.tasks) {
    Task& here = costs.tasks[id];
    take(here.meaning, task.meaning);
    if (task.minutes.unknown()) continue;
    here.minutes = task.minutes;
    here.source = task.source;  // of these minutes: the old source speaks for the old ones
    here.verified = task.verified;
  }
  for (const auto& [id, price] : own.prices) costs.prices[id] = price;
  return costs;
}

void add(Bill& bill, const Bill& more) {
  bill.parts.insert(bill.parts.end(), more.parts.begin(), more.parts.end());
  bill.work.insert(bill.work.end(), more.work.begin(), more.work.end());
}

Cost cost_of(const Bill& bill, const Costs& costs) {
  constexpr double minutes_of_hour = 60.0;
  Cost cost;
  cost.minutes = cost.money = 0.0;
  cost.currency = costs.currency;
  for (const WorkNeed& work : bill.work) {
    const Task* task = find_in(costs.tasks, work.task);
    add(cost.minutes, work.count, task ? &task->minutes : nullptr, pointer_child("/tasks", work.task), cost);
    if (task == nullptr || !task->verified.yes()) cost.verified = false;
  }
  for (const PartNeed& part : bill.parts) {
    const Price* price = find_in(costs.prices, part.part);
    add(cost.money, part.count, price ? &price->price : nullptr, pointer_child("/prices", part.part), cost);
    cost.pieces += part.metres ? 1.0 : part.count;
  }
  if (!cost.minutes) {
    cost.money = std::nullopt;
  } else if (*cost.minutes > 0.0) {
    add(cost.money, *cost.minutes / minutes_of_hour, &costs.hourly_wage, "/hourly_wage", cost);
  }
  return cost;
}

bool all_in_money(const std::vector<Cost>& costs) {
  for (const Cost& cost : costs) {
    if (!cost.money) return false;
  }
  return !costs.empty();
}

bool cheaper(const Cost& a, const Cost& b, bool by_money) {
  const std::optional<double>&first = by_money ? a.money : a.minutes, &second = by_money ? b.money : b.minutes;
  if (first.has_value() != second.has_value()) return first.has_value();
  if (first && *first != *second) return *first < *second;
  return a.pieces < b.pieces;
}

}  // namespace zoneproof::site
