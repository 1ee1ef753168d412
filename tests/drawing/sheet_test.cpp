#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "drawing/faults.hpp"
#include "drawing/margin_bar.hpp"
#include "drawing/north_arrow.hpp"
#include "drawing/painter.hpp"
#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/scale_bar.hpp"
#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "drawing/svg.hpp"
#include "drawing/title_block.hpp"
#include "drawing/verdict_mark.hpp"

namespace zoneproof::drawing {
namespace {

Document one_sheet(std::vector<Item> items) {
  Document document;
  document.created = "2026-03-01T12:00:00Z";
  Sheet sheet{kA4, {}, {"s", "Sheet", {}}, "A sheet.", {}};
  sheet.content.items = std::move(items);
  document.sheets.push_back(std::move(sheet));
  return document;
}

std::vector<std::string> texts_of(const Group& group) {
  std::vector<std::string> texts;
  each(
      group, [](const Shape&) {}, [&](const TextLine& text) { texts.push_back(text.content); });
  return texts;
}

TEST(Specimen, NoTextOverlapsAnotherOrLeavesTheFrame) {
  for (const Sheet& sheet : specimen(test_ruler()).sheets) EXPECT_TRUE(layout_faults(sheet).empty());
}

TEST(LayoutFaults, FindWhatOverlapsAndWhatLeaves) {
  const auto line = [](double x, double y) {
    return text_line(test_ruler(), "", "Zone", {Role::label, false}, 3.0, Ink::text, {x, y});
  };
  EXPECT_TRUE(layout_faults(one_sheet({{line(30, 30)}, {line(30, 40)}}).sheets.front()).empty());
  EXPECT_EQ(layout_faults(one_sheet({{line(30, 30)}, {line(33, 31)}}).sheets.front()).size(), 1U);
  EXPECT_EQ(layout_faults(one_sheet({{line(198, 30)}}).sheets.front()).size(), 1U);
}

RC_GTEST_PROP(TitleBlockProperty, HoldsAnyTextsWithoutOverlapAndWithinItsBox, ()) {
  const auto words = rc::gen::element<std::string>("Kiln", "Ψυκτικός", "камера", "غرفة", "חדר", "7", "Łódź", "W",
                                                   "Donaudampfschifffahrtsgesellschaft", "4.6 V");
  const auto phrase = [&](int most) {
    std::string text;
    for (int i = *rc::gen::inRange(0, most); i > 0; --i) text += *words + " ";
    return text;
  };
  const TitleBlock block{phrase(12), phrase(12), phrase(3), phrase(5), phrase(4), 50.0, 3, 12};
  Document document = one_sheet({});
  Sheet& sheet = document.sheets.front();
  sheet.format = *rc::gen::element(kA4, landscape(kA3), kLetter, Format{100, 200});
  TitleBlockDrawn drawn = title_block(test_ruler(), block, sheet.frame());
  each(
      drawn.group, [](const Shape&) {}, [&](const TextLine& text) { RC_ASSERT(inside(text.box(), drawn.box)); });
  sheet.content.items.push_back({std::move(drawn.group)});
  RC_ASSERT(layout_faults(sheet).empty());
  RC_ASSERT(faults(document).empty());
}

TEST(TitleBlock, SaysWhatIsOnTheSheet) {
  const TitleBlock block{"Kiln Yard", "Plan", "14", "0123456789abcdef", "2026-03-01", 50.0, 2, 3};
  const auto texts = texts_of(title_block(test_ruler(), block, {20, 10, 200, 287}).group);
  for (const char* text : {"Kiln Yard", "Plan", "14", "01234567 89abcdef", "2026-03-01", "1:50", "2 of 3"}) {
    EXPECT_NE(std::find(texts.begin(), texts.end(), text), texts.end()) << text;
  }
}

TEST(ScaleBar, PartsAreTrueToScaleAndAsLongAsFits) {
  for (const double scale : {1.0, 20.0, 50.0, 75.0, 100.0, 500.0, 2000.0}) {
    const ScaleBar bar = scale_bar(test_ruler(), scale, {30, 30}, 80.0);
    ASSERT_GT(bar.part_m, 0.0);
    double low = 1e9, high = 0;
    each(
        bar.group,
        [&](const Shape& shape) {
          low = std::min(low, bounds(shape.path).left);
          high = std::max(high, bounds(shape.path).right);
        },
        [](const TextLine&) {});
    EXPECT_NEAR((high - low) / 4 * scale / 1000, bar.part_m, 1e-9);
    EXPECT_LE(bar.box.width(), 80.0 + 0.2);
    EXPECT_GT(4 * 2.5 * bar.part_m * 1000 / scale, 70.0);  // the next step, at most 2.5 times, would not fit
  }
  EXPECT_EQ(scale_bar(test_ruler(), 50.0, {30, 30}, 3.0).part_m, 0.0);
}

TEST(NorthArrow, PointsNorthAndStaysWithinItsRoom) {
  for (int north = 0; north < 360; north += 15) {
    const Group arrow = north_arrow(test_ruler(), {100, 100}, 9.0, north);
    EXPECT_TRUE(inside(bounds(arrow), Box{100 - 14.4, 100 - 14.4, 100 + 14.4, 100 + 14.4})) << north;
  }
  const Group east = north_arrow(test_ruler(), {100, 100}, 9.0, 90.0);
  EXPECT_GT(std::get<TextLine>(east.items.back().what).box().left, 109.0);
}

TEST(VerdictMark, NeverWithoutItsWordAndEachOfAnotherShape) {
  std::vector<std::string> shapes;
  for (const auto mark : {VerdictMark::proven, VerdictMark::thin, VerdictMark::broken, VerdictMark::unanswered}) {
    auto drawn = verdict_mark(test_ruler(), "m", mark, "word", {50, 50}, 4.0);
    EXPECT_EQ(texts_of(drawn.group), std::vector<std::string>{"word"});
    EXPECT_TRUE(inside(bounds(drawn.group), grown(drawn.box, 1e-9)));
    EXPECT_NEAR(drawn.box.left, 50.0, 1e-9);
    std::string picture = svg(one_sheet({{std::move(drawn.group)}}), 0, {Palette::black_and_white, false, ""});
    picture = picture.substr(picture.find("<g id=\"m\""));
    for (const Ink ink : kInks) {  // what is left without the names of colours
      for (std::size_t at = picture.find(name(ink)); at != std::string::npos; at = picture.find(name(ink))) {
        picture.erase(at, name(ink).size());
      }
    }
    shapes.push_back(picture);
  }
  std::sort(shapes.begin(), shapes.end());
  EXPECT_EQ(std::unique(shapes.begin(), shapes.end()), shapes.end());
}

/// The bar's own box, which is the only area.
Box bar_of(std::optional<double> ratio) {
  Box box{};
  each(
      margin_bar(test_ruler(), "", {ratio, "?", Ink::proven}, {0, 0}, 30.0).group,
      [&](const Shape& shape) {
        if (shape.fill) box = bounds(shape.path);
      },
      [](const TextLine&) {});
  return box;
}

TEST(MarginBar, IsAsLongAsTheMarginAndNeverLeavesItsTrack) {
  EXPECT_NEAR(bar_of(1.0).left, 10.0, 1e-9);  // the limit lies a third from the left
  EXPECT_NEAR(bar_of(1.0).width(), 10.0, 1e-9);
  EXPECT_NEAR(bar_of(0.25).width(), 2.5, 1e-9);
  EXPECT_NEAR(bar_of(-0.5).left, 5.0, 1e-9);
  EXPECT_NEAR(bar_of(7.0).right, 30.0, 1e-9);
  EXPECT_NEAR(bar_of(-1e300).left, 0.0, 1e-9);
  EXPECT_NEAR(bar_of(std::numeric_limits<double>::infinity()).right, 30.0, 1e-9);
  EXPECT_EQ(bar_of(std::nullopt).width(), 0.0);
  EXPECT_EQ(bar_of(std::nan("")).width(), 0.0);
}

TEST(Faults, EveryOneIsFoundAndEveryWriterRefuses) {
  const auto shape = [](Name name) {
    Shape made = stroked("", {ring(Box{30, 30, 40, 40})}, {});
    made.name = std::move(name);
    return Item{made};
  };
  const auto text = [](std::string content) {
    TextLine line = text_line(test_ruler(), "", "x", {}, 3.0, Ink::text, {30, 30});
    line.content = std::move(content);
    return Item{line};
  };
  Item far = shape({}), hair = shape({}), dash = shape({}), flat = text("x");
  std::get<Shape>(far.what).path.front().start.x = std::nan("");
  std::get<Shape>(hair.what).stroke->width_mm = 0.0;
  std::get<Shape>(dash.what).stroke->dashes_mm = {1.0, -1.0};
  std::get<TextLine>(flat.what).size_mm = -1.0;
  const std::vector<std::vector<Item>> bad = {{shape({"a", "", ""}), shape({"a", "", ""})},  // twice
                                              {shape({"1a", "", ""})},
                                              {shape({"a b", "", ""})},
                                              {shape({"a", "", "javascript:alert(1)"})},
                                              {shape({"a", "", "data:text/html,x"})},
                                              {shape({"a", "", "#nobody"})},
                                              {shape({"a", "title\x1b[2J", ""})},
                                              {text("line\nbreak")},
                                              {text("rev\u202Eersed")},
                                              {text("\xFF")},
                                              {far},
                                              {hair},
                                              {dash},
                                              {flat}};
  EXPECT_TRUE(faults(one_sheet({shape({"a", "Title", "#b"}), shape({"b", "", "https://example.org/"})})).empty());
  for (std::size_t i = 0; i < bad.size(); ++i) {
    const Document document = one_sheet(bad[i]);
    EXPECT_EQ(faults(document).size(), 1U) << i;
    EXPECT_THROW(svg(document, 0, {}), std::invalid_argument) << i;
    EXPECT_THROW(pdf(document, test_fonts(), Palette::light), std::invalid_argument) << i;
    EXPECT_THROW(png(document, 0, test_fonts(), Palette::light, 100), std::invalid_argument) << i;
  }
  Document undated = one_sheet({});
  undated.created = "yesterday";
  EXPECT_EQ(faults(undated).size(), 1U);
  undated.created.clear();
  EXPECT_TRUE(faults(undated).empty()) << "a date that nobody knows is none";
  EXPECT_EQ(faults(Document{{}, "", "", "", "2026-03-01T12:00:00Z"}).size(), 1U);
}

TEST(Writers, RefuseASheetThatIsNotThereAndDotsBeyondReason) {
  const Document document = one_sheet({});
  EXPECT_THROW(svg(document, 1, {}), std::out_of_range);
  EXPECT_THROW(png(document, 1, test_fonts(), Palette::light, 100), std::out_of_range);
  EXPECT_THROW(png(document, 0, test_fonts(), Palette::light, 71), std::invalid_argument);
  EXPECT_THROW(png(document, 0, test_fonts(), Palette::light, 1e9), std::invalid_argument);
}

TEST(Writers, BlackAndWhiteIsTheSameDrawingInOtherInk) {
  const Document document = specimen(test_ruler());
  const auto body = [&](Palette palette) {
    const std::string all = svg(document, 0, {palette, false, ""});
    return all.substr(all.find("</style>"));
  };
  EXPECT_EQ(body(Palette::light), body(Palette::black_and_white));
  EXPECT_EQ(body(Palette::light), body(Palette::dark));
}

}  // namespace
}  // namespace zoneproof::drawing
