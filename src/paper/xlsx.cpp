#include "paper/xlsx.hpp"

#include <fmt/format.h>
#include <xlsxwriter.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <map>
#include <memory>
#include <set>
#include <stdexcept>
#include <system_error>

#include "base/file.hpp"
#include "base/utf8.hpp"
#include "paper/formula.hpp"

namespace zoneproof::paper {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostRows = LXW_ROW_MAX, kLongestName = LXW_SHEETNAME_MAX, kLongestText = 32767;
constexpr double kNarrowest = 8.0, kWidest = 60.0;  ///< columns, in figures of the default font

/// A folder of our own, gone when this is.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string pattern = (fs::temp_directory_path() / "zoneproof-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("XLSX: no temporary folder can be made");
    path_ = pattern;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

void require(lxw_error error, const char* what) {
  if (error != LXW_NO_ERROR) throw std::runtime_error(fmt::format("XLSX: {}: {}", what, lxw_strerror(error)));
}

std::time_t seconds_of(const std::string& created) {
  const std::string date = created.empty() ? "1980-01-01T00:00:00Z" : created;
  std::tm time{};
  const char* end = strptime(date.c_str(), "%Y-%m-%dT%H:%M:%SZ", &time);
  if (end == nullptr || *end != '\0') throw std::invalid_argument("XLSX: the date is not in UTC");
  return timegm(&time);
}

/// Without blanks and stops at its ends, and without two blanks in a row.
std::string trimmed(const std::string& name) {
  std::string out;
  for (const char c : name)
    if (c != ' ' || (!out.empty() && out.back() != ' ')) out += c;
  while (!out.empty() && std::string_view(" ,;.-").find(out.back()) != std::string_view::npos) out.pop_back();
  return out;
}

/// Takes off the beginning of a word that has no room, where something is left before it.
void cut_word(std::string& name) {
  const std::size_t blank = name.rfind(' ');
  if (blank != std::string::npos && blank > 0) name.resize(blank);
}

/// What is left of a title as a name of a sheet: without the signs that none may have, at most 31 letters and whole
/// words, unique whatever the case (the rules of the format's common readers).
std::string sheet_name(const Table& table, std::set<std::string>& taken) {
  std::string name;
  std::size_t letters = 0;
  const std::string& wanted = table.title.empty() ? table.id : table.title;
  constexpr std::size_t for_number = 4;
  for (std::size_t at = 0; at < wanted.size() && letters < kLongestName - for_number;) {
    const Utf8Step step = utf8_at(wanted, at);
    const bool fit = step.valid && step.code_point >= 0x20 && step.code_point < 0x10000 &&
                     std::string_view("[]:*?/\\'").find(wanted[at]) == std::string_view::npos;
    name += fit ? wanted.substr(at, step.size) : " ";
    at += step.size;
    ++letters;
    if (letters == kLongestName - for_number && at < wanted.size() && wanted[at] != ' ') cut_word(name);
  }
  name = trimmed(name);
  if (name.empty()) name = trimmed(table.id);
  const auto lower = [](std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
  };
  std::string unique = name;
  for (int number = 2; !taken.insert(lower(unique)).second; ++number) unique = fmt::format("{} {}", name, number);
  return unique;
}

std::string shown_text(const std::string& says) {
  std::string text = printable(says, says.size());
  if (utf8_length(text) > kLongestText) throw std::runtime_error("XLSX: a text is longer than a cell may be");
  return text;
}

class SheetWriter {
 public:
  SheetWriter(lxw_workbook* book, const Table& table, const std::string& name) : book_(book), table_(table) {
    sheet_ = workbook_add_worksheet(book, name.c_str());
    if (sheet_ == nullptr) throw std::runtime_error("XLSX: no sheet can be added");
    first_ = has_groups(table) ? 1 : 0;
    widths_.assign(first_ + table.columns.size(), kNarrowest);
  }

  void run() {
    lxw_format* head = format("head");
    format_set_bold(head);
    format_set_text_wrap(head);
    format_set_bottom(head, LXW_BORDER_THIN);
    if (first_ == 1) put(0, 0, group_heading(table_), head);
    for (std::size_t i = 0; i < table_.columns.size(); ++i) put(0, first_ + i, full_heading(table_.columns[i]), head);
    lxw_row_t row = 1;
    for (const Group& group : table_.groups) {
      const lxw_row_t begin = row;
      for (const Row& one : group.rows) write(group, one, begin, row++);
    }
    for (const std::string& note : table_.notes)
      require(worksheet_write_string(sheet_, ++row, 0, shown_text(note).c_str(), nullptr), "a note");
    for (std::size_t i = 0; i < widths_.size(); ++i)
      require(worksheet_set_column(sheet_, column(i), column(i), std::min(widths_[i], kWidest), nullptr), "a width");
    worksheet_freeze_panes(sheet_, 1, 0);
    require(worksheet_repeat_rows(sheet_, 0, 0), "the head");
    worksheet_set_landscape(sheet_);
    worksheet_fit_to_pages(sheet_, 1, 0);
  }

 private:
  static lxw_col_t column(std::size_t index) { return static_cast<lxw_col_t>(index); }

  /// Formats are shared by name.
  lxw_format* format(const std::string& key) {
    lxw_format*& found = formats_[key];
    if (found == nullptr) found = workbook_add_format(book_);
    return found;
  }

