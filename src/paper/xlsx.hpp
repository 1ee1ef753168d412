#pragma once
#include <string>
#include <vector>

#include "paper/table.hpp"

namespace zoneproof::paper {

struct WorkbookProperties {
  std::string title, subject, keywords;
  std::string created;  ///< "2026-03-01T12:00:00Z" (RFC 3339, in UTC): of the revision; empty: not known
};

/// Tables as a spreadsheet (ISO/IEC 29500, written by libxlsxwriter), a sheet each, named after the table's title.
/// Figures are numbers, rounded as the paper shows them, with a format that shows as many digits; formulas carry their
/// value. The first line is the header, frozen; column widths follow what stands in them; what is filled in by hand is
/// an empty cell with a rule. Groups as in `csv`. Notes stand below the rows, a line clear. Texts are texts, whatever
/// they begin with. The same bytes for the same tables and release of the library: one without a date bears 1980-01-01,
/// the first day of the ZIP format, as the entries inside do, for the library would write the clock's. Throws
/// std::invalid_argument for a table that is none or a bad date, std::runtime_error where no temporary file can be
/// written (the library needs one), or for more rows than a sheet has (1048576).
std::string xlsx(const std::vector<Table>& tables, const WorkbookProperties& properties);

}  // namespace zoneproof::paper
