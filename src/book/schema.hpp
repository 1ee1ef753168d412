#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/store.hpp"

/// The tables of a book and how older ones become newer ones: numbered steps, forward only, in SQL that both databases
/// take (data/book/NNN-name.sql, inside the program).
namespace zoneproof::book {

struct Migration {
  int number = 0;        ///< from 1, without gaps; a book's schema is the number of the last that was run
  std::string_view sql;  ///< statements that end in ";" at the end of a line; {text}, {whole}, {strict}
};

/// Those of this program.
const std::vector<Migration>& migrations();

/// Number of the schema that the book has; 0: no tables yet; nothing: there are tables, but they are not ours.
std::optional<int> schema_of(Store& store);

/// Runs the steps above `from`, up to `to`, inside the caller's Writing. The caller has looked that they are wanted.
void migrate(Store& store, const std::vector<Migration>& steps, int from, int to);

/// Removes every table of a book in which nothing stands, inside the caller's Writing.
void drop_tables(Store& store);

}  // namespace zoneproof::book
