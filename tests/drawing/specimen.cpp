#include "drawing/specimen.hpp"

#include <fmt/format.h>

#include <array>
#include <stdexcept>

#include "drawing/hatch.hpp"
#include "drawing/legend.hpp"
#include "drawing/margin_bar.hpp"
#include "drawing/north_arrow.hpp"
#include "drawing/scale_bar.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/title_block.hpp"
#include "drawing/type.hpp"
#include "drawing/verdict_mark.hpp"

namespace zoneproof::drawing {

namespace {

constexpr const char* kHash = "3f1c9a60d2b87e45c01977aa5be8d3046f2e1b8c9d7405a6e3f2b1c0d9e8f7a6";

const Stroke kWall{Ink::line, kFrame_mm, {}, Cap::butt, Join::miter};
const Stroke kOutline{Ink::quiet, kFine_mm, {2.4, 0.9}, Cap::butt, Join::miter};

Hatch blind() { return {45.0, 1.4, false, {Ink::broken, kFine_mm}}; }

/// A symbol with its name, as a plan will have many.
struct Thing {
  Point at;
  std::string name;
};

const std::vector<Thing>& things() {
  static const std::vector<Thing> all = {
      {{48, 52}, "Zone 1 Loading dock"}, {{61, 57}, "Zone 2 Cold store"},
      {{58, 66}, "Zone 3 Rear door"},    {{70, 50}, "Zone 4"},
      {{72, 62}, "Ψυκτικός θάλαμος"},    // Greek: cold room
      {{66, 72}, "Холодильная камера"},  // Russian: the same
      {{120, 60}, "غرفة التبريد"},       // Arabic: the same
      {{128, 70}, "חדר קירור 7"},        // Hebrew: the same, with a figure
      {{140, 96}, "Łódź 12 kΩ"},         {{60, 120}, "Camera 2"},
      {{150, 130}, "Camera 3 & <west>"}, {{44, 150}, "Panel"},
  };
  return all;
}

void add_lines(std::vector<Line>& lines, const Subpath& path) {
  const Points points = flattened(path, 0.1);
  for (std::size_t i = 0; i + 1 < points.size(); ++i) lines.push_back({points[i], points[i + 1]});
  if (path.closed) lines.push_back({points.back(), points.front()});
}

Group walls(std::vector<Line>& lines) {
  const Points outer{{35, 40}, {165, 40}, {165, 165}, {100, 165}, {100, 140}, {35, 140}};
  Group layer;
  layer.name = {"walls", "Walls", {}};
  layer.bookmark = "Walls";
  layer.items.push_back({stroked("outer-wall", {ring(outer)}, kWall)});
  layer.items.push_back(
      {stroked("inner-wall", {line_through({{100, 40}, {100, 95}}), line_through({{100, 107}, {100, 140}})}, kWall)});
  Subpath door = line_through({{100, 107}, {112, 107}});
  add_arc(door, {100, 107}, 12.0, 0.0, -90.0);
  layer.items.push_back({stroked("door", {door}, {Ink::line, kFine_mm})});
  add_lines(lines, ring(outer));
  lines.push_back({{100, 40}, {100, 95}});
  lines.push_back({{100, 107}, {100, 140}});
  return layer;
}

Group areas(std::vector<Line>& lines) {
  Group layer;
  layer.name = {"areas", "Detection areas and blind patches", {}};
  Subpath fan = line_through({{48, 52}});
  add_arc(fan, {48, 52}, 46.0, 5.0, 80.0);
  fan.closed = true;
  add_lines(lines, fan);
  layer.items.push_back({stroked("area-1", {fan}, kOutline)});
  const std::vector<Subpath> patch{ring(Points{{108, 112}, {140, 104}, {158, 122}, {150, 158}, {112, 150}}),
                                   circle({132, 130}, 9.0)};
  for (const Subpath& ring_of_patch : patch) add_lines(lines, ring_of_patch);
  layer.items.push_back({hatched("patch-1-hatch", patch, blind())});
  Shape edge = stroked("patch-1", patch, {Ink::broken, kThin_mm});
  edge.name.title = "Blind patch 1: behind the racking";
  edge.name.link = "#mark-3";
  layer.items.push_back({edge});
  const std::vector<Subpath> crossed{ring(Box{40, 122, 58, 138})};
  Hatch hatch = blind();
  hatch.crossed = true;
  hatch.stroke.ink = Ink::unanswered;
  layer.items.push_back({hatched("patch-2-hatch", crossed, hatch)});
  layer.items.push_back({stroked("patch-2", crossed, {Ink::unanswered, kThin_mm})});
  return layer;
}

Group labels(const Ruler& ruler, const LabelField& field) {
  constexpr double symbol_mm = 1.2;
  Group symbols;
  std::vector<LabelWish> wishes;
  std::vector<TextLine> texts;
  for (const Thing& thing : things()) {
    texts.push_back(text_line(ruler, fmt::format("label-{}", texts.size() + 1), thing.name, {Role::label, false},
                              kLabel_mm, Ink::text, {}));
    const Box& box = texts.back().extent.box;
    wishes.push_back({thing.at, symbol_mm, box.width(), box.height()});
    symbols.items.push_back({filled({}, {circle(thing.at, symbol_mm)}, Ink::line)});
  }
  const std::vector<LabelPlace> places = label_places(wishes, field);
  Group backings, leaders, names;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (places[i].how == LabelHow::nowhere) throw std::logic_error("the specimen has room for all of its labels");
    if (places[i].how == LabelHow::by_leader) {
      leaders.items.push_back(
          {stroked({}, {line_through({places[i].leader.from, places[i].leader.to})}, {Ink::quiet, kHairline_mm})});
    }
    const Box& box = texts[i].extent.box;
    texts[i].at = {places[i].box.left - box.left, places[i].box.top - box.top};
    backings.items.push_back({backing(texts[i])});
    names.items.push_back({texts[i]});
  }
  Group layer;
  layer.name = {"labels", "Names", {}};
  layer.items = {{std::move(backings)}, {std::move(leaders)}, {std::move(symbols)}, {std::move(names)}};
  return layer;
}

Legend plan_legend(const Ruler& ruler, Point at) {
  const Box sample{0.5, 0.5, kSampleWidth_mm - 0.5, kSampleHeight_mm - 0.5};
  std::vector<LegendEntry> entries;
  entries.push_back({{{stroked({}, {line_through({{0, 2}, {10, 2}})}, kWall)}}, "Wall up to the ceiling"});
  entries.push_back({{{stroked({}, {line_through({{0, 2}, {10, 2}})}, kOutline)}}, "Edge of a detection area"});
  entries.push_back({{{hatched({}, {ring(sample)}, blind())}, {stroked({}, {ring(sample)}, {Ink::broken, kThin_mm})}},
                     "Blind patch: a person is detected there and no camera sees it"});
  return legend(ruler, entries, at, 62.0);
}

TitleBlock title(int number, std::string drawing, std::optional<double> scale) {
  return {"Saltmarsh Cold Store", std::move(drawing), "14", kHash, "2026-03-01", scale, number, 2};
}

Sheet plan_sheet(const Ruler& ruler) {
  Sheet sheet{kA4, {}, {"plan", "Ground floor", {}}, "The ground floor with what the cameras do not see.", {}};
  TitleBlockDrawn block = title_block(ruler, title(1, "Ground floor: what is not seen", 100.0), sheet.frame());
  Legend key = plan_legend(ruler, {24, 190});
  ScaleBar bar = scale_bar(ruler, 100.0, {110, 225}, 75.0);
  LabelField field{sheet.frame(), {block.box, key.box, bar.box, {150, 180, 190, 220}}, {}, 0.8, 40.0};
  Group layer = walls(field.lines);
  auto& items = sheet.content.items;
  items.push_back({areas(field.lines)});
  items.push_back({std::move(layer)});
  items.push_back({labels(ruler, field)});
  items.push_back({std::move(key.group)});
  items.push_back({std::move(bar.group)});
  items.push_back({north_arrow(ruler, {170, 200}, 9.0, 30.0)});
  items.push_back({std::move(block.group)});
  items.push_back({frame_line(sheet)});
  return sheet;
}

struct Row {
  VerdictMark mark;
  const char *word, *sentence, *figure;
  std::optional<double> ratio;
};

constexpr std::array<Row, 4> kRows = {
    {{VerdictMark::proven, "proven", "Zone 1 reads 2.1 to 2.3 V at rest; the unit calls it normal from 1.8 to 2.6 V.",
      "0.32 V", 1.6},
     {VerdictMark::thin, "thin",
      "The battery holds the site for 12.4 h when it is cold and old; 12 h are asked for, with a tenth to spare.",
      "0.4 h", 0.33},
     {VerdictMark::broken, "broken",
      "Zone 6 reads 4.1 to 5.3 V at rest; the unit calls anything above 4.6 V an alarm. Raise the limit to 6.2 V.",
      "−0.7 V", -0.7},
     {VerdictMark::unanswered, "unanswered",
      "The resistance of the cable to zone 9 is not known. Measure it, or enter its length and cross-section.", "?",
      std::nullopt}}};

void add_row(Group& group, const Ruler& ruler, std::size_t index, double top) {
  const Row& row = kRows.at(index);
  const double baseline = top + 3.0;
  group.items.push_back(
      {verdict_mark(ruler, fmt::format("mark-{}", index + 1), row.mark, row.word, {28, baseline}, kHeading_mm).group});
  const MarginBar bar{row.ratio, row.figure, ink_of(row.mark)};
  group.items.push_back({margin_bar(ruler, fmt::format("margin-{}", index + 1), bar, {72, top + 1.6}, 40.0).group});
  const TextBlock block = broken(ruler, row.sentence, {Role::reading, false}, kReading_mm, 110.0);
  Group sentence = set(ruler, fmt::format("sentence-{}", index + 1), block, Ink::text, {140, top});
  sentence.name.link = "https://example.org/zones?number=" + std::to_string(index + 1) + "&kind='a'";
  group.items.push_back({std::move(sentence)});
}

Sheet list_sheet(const Ruler& ruler) {
  Sheet sheet{landscape(kLetter), {}, {"list", "Verdicts", {}}, "Four verdicts with their margins.", {}};
  TitleBlockDrawn block = title_block(ruler, title(2, "Verdicts, margins and inks", std::nullopt), sheet.frame());
  Group rows;
  rows.name = {"rows", {}, {}};
  rows.bookmark = "Rows";
  for (std::size_t i = 0; i < kRows.size(); ++i) add_row(rows, ruler, i, 22.0 + 17.0 * static_cast<double>(i));
  Group inks;
  for (std::size_t i = 0; i < kInks.size(); ++i) {
    const double left = 28.0 + 22.0 * static_cast<double>(i);
    inks.items.push_back({filled({}, {ring(Box{left, 96, left + 18, 104})}, kInks[i])});
    inks.items.push_back({stroked({}, {ring(Box{left, 96, left + 18, 104})}, {Ink::line, kHairline_mm})});
    inks.items.push_back({text_line(ruler, fmt::format("ink-{}", i + 1), name(kInks[i]), {Role::reading, false},
                                    kCaption_mm, Ink::text, {left + 9, 108}, Align::middle)});
  }
  Group words = set(ruler, "right", broken(ruler, "Πίσω πόρτα · Задняя дверь · Porte arrière", {}, kReading_mm, 120.0),
                    Ink::quiet, {258, 120}, Align::right);
  words.name.link = "#label-5";
  sheet.content.items = {
      {std::move(rows)}, {std::move(inks)}, {std::move(words)}, {std::move(block.group)}, {frame_line(sheet)}};
  return sheet;
}

}  // namespace

const Fonts& test_fonts() {
  static const std::unique_ptr<Fonts> fonts = [] {
    std::vector<Message> messages;
    auto opened = Fonts::open(ZONEPROOF_BINARY_DIR "/fonts", messages);
    if (!opened) throw std::runtime_error(full_text(messages.front()));
    return opened;
  }();
  return *fonts;
}

const Ruler& test_ruler() {
  static const PangoRuler ruler(test_fonts());
  return ruler;
}

Document specimen(const Ruler& ruler) {
  Document document;
  document.title = "Saltmarsh Cold Store, revision 14";
  document.subject = "Specimen of drawings";
  document.keywords = kHash;
  document.created = "2026-03-01T12:00:00Z";
  document.sheets = {plan_sheet(ruler), list_sheet(ruler)};
  return document;
}

}  // namespace zoneproof::drawing

/// Asked by the leak sanitizer. Fontconfig and Cairo keep fonts for later, and fontconfig's pointers are relative: the
/// sanitizer does not see what holds them. (Ending fontconfig would race with the thread in which Pango begins it.)
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig.so"; }
