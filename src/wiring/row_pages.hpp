#pragma once
#include <functional>
#include <string>
#include <vector>

#include "wiring/page.hpp"
#include "wiring/row.hpp"

namespace zoneproof::wiring {

/// Sheets of rows, one below the other.
struct RowSet {
  std::string id;  ///< "wiring-unit_a": the pages are this and their number in the set
  std::string title;
  std::vector<std::string> key;
  std::function<Rows(const Context&)> rows;  ///< made anew for each paper that is tried
  std::set<std::string> things;              ///< that all its sheets show
};

/// On the first paper that holds them; `first` is the number of the first sheet. None where there are no rows. Throws
/// std::length_error where even A0 holds them not.
std::vector<Page> row_pages(Context context, const RowSet& set, int first);

}  // namespace zoneproof::wiring