  lxw_format* number_format(const Number& number, const Column& in, bool strong) {
    std::string pattern = number.kind == Digits::decimals ? "0" : "General";
    if (number.kind == Digits::decimals && number.digits > 0)
      pattern += "." + std::string(static_cast<std::size_t>(number.digits), '0');
    if (!number.unit.empty() && number.unit != in.unit) {
      if (number.kind == Digits::significant) pattern = "0.######";
      pattern += fmt::format("\" {}\"", shown_unit(number.unit));
    }
    lxw_format* made = format(fmt::format("number {} {}", strong, pattern));
    if (pattern != "General") format_set_num_format(made, pattern.c_str());
    if (strong) format_set_bold(made);
    return made;
  }

  lxw_format* blank_format() {
    lxw_format* made = format("blank");
    format_set_bottom(made, LXW_BORDER_HAIR);
    return made;
  }

  lxw_format* text_format(bool strong) {
    if (!strong) return nullptr;
    lxw_format* made = format("strong");
    format_set_bold(made);
    return made;
  }

  void widen(std::size_t index, const std::string& says) {
    widths_[index] = std::max(widths_[index], static_cast<double>(utf8_length(says)) + 2.0);
  }

  void put(lxw_row_t row, std::size_t index, const std::string& says, lxw_format* as) {
    const std::string text = shown_text(says);
    if (row > 0 || static_cast<double>(utf8_length(text)) <= kWidest / 2) widen(index, text);
    require(worksheet_write_string(sheet_, row, column(index), text.c_str(), as), "a text");
  }

  std::string cell_name(lxw_row_t row, std::size_t index) const {
    char name[LXW_MAX_CELL_NAME_LENGTH];
    lxw_rowcol_to_cell(name, row, column(index));
    return name;
  }

  /// "SUM({sum:above})" with the places of the sheet; of no rows above, the empty header cell's own column stands for
  /// 0.
  std::string formula(const Number& number, lxw_row_t begin_of_group, lxw_row_t row) const {
    return "=" + with_references(number.formula, [&](const Reference& reference) {
             const std::size_t index = first_ + column_named(table_, reference.column).value();
             if (reference.reach == Reach::same_row) return cell_name(row, index);
             const lxw_row_t from = reference.reach == Reach::above ? 1 : begin_of_group;
             return cell_name(from < row ? from : 0, index) + ":" + cell_name(from < row ? row - 1 : 0, index);
           });
  }

  void write(const Group& group, const Row& one, lxw_row_t begin_of_group, lxw_row_t row) {
    if (first_ == 1) put(row, 0, group.heading, text_format(one.strong));
    for (std::size_t i = 0; i < one.cells.size(); ++i) {
      const Cell& cell = one.cells[i];
      const Column& in = table_.columns[i];
      if (const auto* number = std::get_if<Number>(&cell)) {
        widen(first_ + i, words_of(cell, in));
        const double value = std::strtod(figures_of(*number).c_str(), nullptr);
        lxw_format* as = number_format(*number, in, one.strong);
        require(number->formula.empty()
                    ? worksheet_write_number(sheet_, row, column(first_ + i), value, as)
                    : worksheet_write_formula_num(sheet_, row, column(first_ + i),
                                                  formula(*number, begin_of_group, row).c_str(), as, value),
                "a number");
      } else if (std::holds_alternative<Blank>(cell) || std::holds_alternative<Tick>(cell)) {
        require(worksheet_write_blank(sheet_, row, column(first_ + i), blank_format()), "a blank");
      } else {
        put(row, first_ + i, words_of(cell, in), text_format(one.strong));
      }
    }
  }

  lxw_workbook* book_;
  const Table& table_;
  lxw_worksheet* sheet_ = nullptr;
  std::size_t first_ = 0;  ///< column of the table's first one: behind that of the groups
  std::map<std::string, lxw_format*> formats_;
  std::vector<double> widths_;
};

struct Freeing {
  void operator()(lxw_workbook* book) const { lxw_workbook_free(book); }
};

void set_properties(lxw_workbook* book, const WorkbookProperties& properties) {
  std::string title = properties.title, subject = properties.subject, keywords = properties.keywords;
  std::string maker = "zoneproof";
  lxw_doc_properties told{};
  told.title = title.data();
  told.subject = subject.data();
  told.keywords = keywords.data();
  told.author = maker.data();
  told.created = seconds_of(properties.created);
  require(workbook_set_properties(book, &told), "the properties");
}

}  // namespace

std::string xlsx(const std::vector<Table>& tables, const WorkbookProperties& properties) {
  if (tables.empty()) throw std::invalid_argument("XLSX: there is no table");
  for (const Table& table : tables) {
    require_sound(table);
    if (row_count(table) + table.notes.size() + 2 > kMostRows)
      throw std::runtime_error(fmt::format("XLSX: table {} has more rows than a sheet", table.id));
  }
  const TemporaryFolder folder;
  const std::string path = (folder.path() / "tables.xlsx").string(), inside = folder.path().string();
  std::string for_parts = inside;
  lxw_workbook_options options{};
  options.tmpdir = for_parts.data();
  std::unique_ptr<lxw_workbook, Freeing> book(workbook_new_opt(path.c_str(), &options));
  if (!book) throw std::runtime_error("XLSX: no workbook can be made");
  set_properties(book.get(), properties);
  std::set<std::string> names;
  for (const Table& table : tables) SheetWriter(book.get(), table, sheet_name(table, names)).run();
  require(workbook_close(book.release()), "the file");  // frees it as well
  std::vector<Message> messages;
  std::optional<std::string> bytes = read_file(path, messages);
  if (!bytes) throw std::runtime_error("XLSX: " + full_text(messages.front()));
  return *std::move(bytes);
}

}  // namespace zoneproof::paper
