#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "materials/decimal.hpp"

/// The installer's own price list: a table (docs/guide/materials.md) with the columns
///
///   item      id or name of a part of the site or the shelf; a task of the costs file; or "labour": one hour of work
///   unit      piece, m, hour or task
///   price     of one, without tax: a decimal number; which sign it has is told from all numbers of the list
///             (decimal_sign.hpp)
///   currency  the same in every row: the code of ISO 4217, or any word with `places` given
///   tax_pct   optional column: the rate of this row in percent, 0 to 100; empty: not known
///   places    optional column: decimal places of the currency, the same in every row; needed where the code is unknown
///   note      optional column
namespace zoneproof::materials {

enum class PriceUnit { piece, metre, hour, task };
const char* word(PriceUnit unit);

struct PriceRow {
  std::string item;  ///< as it stands there, without blanks around
  PriceUnit unit = PriceUnit::piece;
  Decimal price;
  std::optional<Decimal> tax_pct;
  std::string note;
  int line = 0;  ///< in the file, from 1
  int item_column = 0, unit_column = 0;
};

struct PriceList {
  std::string file;      ///< as messages call it
  std::string currency;  ///< empty: the list has no rows
  int places = 0;        ///< decimal places of an amount of money
  std::vector<PriceRow> rows;
};

struct PriceListResult {
  PriceList list;
  std::vector<Message> messages;  ///< every fault with line and column; with any error the list is not to be used
};

/// The item whose price is that of an hour of work.
inline constexpr const char* kLabour = "labour";

/// An item's name as it is compared: capitals do not count.
std::string folded_item(std::string item);

/// Reads comma, semicolon or tab separated values (site/csv.hpp). What a list has against a site: price_check.hpp.
PriceListResult read_prices(std::string_view text, const std::string& file);

/// Decimal places of the amounts of a currency by its code of three letters; nothing for what is not known
/// (data/costs/currencies.json).
std::optional<int> places_of_currency(std::string_view code);

}  // namespace zoneproof::materials
