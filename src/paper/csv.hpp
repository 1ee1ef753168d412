#pragma once
#include <string>

#include "paper/table.hpp"

namespace zoneproof::paper {

/// A table as comma-separated values (RFC 4180): UTF-8 without a byte order mark, lines that end in CR LF, one header
/// line with the units, then a line for each row. Where groups have headings a first column names the group of each
/// row. Figures are those of the paper, without their unit where the header has it; what is filled in by hand is empty;
/// a verdict is its word. Title and notes, which are no data, are left out.
///
/// A text that a spreadsheet would take for a formula (it begins, blanks apart, with = + - @, their full-width forms,
/// a tab or a line end: OWASP, "CSV Injection") gets an apostrophe before it. Control characters are made visible, as
/// on paper. Throws std::invalid_argument for a table that is none. Linear.
std::string csv(const Table& table);

}  // namespace zoneproof::paper
