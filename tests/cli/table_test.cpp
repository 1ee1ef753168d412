#include "cli/table.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

std::string printed(const Table& table, const Terminal& terminal = {}, std::size_t indent = 0) {
  std::ostringstream out, err;
  Screen screen(out, err, terminal);
  table.print(screen, indent);
  return out.str();
}

TEST(Tables, AlignWordsLeftAndFiguresRight) {
  Table table({{"zone", false}, {"volts", true}});
  table.add({{"Shop"}, {"4.1 V"}});
  table.add({{"Store room"}, {"12 V"}});
  EXPECT_EQ(printed(table),
            "zone        volts\n"
            "Shop        4.1 V\n"
            "Store room   12 V\n");
}

TEST(Tables, CountWideCharactersTwice) {
  Table table({{"zone", false}, {"no", true}});
  table.add({{"倉庫"}, {"1"}});
  table.add({{"Büro"}, {"2"}});
  EXPECT_EQ(printed(table),
            "zone  no\n"
            "倉庫   1\n"
            "Büro   2\n");
}

TEST(Tables, LongNamesGiveWayAndFiguresNever) {
  Table table({{"zone", false, 8}, {"cause", false, 8}, {"volts", true}});
  table.add({{std::string(150, 'n')}, {std::string(90, 'c')}, {"12345.6 V"}});
  const std::string text = printed(table);
  EXPECT_LE(widest_line(text), Screen::kWidth);
  EXPECT_NE(text.find("12345.6 V"), std::string::npos);
  EXPECT_NE(text.find("n…"), std::string::npos);
  EXPECT_NE(text.find("c…"), std::string::npos);
}

TEST(Tables, ManyColumnsGoOnInASecondLine) {
  std::vector<Column> columns;
  std::vector<Cell> row;
  for (int i = 0; i < 20; ++i) {
    columns.push_back({"column", true});
    row.push_back({"123456 V"});
  }
  Table table(std::move(columns));
  table.add(std::move(row));
  const std::string text = printed(table, {}, 2);
  EXPECT_LE(widest_line(text), Screen::kWidth);
  std::size_t cells = 0;
  for (std::size_t at = text.find("123456 V"); at != std::string::npos; at = text.find("123456 V", at + 1)) ++cells;
  EXPECT_EQ(cells, 20U);
}

TEST(Tables, NamesOfStrangersCannotMoveTheCursor) {
  Table table({{"zone", false}});
  table.add({{"a\x1b[2Jb"}});
  const std::string text = printed(table);
  EXPECT_EQ(text.find('\x1b'), std::string::npos);
  EXPECT_NE(text.find("<U+001B>"), std::string::npos);
}

TEST(Colour, StandsOnlyOnATerminalThatWantsIt) {
  Table table({{"verdict", false}});
  table.add({{"broken", Style::broken}});
  Terminal terminal;
  EXPECT_EQ(printed(table, terminal).find('\x1b'), std::string::npos);
  terminal.out_is_terminal = true;
  EXPECT_NE(printed(table, terminal).find("\x1b[38;5;"), std::string::npos);
  terminal.true_colour = true;
  EXPECT_NE(printed(table, terminal).find("\x1b[38;2;250;118;120m"), std::string::npos);
  terminal.light_sheet = true;
  EXPECT_NE(printed(table, terminal).find("\x1b[38;2;115;11;6m"), std::string::npos);
  terminal.no_colour = true;
  EXPECT_EQ(printed(table, terminal).find('\x1b'), std::string::npos);
}

TEST(Screen, ProgressIsForWatchersOnly) {
  std::ostringstream out, err;
  Screen pipe(out, err, {});
  pipe.progress("zone 1 of 2");
  EXPECT_EQ(err.str(), "");
  Terminal terminal;
  terminal.err_is_terminal = true;
  Screen watched(out, err, terminal);
  watched.progress("zone 1 of 2");
  watched.line("done");
  EXPECT_NE(err.str().find("zone 1 of 2"), std::string::npos);
  EXPECT_EQ(out.str(), "done\n");
}

}  // namespace
}  // namespace zoneproof::cli
