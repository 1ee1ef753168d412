#include "paper/specimen.hpp"

#include <fmt/format.h>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::paper {

using drawing::Align;
using drawing::VerdictMark;

Style specimen_style(drawing::Format paper) {
  return {{"Saltmarsh Cold Store", "Handover file of the alarm verification", "14",
           "3f1c9a60d2b87e45c01977aa5be8d3046f2e1b8c9d7405a6e3f2b1c0d9e8f7a6", "2026-03-01"},
          paper,
          true};
}

Table specimen_table() {
  Table table;
  table.id = "wires";
  table.title = "Trigger wires";
  table.columns = {{"zone", "Zone", {}, Align::left, 1.0},
                   {"from", "From", {}, Align::left, 1.0, 0.0, true, "Wire"},
                   {"colour", "Colour", {}, Align::left, 0.0, 0.0, true, "Wire"},
                   {"rest_low", "lowest", "V", Align::right, 0.0, 0.0, false, "At rest"},
                   {"rest_high", "highest", "V", Align::right, 0.0, 0.0, false, "At rest"},
                   {"measured", "measured", "V", Align::left, 0.0, 0.0, true, "At rest"},
                   {"length", "Length", "m", Align::right, 0.0},
                   {"done", "Done", {}, Align::middle, 0.0},
                   {"verdict", "Verdict", {}, Align::left, 0.0}};
  table.grouped_by = "Panel";
  constexpr VerdictMark marks[] = {VerdictMark::proven, VerdictMark::thin, VerdictMark::broken,
                                   VerdictMark::unanswered};
  const char* words[] = {"proven", "thin", "broken", "unanswered"};
  int number = 0;
  for (const char* panel : {"Panel, equipment room", "Cold store expander", "Dock expander"}) {
    Group group{panel, {}};
    for (int i = 0; i < 14; ++i) {
      ++number;
      Row row;
      row.cells = {Words{fmt::format("Zone {} {}", number,
                                     i % 5 == 2 ? "Ambient store east, roller door 7 with the wicket door beside it"
                                                : "Freezer A"),
                         "#plans"},
                   Words{fmt::format("Input {}", number)},
                   Blank{},
                   Number{2.013 + 0.01 * i, 3},
                   Number{2.231 + 0.1 * i, 3},
                   Blank{},
                   Number{12.5 * i, 1},
                   Tick{},
                   Verdict{marks[i % 4], words[i % 4]}};
      group.rows.push_back(row);
    }
    table.groups.push_back(group);
  }
  Number sum{12.5 * 91 * 3, 1};
  sum.formula = "SUM({length:above})";
  table.groups.push_back(
      {"", {{{Words{"Sum"}, Words{}, Words{}, Words{}, Words{}, Words{}, sum, Words{}, Words{}}, "wires-sum", true}}});
  table.notes = {
      "Black probe on the negative of the unit. A reading outside of lowest to highest is a finding: do not adjust the "
      "unit to it."};
  return table;
}

namespace {

drawing::Sheet inserted(const drawing::Ruler& ruler) {
  drawing::Sheet sheet{drawing::landscape(drawing::kA3), {}, {"ground", "Plan of the ground floor", {}}, "A plan.", {}};
  sheet.content.items.push_back({drawing::stroked("wall", {drawing::ring(drawing::Box{60, 40, 300, 200})}, {})});
  sheet.content.items.push_back(
      {drawing::text_line(ruler, "label", "Freezer A", {}, drawing::kLabel_mm, drawing::Ink::text, {80, 60})});
  sheet.content.items.push_back({drawing::frame_line(sheet)});
  return sheet;
}

}  // namespace

std::vector<Chapter> specimen_chapters(const drawing::Ruler& ruler) {
  Chapter words{"words", "Words, lists and cautions", {}};
  words.blocks = {
      Caution{"Caution",
              {"Mains are inside of the supply's box. Opening it, and all work on the alarm system, is for those who "
               "are licensed to do it.",
               "Tell the receiving centre before the first wire is touched."}},
      Paragraph{
          "Zone 6 reads 4.1 to 5.3 V at rest; the unit calls anything above 4.6 V an alarm. Raise the limit to 6.2 V. "
          "The battery holds the site for 12.4 h when it is cold and old; 12 h are asked for, with a tenth to spare."},
      Heading{2, "What is needed"},
      List{{"A meter of 10 Mohm input or more.",
            "A ladder, and somebody who holds it while the roller door of the dock is open for longer than the work "
            "takes."},
           false},
      Heading{3, "In this order"},
      List{{"Put the receiving centre on test.", "Read all terminals as they are found, and write the readings down.",
            "Fit the wire of zone 1."},
           true},
      KeyValues{{{"Panel", said("Panel, equipment room")},
                 {"Installer code", Blank{}},
                 {"Clock", Number{0.5, 2, Digits::significant, "s"}}}},
      FillIn{"What was found different from this file", 3},
      Paragraph{"A remark in small letters, which goes to the plan.", "#ground", false, true}};
  drawing::Group square;
  square.items.push_back({drawing::stroked("edge", {drawing::ring(drawing::Box{0, 0, 60, 30})}, {})});
  words.blocks.push_back(Figure{"square", "A square", square, 60, 30, "A figure with its caption."});
  Chapter tables{"tables",
                 "Tables",
                 {Turn{true}, specimen_table(), Turn{false}, Heading{2, "Standing again"}, Paragraph{"Text."}}};
  return {words, tables, {"plans", "Plans", {Paragraph{"The plans follow."}, Inserted{{inserted(ruler)}}}}};
}

std::vector<Label> specimen_labels() {
  std::vector<Label> labels;
  const char* codes[] = {"https://192.168.10.20:8443/zones/z1", "ZONE 7", "4711", "Kühlraum Ψ №7"};
  for (int i = 0; i < 30; ++i)
    labels.push_back({fmt::format("label-{}", i + 1),
                      {fmt::format("Zone {}", i + 1), fmt::format("Panel {} to unit {}", i + 1, i + 1)},
                      codes[i % 4]});
  return labels;
}

}  // namespace zoneproof::paper
