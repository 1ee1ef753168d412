#pragma once
#include <vector>

#include "paper/strip.hpp"

namespace zoneproof::paper {

/// A table as strips: title, head, sub-headings, rows, notes. Every row is one strip, or several where it is higher
/// than a page; its group has the row's id. Throws std::invalid_argument for a table that is none.
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Table& table, const Room& room);

}  // namespace zoneproof::paper
