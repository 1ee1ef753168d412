#include "materials/pricing.hpp"

#include <algorithm>
#include <cctype>
#include <map>

#include "messages/materials.hpp"

namespace zoneproof::materials {

namespace {

constexpr double kMinutesPerHour = 60.0;
constexpr int kHourPlaces = 2;   // a line of work is rounded to a hundredth of an hour, and priced as printed
constexpr int kMetrePlaces = 2;  // a line of cable to a centimetre

struct Found {
  Decimal price;
  std::optional<Decimal> tax_pct;
};

class Pricing {
 public:
  Pricing(const PriceList* list, const site::Costs& costs) : costs_(costs) {
    if (list != nullptr && !list->currency.empty()) {
      price_.currency = list->currency;
      price_.places = list->places;
      for (const PriceRow& row : list->rows) rows_[{folded_item(row.item), row.unit}] = &row;
      known_ = true;
    } else if (const auto places = places_of_currency(costs.currency)) {
      price_.currency = costs.currency;
      price_.places = *places;
      known_ = true;
    }
  }

  std::optional<Price> run(const std::vector<PartCount>& parts, const std::vector<Work>& work) {
    if (!known_) return std::nullopt;
    price_.complete = true;
    for (const PartCount& part : parts) add_part(part);
    for (const Work& one : work) add_work(one);
    sum_up();
    return std::move(price_);
  }

 private:
  std::optional<Found> in_list(const std::string& item, PriceUnit unit) const {
    const auto row = rows_.find({folded_item(item), unit});
    if (row == rows_.end()) return std::nullopt;
    return Found{row->second->price, row->second->tax_pct};
  }

  std::optional<Found> in_costs(const site::Value& value) const {
    if (costs_.currency != price_.currency || !value.known()) return std::nullopt;
    const std::optional<Decimal> price = decimal_of(value.nominal);
    return price ? std::optional(Found{*price, std::nullopt}) : std::nullopt;
  }

  std::optional<Found> find(const PartCount& part, PriceUnit unit) const {
    if (const auto by_id = in_list(part.item, unit)) return by_id;
    if (const auto by_name = in_list(part.name, unit)) return by_name;
    const auto own = costs_.prices.find(part.item);
    return own == costs_.prices.end() ? std::nullopt : in_costs(own->second.price);
  }

  void add_part(const PartCount& part) {
    PriceLine line;
    line.item = part.item;
    line.name = part.name;
    line.unit = part.metres ? PriceUnit::metre : PriceUnit::piece;
    line.estimated = part.estimated > 0.0;
    const double needed = part.count.value_or(part.known_count);
    if (part.count && needed == 0.0) return;  // it was all there before
    const std::optional<Decimal> quantity = decimal_of(needed);
    if (!part.count) price_.complete = false;
    if (!quantity || needed == 0.0) return unpriced(std::move(line), say::unpriced_count());
    line.quantity = part.metres ? rounded(*quantity, kMetrePlaces) : *quantity;
    const std::optional<Found> found = find(part, line.unit);
    if (!found) return unpriced(std::move(line), say::unpriced_item(part.name));
    priced(std::move(line), *found);
  }

  /// By the task where it has a price of its own, else by the hour.
  void add_work(const Work& work) {
    PriceLine line;
    line.item = work.task;
    line.name = text(say::name_of_labour(work.meaning));
    line.unit = PriceUnit::task;
    if (!work.count) return unpriced(std::move(line), say::unpriced_count());
    line.quantity = rounded(decimal_of(*work.count).value_or(Decimal{}), kMetrePlaces);
    if (const auto found = in_list(work.task, PriceUnit::task)) return priced(std::move(line), *found);
    if (!work.minutes_each) return unpriced(std::move(line), say::unpriced_minutes());
    const std::optional<Decimal> hours = decimal_of(*work.minutes() / kMinutesPerHour);
    std::optional<Found> hour = in_list(kLabour, PriceUnit::hour);
    if (!hour) hour = in_costs(costs_.hourly_wage);
    if (!hours || !hour) return unpriced(std::move(line), say::unpriced_labour());
    line.unit = PriceUnit::hour;
    line.quantity = rounded(*hours, kHourPlaces);
    priced(std::move(line), *hour);
  }

  void unpriced(PriceLine line, Message because) {
    line.unpriced = std::move(because);
    price_.complete = false;
    price_.lines.push_back(std::move(line));
  }

  void priced(PriceLine line, const Found& found) {
    line.price = found.price;
    line.tax_pct = found.tax_pct;
    line.net = product(*line.quantity, found.price, price_.places);
    if (!line.net) return unpriced(std::move(line), say::unpriced_size());
    price_.estimated = price_.estimated || line.estimated;
    price_.lines.push_back(std::move(line));
  }

  void sum_up() {
    if (price_.lines.empty()) price_.net = 0;  // nothing is needed, and it costs nothing
    bool all_rates = true;
    std::map<std::pair<bool, std::string>, TaxSum> rates;
    for (const PriceLine& line : price_.lines) {
      if (!line.net) continue;
      price_.net = price_.net.value_or(0) + *line.net;
      TaxSum& sum = rates[{!line.tax_pct.has_value(), line.tax_pct ? text(*line.tax_pct) : ""}];
      sum.rate_pct = line.tax_pct;
      sum.net += *line.net;
    }
    std::int64_t tax = 0;
    for (auto& [key, sum] : rates) {
      if (sum.rate_pct) {
        constexpr int percent_places = 2;  // a hundredth
        const Decimal share{sum.rate_pct->digits, sum.rate_pct->places + percent_places};
        sum.tax = product(Decimal{sum.net, 0}, share, 0);
      }
      all_rates = all_rates && sum.tax.has_value();
      tax += sum.tax.value_or(0);
      price_.taxes.push_back(sum);
    }
    if (all_rates && price_.net) price_.gross = *price_.net + tax;
  }

  const site::Costs& costs_;
  std::map<std::pair<std::string, PriceUnit>, const PriceRow*> rows_;
  Price price_;
  bool known_ = false;
};

}  // namespace

std::optional<Price> price_of(const std::vector<PartCount>& parts, const std::vector<Work>& work, const PriceList* list,
                              const site::Costs& costs) {
  return Pricing(list, costs).run(parts, work);
}

}  // namespace zoneproof::materials
