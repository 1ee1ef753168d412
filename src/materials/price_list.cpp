#include "materials/price_list.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <nlohmann/json.hpp>

#include "base/embedded.hpp"
#include "materials/decimal_sign.hpp"
#include "messages/materials.hpp"
#include "site/csv.hpp"
#include "site/draft_table.hpp"

namespace zoneproof::materials {

namespace {

using site::CsvCell;

constexpr const char* kCurrencies = "costs/currencies.json";
/// A wholesaler's whole catalogue is longer than any site needs, and still no mistake.
constexpr std::size_t kMostRows = 200'000;
constexpr std::array<const char*, 7> kColumns = {"item", "unit", "price", "currency", "tax_pct", "places", "note"};
constexpr std::array<const char*, 4> kNeeded = {"item", "unit", "price", "currency"};
constexpr int kMostPlaces = 4;    // of any currency in ISO 4217
constexpr int kMostTaxPct = 100;  // no tax on a sale is higher than the price: what is above is a slip, 1900 for 19.00

const std::map<std::string, PriceUnit, std::less<>>& units() {
  static const std::map<std::string, PriceUnit, std::less<>> all = {
      {"piece", PriceUnit::piece}, {"m", PriceUnit::metre}, {"hour", PriceUnit::hour}, {"task", PriceUnit::task}};
  return all;
}

class Reader {
 public:
  explicit Reader(const std::string& file) : messages_(file) {}

  PriceListResult read(std::string_view text) {
    const site::CsvTable table = site::read_csv(text, messages_.file(), kMostRows);
    PriceListResult result;
    if (any_error(table.messages)) {
      result.messages = table.messages;
      return result;
    }
    list_.file = messages_.file();
    if (table.rows.empty()) {
      messages_.note(say::prices_no_rows().at({messages_.file(), "", 0, 0, false}));
    } else if (header(table.rows.front())) {
      for (std::size_t i = 1; i < table.rows.size(); ++i) look_at_signs(table.rows[i]);
      for (std::size_t i = 1; i < table.rows.size(); ++i) row(table.rows[i]);
      finish();
    }
    messages_.sort_by_line();
    result.messages = std::move(messages_.all);
    result.list = std::move(list_);
    return result;
  }

 private:
  bool header(const std::vector<CsvCell>& cells) {
    const std::vector<std::string> known(kColumns.begin(), kColumns.end());
    const auto is_column = [&](const CsvCell& cell) {
      return std::find(known.begin(), known.end(), site::plain_word(cell.text)) != known.end();
    };
    if (std::none_of(cells.begin(), cells.end(), is_column)) {
      messages_.complain(say::prices_no_header(known), cells.front());
      return false;
    }
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string name = site::plain_word(cells[i].text);
      if (!is_column(cells[i])) {
        messages_.complain(say::prices_column(site::without_blanks_around(cells[i].text), known), cells[i]);
      } else if (!columns_.emplace(name, i).second) {
        messages_.complain(say::prices_column_twice(name), cells[i]);
      }
    }
    std::vector<std::string> missing;
    for (const char* name : kNeeded)
      if (columns_.count(name) == 0) missing.emplace_back(name);
    if (!missing.empty()) messages_.complain(say::prices_no_column(missing), cells.front());
    return !any_error(messages_.all);
  }

  const CsvCell* cell(const std::vector<CsvCell>& cells, const char* column) const {
    const auto at = columns_.find(column);
    return at == columns_.end() || at->second >= cells.size() ? nullptr : &cells[at->second];
  }
  std::string words(const std::vector<CsvCell>& cells, const char* column) const {
    const CsvCell* found = cell(cells, column);
    return found == nullptr ? std::string() : site::without_blanks_around(found->text);
  }

  std::optional<Decimal> number(const std::vector<CsvCell>& cells, const char* column) {
    const CsvCell& found = *cell(cells, column);
    const std::string text = words(cells, column);
    if (signs_.stays_open(text)) {
      ask_back(text, found);
      return std::nullopt;
    }
    const std::optional<Decimal> value = signs_.value_of(text);
    if (!value) messages_.complain(say::prices_not_a_number(text, column), found);
    return value;
  }

  void look_at_signs(const std::vector<CsvCell>& cells) {
    for (const char* column : {"price", "tax_pct"}) signs_.see(words(cells, column), cells.front().line);
  }

