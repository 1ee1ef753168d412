#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "messages/draft.hpp"
#include "site/csv.hpp"
#include "site/findings.hpp"
#include "site/model.hpp"
#include "site/words.hpp"

/// The table of zones that a draft is made from: its columns, and what stands in a cell.
namespace zoneproof::site {

/// What is said of a draft, with the place in the table.
class DraftMessages {
 public:
  explicit DraftMessages(const std::string& file) : file_(file) {}

  const std::string& file() const { return file_; }
  Place place_of(const CsvCell& cell) const { return {file_, "", cell.line, cell.column, false}; }

  /// A fault of a cell; after many of them no more are told.
  void complain(Message message, const CsvCell& cell);
  /// Something that has to be known of a cell, however much was said already.
  void tell(Message message, const CsvCell& cell) { all.push_back(std::move(message).at(place_of(cell))); }
  /// What belongs to no cell.
  void note(Message message) { all.push_back(std::move(message)); }
  /// By line and column; what belongs to no line first.
  void sort_by_line();

  std::vector<Message> all;

 private:
  std::string file_;
};

/// Letters in lower case, with blanks, points and hyphens as underscores: "Zone name" is zone_name.
std::string plain_word(std::string_view text);
std::string without_blanks_around(std::string_view text);

template <class E>
std::vector<std::string> words_of() {
  return {Words<E>::all.begin(), Words<E>::all.end()};
}

using DraftRow = std::vector<CsvCell>;

/// Cells of one table by the column's name. Every answer is empty where the table has no such column or the cell is
/// empty; a cell that is not what its column takes is complained of, once for each question.
class DraftTable {
 public:
  explicit DraftTable(DraftMessages& messages) : messages_(messages), findings_(messages.file()) {}

  /// In a table whose cells are not separated by commas, a comma may be the decimal sign and a point a thousands mark.
  void commas_are_free() { decimal_comma_ = true; }

  /// False, with a message, where no column tells the zones apart.
  bool read_header(const DraftRow& row);

  const CsvCell* cell(const DraftRow& row, const char* column) const;
  std::string words(const DraftRow& row, const char* column) const;
  std::optional<long long> count(const DraftRow& row, const char* column);
  std::optional<bool> flag(const DraftRow& row, const char* column);
  std::optional<Arrangement> arrangement(const DraftRow& row);
  Value number(const DraftRow& row, const char* column, std::string_view unit);
  /// A resistor by its code or as a number; its tolerance from the code, else `row_tolerance_pct`.
  Value resistor(const DraftRow& row, const char* column, std::optional<double> row_tolerance_pct);

  template <class E>
  std::optional<E> word(const DraftRow& row, const char* column) {
    const CsvCell* found = cell(row, column);
    if (found == nullptr) return std::nullopt;
    const std::optional<E> value = from_word<E>(plain_word(found->text));
    if (!value) {
      messages_.complain(say::draft_word(without_blanks_around(found->text), column, words_of<E>()), *found);
    }
    return value;
  }

  /// How many resistors were given without any tolerance.
  long long exact_resistors() const { return exact_resistors_; }

 private:
  /// Complains of a number that could be two.
  bool doubtful(const CsvCell& cell);

  DraftMessages& messages_;
  Findings findings_;  ///< for its spelling only
  std::map<std::string, std::size_t> columns_;
  bool decimal_comma_ = false;
  long long exact_resistors_ = 0;
};

}  // namespace zoneproof::site
