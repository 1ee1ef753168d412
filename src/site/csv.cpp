#include "site/csv.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "base/utf8.hpp"
#include "messages/base.hpp"
#include "messages/draft.hpp"

namespace zoneproof::site {

namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
/// Faults that are listed; a file that is no table at all has one on every line.
constexpr std::size_t kMostFaults = 25;

/// What spreadsheets write above a table to tell its separator: "sep=;" alone in the first line.
constexpr std::string_view kStatedSeparator = "sep=";

bool is_line_end(char letter) { return letter == '\n' || letter == '\r'; }

/// The separator of such a line, if the text begins with one.
std::optional<char> stated_separator(std::string_view text) {
  const std::size_t at = kStatedSeparator.size();
  if (text.size() <= at) return std::nullopt;
  for (std::size_t i = 0; i < at; ++i) {
    if (text[i] != kStatedSeparator[i] && text[i] != kStatedSeparator[i] - ('a' - 'A')) return std::nullopt;
  }
  const bool alone = text.size() == at + 1 || is_line_end(text[at + 1]);
  return alone && !is_line_end(text[at]) && text[at] != '"' ? std::optional(text[at]) : std::nullopt;
}

bool blank(const CsvCell& cell) { return cell.text.find_first_not_of(" \t\r\n") == std::string::npos; }

/// The separator that stands most often in the first line, outside quotes; a comma where none does.
char separator_of(std::string_view text) {
  constexpr std::array<char, 3> candidates = {',', ';', '\t'};
  std::array<int, 3> counts = {};
  bool quoted = false;
  for (char letter : text) {
    if (letter == '"') quoted = !quoted;
    if (quoted) continue;
    if (is_line_end(letter)) break;
    for (std::size_t i = 0; i < candidates.size(); ++i) counts[i] += letter == candidates[i] ? 1 : 0;
  }
  const auto most = std::max_element(counts.begin(), counts.end());
  return candidates[static_cast<std::size_t>(most - counts.begin())];
}

class Reader {
 public:
  Reader(std::string_view text, const std::string& file, std::size_t most_rows)
      : text_(text), file_(file), most_rows_(most_rows) {
    const std::optional<char> stated = stated_separator(text);
    table_.separator = stated.value_or(separator_of(text));
    if (!stated) return;
    at_ = kStatedSeparator.size() + 1;
    end_line();
  }

  CsvTable read() {
    while (at_ < text_.size() && table_.messages.size() < kMostFaults) {
      if (table_.rows.size() == most_rows_) {
        complain(say::csv_too_long(static_cast<long long>(most_rows_)), line_, 1);
        break;
      }
      read_row();
    }
    trim_rows();
    check_widths();
    std::stable_sort(table_.messages.begin(), table_.messages.end(), [](const Message& a, const Message& b) {
      return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
    });
    return std::move(table_);
  }

 private:
  void complain(Message message, int line, int column) {
    if (table_.messages.size() < kMostFaults)
      table_.messages.push_back(std::move(message).at({file_, "", line, column, false}));
  }

  /// One character; counts columns in code points.
  char take() {
    const char letter = text_[at_++];
    if ((static_cast<unsigned char>(letter) & 0xC0U) != 0x80U) ++column_;
    return letter;
  }
  bool at_line_end() const { return at_ == text_.size() || is_line_end(text_[at_]); }
  void end_line() {
    if (at_ < text_.size()) at_ += text_.substr(at_, 2) == "\r\n" ? 2 : 1;
    ++line_;
    column_ = 1;
  }

  void read_row() {
    std::vector<CsvCell> row;
    const int line = line_;
    for (bool more = true; more;) {
      row.push_back(read_field());
      more = !at_line_end();
      if (more) take();  // the separator
    }
    end_line();
    if (quote_open_) open_row_ = line;
    if (row.size() > 1 || !row.front().text.empty()) table_.rows.push_back(std::move(row));
  }

