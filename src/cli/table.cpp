#include "cli/table.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "cli/text_width.hpp"

namespace zoneproof::cli {

namespace {

constexpr std::size_t kGap = 2;

std::size_t total(const std::vector<std::size_t>& width) {
  std::size_t sum = width.empty() ? 0 : kGap * (width.size() - 1);
  for (std::size_t one : width) sum += one;
  return sum;
}

}  // namespace

void Table::add(std::vector<Cell> cells) {
  cells.resize(columns_.size());
  for (Cell& cell : cells) cell.text = printable(cell.text);
  rows_.push_back(std::move(cells));
}

std::vector<std::size_t> Table::widths(std::size_t room) const {
  std::vector<std::size_t> width;
  for (const Column& column : columns_) width.push_back(text_width(column.heading));
  for (const std::vector<Cell>& row : rows_) {
    for (std::size_t i = 0; i < row.size(); ++i) width[i] = std::max(width[i], text_width(row[i].text));
  }
  while (total(width) > room) {
    std::size_t widest = width.size();
    for (std::size_t i = 0; i < width.size(); ++i) {
      if (columns_[i].figures || width[i] <= columns_[i].least) continue;
      if (widest == width.size() || width[i] > width[widest]) widest = i;
    }
    if (widest == width.size()) break;
    --width[widest];
  }
  return width;
}

void Table::print_row(Screen& screen, const std::vector<Cell>& row, const std::vector<std::size_t>& width,
                      std::size_t indent) const {
  std::string line(indent, ' ');
  std::size_t at = indent;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const std::string text = columns_[i].figures ? row[i].text : shortened(row[i].text, width[i]);
    if (at + width[i] > Screen::kWidth && at > indent + kGap) {
      line.resize(line.find_last_not_of(' ') + 1);
      line += '\n' + std::string(indent + kGap, ' ');
      at = indent + kGap;
    }
    const std::size_t cells = text_width(text);
    const std::size_t blanks = width[i] > cells ? width[i] - cells : 0;
    if (columns_[i].figures) line += std::string(blanks, ' ');
    line += screen.painted(text, row[i].style);
    if (!columns_[i].figures) line += std::string(blanks, ' ');
    line += std::string(kGap, ' ');
    at += width[i] + kGap;
  }
  line.resize(line.find_last_not_of(' ') + 1);
  screen.raw(line + '\n');
}

void Table::print(Screen& screen, std::size_t indent) const {
  const std::vector<std::size_t> width = widths(Screen::kWidth - indent);
  std::vector<Cell> headings;
  for (const Column& column : columns_) headings.push_back({column.heading, Style::faint});
  print_row(screen, headings, width, indent);
  for (const std::vector<Cell>& row : rows_) print_row(screen, row, width, indent);
}

}  // namespace zoneproof::cli
