#pragma once
#include <rapidcheck.h>

#include "paper/table.hpp"

/// Tables of any texts, for properties.
namespace zoneproof::paper {

/// Words of several writings, very long and very wide letters, marks that stand above and below, control characters.
inline rc::Gen<std::string> any_text(std::size_t most_words) {
  static const std::vector<std::string> words = {
      "zone",     "Freezer",     "7",    "4.6 V",   "Überwachungszentralenkabelverbindungsdose",
      "Ψυκτικός", "Холодильная", "غرفة", "التبريد", "קירור",
      "﷽",        "Ấ̂̌",           "g̣̣̣̣",    "-",       "(input",
      "12)",      "W",           "i",    "\t",      "x\ny",
      "m²",       "—",           "\xff", "日本"};
  return rc::gen::map(rc::gen::resize(static_cast<int>(most_words),
                                      rc::gen::container<std::vector<std::string>>(rc::gen::elementOf(words))),
                      [](const std::vector<std::string>& chosen) {
                        std::string out;
                        for (const std::string& word : chosen) out += (out.empty() ? "" : " ") + word;
                        return out;
                      });
}

inline rc::Gen<Cell> any_cell() {
  using drawing::VerdictMark;
  return rc::gen::oneOf(rc::gen::map(any_text(12), [](std::string says) { return Cell{Words{std::move(says)}}; }),
                        rc::gen::map(any_text(3),
                                     [](std::string says) {
                                       return Cell{Words{std::move(says), {}, true}};
                                     }),
                        rc::gen::map(rc::gen::inRange(-9999999, 9999999),
                                     [](int value) {
                                       return Cell{Number{value / 1000.0, 3}};
                                     }),
                        rc::gen::just(Cell{Blank{}}), rc::gen::just(Cell{Tick{}}),
                        rc::gen::map(rc::gen::element(VerdictMark::proven, VerdictMark::thin, VerdictMark::broken,
                                                      VerdictMark::unanswered),
                                     [](VerdictMark mark) {
                                       return Cell{Verdict{mark, "unanswered"}};
                                     }));
}

inline Table any_table() {
  Table table;
  table.id = "t";
  table.title = *any_text(6);
  const int columns = *rc::gen::inRange(1, 9);
  for (int i = 0; i < columns; ++i) {
    Column column{"c" + std::to_string(i), *any_text(4)};
    column.unit = *rc::gen::element<std::string>("", "V", "ohm");
    column.align = *rc::gen::element(drawing::Align::left, drawing::Align::middle, drawing::Align::right);
    column.weight = *rc::gen::element(0.0, 1.0, 3.0);
    column.wrap = *rc::gen::element(true, true, false);
    column.over = *rc::gen::element<std::string>("", "", "At rest");
    table.columns.push_back(column);
  }
  const int groups = *rc::gen::inRange(1, 4);
  for (int i = 0; i < groups; ++i) {
    Group group{*any_text(5), {}};
    const int rows = *rc::gen::inRange(0, 12);
    for (int row = 0; row < rows; ++row) {
      Row made;
      for (int cell = 0; cell < columns; ++cell) made.cells.push_back(*any_cell());
      made.strong = *rc::gen::element(false, false, true);
      group.rows.push_back(made);
    }
    table.groups.push_back(group);
  }
  const int notes = *rc::gen::inRange(0, 3);
  for (int i = 0; i < notes; ++i) table.notes.push_back(*any_text(60));
  return table;
}

}  // namespace zoneproof::paper