  CsvCell read_field() {
    CsvCell cell = {"", line_, column_};
    if (at_ < text_.size() && text_[at_] == '"') {
      read_quoted(cell);
      return cell;
    }
    bool quote = false;
    while (!at_line_end() && text_[at_] != table_.separator) {
      const int column = column_;
      const char letter = take();
      if (letter == '"' && !quote) complain(say::csv_stray_quote(), line_, column);
      quote = quote || letter == '"';
      cell.text += letter;
    }
    return cell;
  }

  void read_quoted(CsvCell& cell) {
    take();
    while (at_ < text_.size()) {
      if (text_[at_] == '"') {
        take();
        if (at_ == text_.size() || text_[at_] != '"') return after_quote();
        take();
        cell.text += '"';
      } else if (is_line_end(text_[at_])) {
        const std::size_t before = at_;
        end_line();
        cell.text += text_.substr(before, at_ - before);
      } else {
        cell.text += take();
      }
    }
    complain(say::csv_quote_open(), cell.line, cell.column);
    quote_open_ = true;
  }

  void after_quote() {
    if (at_line_end() || text_[at_] == table_.separator) return;
    complain(say::csv_after_quote(), line_, column_);
    while (!at_line_end() && text_[at_] != table_.separator) take();
  }

  /// Spreadsheets write every column and row that was ever touched: empty columns at the end of the header and empty
  /// cells beyond it, and rows of separators alone.
  void trim_rows() {
    auto& rows = table_.rows;
    if (rows.empty()) return;
    rows.erase(std::remove_if(rows.begin(), rows.end(),
                              [](const auto& row) { return std::all_of(row.begin(), row.end(), blank); }),
               rows.end());
    if (rows.empty()) return;
    while (blank(rows.front().back())) rows.front().pop_back();
    for (auto& row : rows) {
      while (row.size() > rows.front().size() && blank(row.back())) row.pop_back();
    }
  }

  /// RFC 4180 section 2, rule 4: each line has the same number of fields.
  void check_widths() {
    if (table_.rows.empty()) return;
    const auto wanted = static_cast<long long>(table_.rows.front().size());
    for (const std::vector<CsvCell>& row : table_.rows) {
      if (row.front().line == open_row_) continue;  // its last cell took what belongs to the next ones
      const auto found = static_cast<long long>(row.size());
      if (found != wanted) complain(say::csv_width(found, wanted), row.front().line, 1);
    }
  }

  std::string_view text_;
  const std::string& file_;
  std::size_t most_rows_;
  CsvTable table_;
  std::size_t at_ = 0;
  int line_ = 1, column_ = 1;
  bool quote_open_ = false;
  int open_row_ = 0;  ///< line of the row in which a quotation mark is never closed
};

/// What the text is where it is no table at all.
std::optional<Message> no_table(std::string_view text, const std::string& file) {
  const auto in_line_of = [&](std::size_t at, Message message) {
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(at);
    return std::move(message).at({file, "", static_cast<int>(1 + std::count(text.begin(), end, '\n')), 1, false});
  };
  for (std::string_view mark : {"\xFF\xFE", "\xFE\xFF"}) {
    if (text.substr(0, mark.size()) == mark) return say::json_utf16().at({file, "", 0, 0, false});
  }
  const std::size_t zero = text.find('\0'), invalid = first_invalid_utf8(text);
  if (zero != std::string_view::npos && zero < invalid) return in_line_of(zero, say::csv_zero_byte());
  if (invalid != std::string_view::npos) return in_line_of(invalid, say::csv_not_utf8());
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos || (text[first] != '{' && text[first] != '[')) return std::nullopt;
  return in_line_of(first, say::csv_is_json());
}

}  // namespace

CsvTable read_csv(std::string_view text, const std::string& file, std::size_t most_rows) {
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) text.remove_prefix(kByteOrderMark.size());
  if (std::optional<Message> message = no_table(text, file)) {
    CsvTable refused;
    refused.messages.push_back(std::move(*message));
    return refused;
  }
  return Reader(text, file, most_rows).read();
}

}  // namespace zoneproof::site