  void ask_back(const std::string& open, const CsvCell& at) {
    const std::string whole = text(read_as_thousands(open)), parts = text(read_as_decimal(open));
    const int point = signs_.line_with_point(), comma = signs_.line_with_comma();
    messages_.complain(point != 0 ? say::prices_two_signs(open, point, comma, whole, parts)
                                  : say::prices_may_be_thousands(open, whole, parts),
                       at);
  }

  std::optional<Decimal> tax(const std::vector<CsvCell>& cells) {
    const std::string text = words(cells, "tax_pct");
    if (text.empty()) return std::nullopt;
    const std::optional<Decimal> rate = number(cells, "tax_pct");
    if (!rate) return std::nullopt;
    std::int64_t one = 1;
    for (int place = 0; place < rate->places; ++place) one *= 10;
    if (rate->digits <= kMostTaxPct * one) return rate;
    messages_.complain(say::prices_tax(text, kMostTaxPct), *cell(cells, "tax_pct"));
    return std::nullopt;
  }

  void row(const std::vector<CsvCell>& cells) {
    PriceRow row;
    row.line = cells.front().line;
    row.item = words(cells, "item");
    row.note = words(cells, "note");
    if (row.item.empty()) return messages_.complain(say::prices_no_item(), *cell(cells, "item"));
    const auto unit = units().find(site::plain_word(words(cells, "unit")));
    if (unit == units().end()) {
      messages_.complain(say::prices_unit(words(cells, "unit")), *cell(cells, "unit"));
      return;
    }
    row.unit = unit->second;
    row.item_column = cell(cells, "item")->column;
    row.unit_column = cell(cells, "unit")->column;
    const auto [first, fresh] = lines_.emplace(std::pair(folded_item(row.item), row.unit), row.line);
    if (!fresh) messages_.complain(say::prices_twice(row.item, first->second), *cell(cells, "item"));
    currency(cells);
    places(cells);
    row.tax_pct = tax(cells);
    const std::optional<Decimal> price = number(cells, "price");
    if (!price) return;
    row.price = *price;
    list_.rows.push_back(std::move(row));
  }

  void currency(const std::vector<CsvCell>& cells) {
    const CsvCell& found = *cell(cells, "currency");
    const std::string word = words(cells, "currency");
    if (word.empty()) return messages_.complain(say::prices_no_currency(), found);
    if (list_.currency.empty()) {
      list_.currency = word;
      currency_cell_ = found;
    }
    if (word != list_.currency) messages_.complain(say::prices_other_currency(word, list_.currency), found);
  }

  void places(const std::vector<CsvCell>& cells) {
    const std::string text = words(cells, "places");
    if (text.empty()) return;
    const CsvCell& found = *cell(cells, "places");
    const std::optional<Decimal> value = decimal_of(text);
    if (!value || value->places != 0 || value->digits > kMostPlaces)
      return messages_.complain(say::prices_places(text, kMostPlaces), found);
    const int stated = static_cast<int>(value->digits);
    if (places_ && *places_ != stated) messages_.complain(say::prices_other_places(stated, *places_), found);
    if (!places_) places_ = stated;
  }

  void finish() {
    if (list_.rows.empty() && !any_error(messages_.all))
      messages_.note(say::prices_no_rows().at({messages_.file(), "", 0, 0, false}));
    if (list_.currency.empty()) return;
    const std::optional<int> known = places_of_currency(list_.currency);
    if (!places_ && !known && !any_error(messages_.all))
      messages_.complain(say::prices_places_unknown(list_.currency), currency_cell_);
    list_.places = places_.value_or(known.value_or(0));
  }

  site::DraftMessages messages_;
  PriceList list_;
  std::map<std::string, std::size_t> columns_;
  std::map<std::pair<std::string, PriceUnit>, int> lines_;
  std::optional<int> places_;
  CsvCell currency_cell_;
  DecimalSigns signs_;
};

}  // namespace

const char* word(PriceUnit unit) {
  switch (unit) {
    case PriceUnit::piece: return "piece";
    case PriceUnit::metre: return "m";
    case PriceUnit::hour: return "hour";
    default: return "task";
  }
}

std::optional<int> places_of_currency(std::string_view code) {
  static const std::map<std::string, int, std::less<>> all =
      nlohmann::json::parse(embedded_file(kCurrencies)).at("places").get<std::map<std::string, int, std::less<>>>();
  const auto found = all.find(code);
  return found == all.end() ? std::nullopt : std::optional(found->second);
}

std::string folded_item(std::string item) {
  for (char& letter : item) letter = static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  return item;
}

PriceListResult read_prices(std::string_view text, const std::string& file) { return Reader(file).read(text); }

}  // namespace zoneproof::materials
