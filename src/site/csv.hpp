#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"

namespace zoneproof::site {

/// One field of a table, with the place of its first character (of the opening quote), counted from 1 in code points.
struct CsvCell {
  std::string text;
  int line = 0;
  int column = 0;
};

struct CsvTable {
  char separator = ',';
  std::vector<std::vector<CsvCell>> rows;  ///< empty lines are left out
  std::vector<Message> messages;           ///< every fault; with any error the rows are not to be used
};

/// Reads comma-separated values as RFC 4180 section 2 describes them: fields in double quotes may hold separators, line
/// breaks and doubled quotes; blanks belong to the field; the last line may lack its end. More than the RFC: the
/// separator is whichever of comma, semicolon and tab the first line has most of outside quotes (spreadsheets write
/// what their language uses), a line may end in LF alone, a byte order mark is skipped, text is UTF-8. What is
/// UTF-16, JSON or no text at all is refused as that. At most
/// `most_rows` rows, header included; a longer file is refused with one message. Cost: linear in the text.
CsvTable read_csv(std::string_view text, const std::string& file, std::size_t most_rows);

}  // namespace zoneproof::site
