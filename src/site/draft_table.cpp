#include "site/draft_table.hpp"

#include <algorithm>
#include <array>

#include "site/draft.hpp"
#include "site/resistor_mark.hpp"
#include "site/unit.hpp"

namespace zoneproof::site {

namespace {

constexpr std::size_t kMostMessages = 200;

/// Other headings that offices use for a column.
struct OtherHeading {
  std::string_view heading, column;
};
constexpr std::array<OtherHeading, 12> kOtherHeadings = {{{"zone", "number"},
                                                          {"no", "number"},
                                                          {"zone_number", "number"},
                                                          {"zone_name", "name"},
                                                          {"zone_type", "type"},
                                                          {"loop", "arrangement"},
                                                          {"eol", "eol_ohm"},
                                                          {"detector_part", "detector"},
                                                          {"cable_part", "cable"},
                                                          {"cable_length_m", "cable_m"},
                                                          {"length_m", "cable_m"},
                                                          {"panel_input", "input"}}};

/// Short forms of the trade that mean one arrangement and no other. "EOL" alone does not.
struct ShortArrangement {
  std::string_view letters;
  Arrangement arrangement;
};
constexpr std::array<ShortArrangement, 4> kShortArrangements = {{{"nc", Arrangement::normally_closed},
                                                                 {"no", Arrangement::normally_open},
                                                                 {"deol", Arrangement::double_eol},
                                                                 {"teol", Arrangement::triple_eol}}};

Value known(double number, std::optional<double> tolerance_pct) {
  Value value;
  value.state = Value::State::known;
  value.nominal = value.low = value.high = number;
  if (!tolerance_pct) return value;
  value.spread = Spread::tolerance_pct;
  value.stated_plus = value.stated_minus = *tolerance_pct;
  value.low = number * (1.0 - *tolerance_pct / 100.0);
  value.high = number * (1.0 + *tolerance_pct / 100.0);
  return value;
}

}  // namespace

void DraftMessages::complain(Message message, const CsvCell& cell) {
  if (all.size() < kMostMessages) tell(std::move(message), cell);
}

void DraftMessages::sort_by_line() {
  std::stable_sort(all.begin(), all.end(), [](const Message& a, const Message& b) {
    return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
  });
}

std::string without_blanks_around(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

std::string plain_word(std::string_view text) {
  std::string out;
  for (char letter : without_blanks_around(text)) {
    const bool upper = letter >= 'A' && letter <= 'Z';
    const bool joins = letter == ' ' || letter == '-' || letter == '.';
    out += upper ? static_cast<char>(letter - 'A' + 'a') : joins ? '_' : letter;
  }
  return out;
}

bool DraftTable::read_header(const DraftRow& row) {
  for (std::size_t i = 0; i < row.size(); ++i) {
    std::string column = plain_word(row[i].text);
    for (const OtherHeading& other : kOtherHeadings) {
      if (column == other.heading) column = other.column;
    }
    const std::vector<std::string>& known = draft_columns();
    if (std::find(known.begin(), known.end(), column) == known.end()) {
      const std::string near = findings_.nearest(column, known);
      messages_.complain(
          near.empty() ? say::draft_column(row[i].text, known) : say::draft_column_near(row[i].text, near), row[i]);
    } else if (!columns_.emplace(column, i).second) {
      messages_.complain(say::draft_column_twice(column), row[i]);
    }
  }
  const bool zones_told_apart = columns_.count("number") != 0 || columns_.count("name") != 0;
  if (!zones_told_apart) messages_.complain(say::draft_no_zone_column(), row.front());
  return zones_told_apart;
}

const CsvCell* DraftTable::cell(const DraftRow& row, const char* column) const {
  const auto found = columns_.find(column);
  if (found == columns_.end() || found->second >= row.size()) return nullptr;
  if (without_blanks_around(row[found->second].text).empty()) return nullptr;
  return &row[found->second];
}

std::string DraftTable::words(const DraftRow& row, const char* column) const {
  const CsvCell* found = cell(row, column);
  return found != nullptr ? without_blanks_around(found->text) : "";
}

std::optional<long long> DraftTable::count(const DraftRow& row, const char* column) {
  const CsvCell* found = cell(row, column);
  if (found == nullptr) return std::nullopt;
  const std::string text = without_blanks_around(found->text);
  if (text.size() > 9 || text.find_first_not_of("0123456789") != std::string::npos) {
    messages_.complain(say::draft_not_whole(text, column), *found);
    return std::nullopt;
  }
  return std::stoll(text);
}

std::optional<bool> DraftTable::flag(const DraftRow& row, const char* column) {
  const CsvCell* found = cell(row, column);
  if (found == nullptr) return std::nullopt;
  const std::string word = plain_word(found->text);
  if (word == "yes" || word == "true" || word == "1") return true;
  if (word == "no" || word == "false" || word == "0") return false;
  messages_.complain(say::draft_not_yes_or_no(without_blanks_around(found->text), column), *found);
  return std::nullopt;
}

std::optional<Arrangement> DraftTable::arrangement(const DraftRow& row) {
  const std::string text = plain_word(words(row, "arrangement"));
  for (const ShortArrangement& known : kShortArrangements) {
    if (text == known.letters) return known.arrangement;
  }
  return word<Arrangement>(row, "arrangement");
}

bool DraftTable::doubtful(const CsvCell& cell) {
  const std::string text = without_blanks_around(cell.text);
  if (!may_be_thousands(text, decimal_comma_)) return false;
  messages_.complain(say::draft_may_be_thousands(text), cell);
  return true;
}

Value DraftTable::number(const DraftRow& row, const char* column, std::string_view unit) {
  Value value;
  const CsvCell* found = cell(row, column);
  if (found == nullptr || doubtful(*found)) return value;
  if (const auto read = number_in_text(without_blanks_around(found->text), unit)) return known(*read, std::nullopt);
  messages_.complain(say::draft_not_a_number(without_blanks_around(found->text), column, std::string(unit)), *found);
  return value;
}

Value DraftTable::resistor(const DraftRow& row, const char* column, std::optional<double> row_tolerance_pct) {
  const CsvCell* found = cell(row, column);
  if (found == nullptr || doubtful(*found)) return {};
  const std::string text = without_blanks_around(found->text);
  std::optional<ResistorMark> mark = resistor_mark(text);
  if (!mark) {
    if (const auto read = number_in_text(text, "ohm")) mark = ResistorMark{*read, std::nullopt};
  }
  if (!mark) {
    messages_.complain(say::draft_not_a_resistor(text, column), *found);
    return {};
  }
  const std::optional<double> tolerance = mark->tolerance_pct ? mark->tolerance_pct : row_tolerance_pct;
  exact_resistors_ += tolerance ? 0 : 1;
  return known(mark->ohm, tolerance);
}

const std::vector<std::string>& draft_columns() {
  static const std::vector<std::string> columns = {
      "number",   "name",          "type",        "partition",  "area",
      "medium",   "input",         "arrangement", "eol_ohm",    "alarm_ohm",
      "mask_ohm", "tolerance_pct", "eol_place",   "detector",   "contacts_complete",
      "cable",    "cable_m",       "trigger",     "unit_input", "channel"};
  return columns;
}

}  // namespace zoneproof::site
