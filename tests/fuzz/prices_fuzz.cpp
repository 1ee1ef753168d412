// Any bytes as a price list: prices that can be counted with, or messages with line and column.
#include <cstdint>
#include <string_view>

#include "fuzz/held.hpp"
#include "materials/price_list.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;

void hold_amounts(const materials::PriceList& list) {
  hold(!list.currency.empty() && list.places >= 0, "a currency and its places");
  const materials::Decimal metres{123456, 2};
  for (const materials::PriceRow& row : list.rows) {
    hold(!row.item.empty() && row.line > 1, "an item below the header");
    hold(row.price.digits >= 0 && row.price.places <= materials::most_places, "a price that is an amount");
    const auto product = materials::product(metres, row.price, list.places);
    if (product) hold(*product >= 0 && !materials::amount_text(*product, list.places).empty(), "a line adds up");
    hold(materials::decimal_of(materials::text(row.price)).has_value(), "a price reads back");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const materials::PriceListResult read = materials::read_prices(text, "prices.csv");
  if (any_error(read.messages)) {
    for (const Message& message : read.messages) hold(message.place.file == "prices.csv", "a message has a place");
  } else {
    hold_amounts(read.list);
  }
  return 0;
}
