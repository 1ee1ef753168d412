#pragma once
#include <string>
#include <variant>
#include <vector>

#include "drawing/verdict_mark.hpp"

/// Tables as plain values: the same table goes to paper (`pages.hpp`), to CSV (`csv.hpp`) and to a spreadsheet
/// (`xlsx.hpp`), and says the same in each.
namespace zoneproof::paper {

/// Words. `link` is "#id" of a heading, row, figure or inserted sheet of the same document; on paper only.
struct Words {
  std::string says;
  std::string link = {};
  bool strong = false;
};

enum class Digits {
  decimals,    ///< so many behind the point, zeros kept: columns that are compared with a meter (`zoneproof::fixed`)
  significant  ///< so many in all; with a unit of its own as sentences have it, "5.6 kohm" (`zoneproof::shown`)
};

/// A finite number, in `unit` (a symbol of the key suffixes, as in `Measure`). Empty: the column's.
struct Number {
  double value = 0.0;
  int digits = 3;
  Digits kind = Digits::decimals;
  std::string unit = {};
  /// A spreadsheet computes it, too: `{column}` is the cell of that column in the same row, `{column:above}` those of
  /// all rows above, `{column:group}` those of the rows above in the same group. "{count}*{price}", "SUM({sum:above})".
  /// `value` must be what it gives. Empty: a plain number.
  std::string formula = {};
};

/// To be filled in by hand: a ruled field. What is not known is printed so, never as a guess. `width_mm` is the least
/// width of the rule: 14 mm take five handwritten figures.
struct Blank {
  double width_mm = 14.0;
};

/// A box to tick.
struct Tick {};

/// The mark with its word.
struct Verdict {
  drawing::VerdictMark mark = drawing::VerdictMark::unanswered;
  std::string word;
};

using Cell = std::variant<Words, Number, Blank, Tick, Verdict>;

/// Words alone: `said("Panel")`.
inline Cell said(std::string says) { return Words{std::move(says)}; }
/// Words where there are any, else a blank.
inline Cell said_or_blank(std::string says) { return says.empty() ? Cell{Blank{}} : Cell{Words{std::move(says)}}; }

struct Column {
  std::string id;  ///< letters, digits, '_'; unique in the table
  std::string heading;
  std::string unit = {};                        ///< of its numbers, told in the heading
  drawing::Align align = drawing::Align::left;  ///< left: where the text's own writing begins
  double weight = 1.0;                          ///< its share of room that is left over; 0: takes none
  double min_mm = 0.0;                          ///< it is at least so wide where the page allows it
  bool wrap = true;                             ///< false: a line is broken only where the page leaves no other way
  std::string over = {};                        ///< a heading above those of neighbours that have the same one
};

struct Row {
  std::vector<Cell> cells;  ///< one a column
  std::string id = {};      ///< that links lead to; empty: made of the table's id and the row's number
  bool strong = false;      ///< in bold, with a line above: sums
};

/// Rows under a heading of their own; an empty heading: none.
struct Group {
  std::string heading;
  std::vector<Row> rows;
};

struct Table {
  std::string id;     ///< unique in the document; begins with a letter
  std::string title;  ///< empty: none
  std::vector<Column> columns;
  std::vector<Group> groups;
  std::string grouped_by = {};          ///< what the groups' headings are: head of the column that tells them in files
  std::vector<std::string> notes = {};  ///< below it
  std::string says_empty = {};          ///< stands in its place where it has no row; empty: head and nothing below
};

/// What makes a table none: a row with more or fewer cells than columns, ids badly formed or used twice, no column, a
/// number that is not finite, a formula with a column that is not there. Sentences for those who write tables.
std::vector<std::string> faults(const Table& table);
/// Throws std::invalid_argument with the faults.
void require_sound(const Table& table);

/// The id of row `number` (from 1, over all groups), as links name it.
std::string row_id(const Table& table, const Row& row, std::size_t number);

/// What stands in a cell: words, figures with their unit where it is not the column's; empty for what is filled in by
/// hand.
std::string words_of(const Cell& cell, const Column& column);
/// The figures alone, as `words_of` shows them where the unit stands in the heading.
std::string figures_of(const Number& number);
/// "Rest, lowest (V)": all that tells a column, on one line.
std::string full_heading(const Column& column);
/// "ohm", "V", "%", "°C": how a unit is shown.
std::string shown_unit(const std::string& unit);
/// Whether any group has a heading: files then have a column for it, before the others.
bool has_groups(const Table& table);
/// Its head.
std::string group_heading(const Table& table);
std::size_t row_count(const Table& table);

}  // namespace zoneproof::paper
