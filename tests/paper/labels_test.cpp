#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "paper/found_on_pages.hpp"
#include "paper/label_sheets.hpp"
#include "paper/qr.hpp"
#include "paper/specimen.hpp"

namespace zoneproof::paper {
namespace {

using drawing::test_ruler;
using Json = nlohmann::ordered_json;

/// A wrap: 12.5 mm of print above as much clear film.
Json wrap() {
  return {{"format", "zoneproof-labels"},
          {"version", 1},
          {"name", "Wraps"},
          {"kind", "wrap"},
          {"paper_width_mm", 215.9},
          {"paper_height_mm", 279.4},
          {"columns", 4},
          {"rows", 7},
          {"left_mm", 8.0},
          {"top_mm", 12.0},
          {"pitch_x_mm", 50.0},
          {"pitch_y_mm", 37.0},
          {"label_width_mm", 48.0},
          {"label_height_mm", 35.0},
          {"print_height_mm", 17.0},
          {"least_module_mm", 0.34}};
}

std::vector<std::string> codes_of(const Json& stock) {
  std::vector<std::string> codes;
  for (const Message& message : read_label_stock(stock.dump(), "stock.json").messages) codes.push_back(message.code);
  return codes;
}

TEST(LabelStock, AWrongDescriptionIsToldOncePerProblemWithItsPlace) {
  using testing::Contains;
  using testing::ElementsAre;
  EXPECT_THAT(codes_of(wrap()), testing::IsEmpty());
  EXPECT_THAT(codes_of(Json::array()), ElementsAre("labels_format_wrong"));
  const auto with = [](const char* key, Json value) {
    Json stock = wrap();
    stock[key] = std::move(value);
    return codes_of(stock);
  };
  EXPECT_THAT(with("version", 2), ElementsAre("labels_version_wrong"));
  EXPECT_THAT(with("kind", "tie"), ElementsAre("labels_kind_unknown"));
  EXPECT_THAT(with("name", 7), ElementsAre("labels_text_wanted"));
  EXPECT_THAT(with("columns", 0), ElementsAre("labels_count_wanted"));
  EXPECT_THAT(with("columns", 2.5), ElementsAre("labels_count_wanted"));
  EXPECT_THAT(with("columns", 1e9), ElementsAre("labels_count_wanted"));
  EXPECT_THAT(with("left_mm", -1), ElementsAre("labels_distance_wanted"));
  EXPECT_THAT(with("top_mm", -0.1), ElementsAre("labels_distance_wanted"));
  EXPECT_THAT(with("paper_width_mm", -1), ElementsAre("labels_length_wanted"));
  EXPECT_THAT(with("paper_height_mm", 5081), ElementsAre("labels_paper_too_large"));
  EXPECT_THAT(with("paper_height_mm", 5080), testing::IsEmpty());
  EXPECT_THAT(with("label_width_mm", 1e6), Contains("labels_leave_right"));
  EXPECT_THAT(with("print_height_mm", 3.3), ElementsAre("labels_no_room")) << "1.8 mm of letters, 0.8 mm at each edge";
  EXPECT_THAT(with("print_height_mm", 3.4), testing::IsEmpty());
  EXPECT_THAT(with("label_width_mm", 1), ElementsAre("labels_no_room"));
  Json flag = wrap();
  flag["kind"] = "flag";
  flag["fold_mm"] = 42;
  EXPECT_THAT(codes_of(flag), ElementsAre("labels_no_room")) << "3 mm are left on each half of 48 mm";
  flag["fold_mm"] = 48;
  EXPECT_THAT(codes_of(flag), ElementsAre("labels_fold_too_wide")) << "one slip, one message";
  EXPECT_THAT(with("label_width_mm", 0), ElementsAre("labels_length_wanted"));
  EXPECT_THAT(with("label_width_mm", "48"), ElementsAre("labels_length_wanted"));
  EXPECT_THAT(with("colour", "white"), ElementsAre("labels_key_unknown"));
  EXPECT_THAT(with("fold_mm", 5), ElementsAre("labels_key_unknown"));
  EXPECT_THAT(with("kind", "flag"), ElementsAre("labels_key_missing"));
  EXPECT_THAT(with("columns", 5), ElementsAre("labels_leave_right"));
  EXPECT_THAT(with("rows", 8), ElementsAre("labels_leave_below"));
  EXPECT_THAT(with("pitch_x_mm", 40), ElementsAre("labels_overlap"));
  EXPECT_THAT(with("print_height_mm", 36), ElementsAre("labels_print_too_high"));
  const auto placed =
      read_label_stock("{\"format\": \"zoneproof-labels\", \"version\": 1,\n  \"nme\": 1}", "s").messages;
  const auto unknown =
      std::find_if(placed.begin(), placed.end(), [](const Message& m) { return m.code == "labels_key_unknown"; });
  ASSERT_NE(unknown, placed.end());
  EXPECT_EQ(unknown->place.line, 2);
}

TEST(LabelStock, ThoseThatComeWithTheProgramAreSoundAndOfTheirPaper) {
  for (const drawing::Format& paper : {drawing::kA4, drawing::kLetter}) {
    const LabelStock& stock = generic_label_stock(paper);
    EXPECT_GT(stock.on_a_sheet(), 1);
    EXPECT_EQ(stock.paper_width_mm, paper.width_mm);
    EXPECT_EQ(stock.paper_height_mm, paper.height_mm);
  }
}

TEST(Labels, NothingMeetsAndEachStandsInItsPlace) {
  for (const LabelStock& stock :
       {generic_label_stock(), generic_label_stock(drawing::kLetter), *read_label_stock(wrap().dump(), "s").stock}) {
    const LabelSheets made = label_sheets(test_ruler(), specimen_labels(), stock, 3);
    EXPECT_TRUE(made.messages.empty()) << full_text(made.messages.front());
    EXPECT_THAT(faults_on(made.sheets), testing::IsEmpty());
    for (int i = 0; i < 30; ++i) {
      const int place = (i + 3) % stock.on_a_sheet();
      const double left = stock.left_mm + place % stock.columns * stock.pitch_x_mm;
      const double top = stock.top_mm + place / stock.columns * stock.pitch_y_mm;
      const drawing::Box box{left, top, left + stock.label_width_mm, top + stock.print_height_mm};
      const auto found = groups_with(made.sheets, fmt::format("label-{}", i + 1));
      ASSERT_FALSE(found.empty());
      drawing::each(
          *found.front().group,
          [&](const drawing::Shape& shape) { EXPECT_TRUE(inside(drawing::bounds(shape.path), box)); },
          [&](const drawing::TextLine& text) { EXPECT_TRUE(inside(text.box(), box)) << text.content; });
    }
  }
}

TEST(Labels, NoWordEntersTheQuietZoneOfACode) {
  const LabelSheets made = label_sheets(test_ruler(), specimen_labels(), generic_label_stock());
  int looked = 0;
  for (const Found& found : groups_with(made.sheets, "label-")) {
    if (!found.id.ends_with("-front") && !found.id.ends_with("-back")) continue;
    drawing::Box code{};
    drawing::each(
        *found.group, [&](const drawing::Shape& shape) { code = drawing::bounds(shape.path); },
        [&](const drawing::TextLine& text) {
          const int modules = qr_modules(specimen_labels().at(0).qr).value();
          const double quiet = 4 * code.width() / (modules - 8);
          EXPECT_FALSE(overlap(text.box(), drawing::grown(code, quiet - 1e-6)));
          ++looked;
        });
  }
  EXPECT_GT(looked, 100);
}

TEST(Labels, WhatHasNoRoomIsToldAndLeftOut) {
  std::string longer(900, 'x');
  const LabelSheets words = label_sheets(test_ruler(), {{"a", {longer}}, {"b", {"Zone 2"}}}, generic_label_stock());
  ASSERT_EQ(words.messages.size(), 1u);
  EXPECT_EQ(words.messages.front().code, "label_words_too_long");
  ASSERT_EQ(words.left_out.size(), 1u);
  EXPECT_EQ(words.left_out.front().id, "a");
  EXPECT_TRUE(groups_with(words.sheets, "a").empty());
  EXPECT_FALSE(groups_with(words.sheets, "b").empty());
  const LabelSheets code =
      label_sheets(test_ruler(), {{"a", {"Zone 1"}, std::string(800, 'y')}}, generic_label_stock());
  ASSERT_EQ(code.messages.size(), 1u);
  EXPECT_EQ(code.messages.front().code, "label_code_too_large");
  // ISO/IEC 18004, table 7: the largest code, 40-M, holds 2331 bytes.
  EXPECT_TRUE(qr_modules(std::string(2331, 'y')));
  EXPECT_FALSE(qr_modules(std::string(2332, 'y')));
  const LabelSheets beyond =
      label_sheets(test_ruler(), {{"a", {"Zone 1"}, std::string(4000, 'y')}}, generic_label_stock());
  ASSERT_EQ(beyond.messages.size(), 1u);
  EXPECT_EQ(beyond.messages.front().code, "label_code_beyond");
}

TEST(Labels, ManyWithoutRoomAreToldInOneMessageByName) {
  std::vector<Label> labels;
  for (int i = 0; i < 20; ++i)
    for (const char* end : {"-from", "-to"})
      labels.push_back({"l" + std::to_string(i) + end, {"Z" + std::to_string(i) + std::string(900, 'x')}});
  const LabelSheets sheets = label_sheets(test_ruler(), labels, generic_label_stock());
  EXPECT_TRUE(sheets.sheets.empty());
  ASSERT_EQ(sheets.messages.size(), 1u);
  const std::string says = full_text(sheets.messages.front());
  EXPECT_NE(says.find("40 labels"), std::string::npos) << says;
  EXPECT_NE(says.find("14 more"), std::string::npos) << says;
}

// ISO/IEC 18004, table 7: 44 bytes are version 4 (33 modules) at level M and version 3 (29 modules) at level L.
TEST(Labels, ALongCodeGivesUpStrengthBeforeItIsLeftOut) {
  const std::string says(44, 'y');
  EXPECT_EQ(qr_modules(says), 33 + 8);
  EXPECT_EQ(qr_modules(says, QrStrength::low), 29 + 8);
  const LabelSheets made = label_sheets(test_ruler(), {{"a", {"Zone 1"}, says}}, generic_label_stock());
  EXPECT_TRUE(made.messages.empty());
  EXPECT_FALSE(groups_with(made.sheets, "a").empty());
}

TEST(QrCode, IsOneOutlineWithoutOpenEndsOrNeedlessCorners) {
  const QrDrawn code = qr_code("q", "https://192.168.10.20:8443/zones/z1", {10, 20}, 30);
  for (const drawing::Subpath& ring : code.shape.path) {
    EXPECT_TRUE(ring.closed);
    std::vector<drawing::Point> points = {ring.start};
    for (const drawing::Piece& piece : ring.pieces) points.push_back(piece.to);
    for (std::size_t i = 0; i < points.size(); ++i) {
      const drawing::Point a = points[i], b = points[(i + 1) % points.size()], c = points[(i + 2) % points.size()];
      const bool across = std::abs(a.y - b.y) < 1e-9, next_across = std::abs(b.y - c.y) < 1e-9;
      EXPECT_NE(across, next_across);
    }
  }
  const drawing::Box dark = drawing::bounds(code.shape.path);
  EXPECT_NEAR(dark.left - code.box.left, 4 * code.module_mm, 1e-9);
  EXPECT_NEAR(code.box.bottom - dark.bottom, 4 * code.module_mm, 1e-9);
  EXPECT_THROW(qr_code("q", std::string(5000, 'x'), {}, 30), std::invalid_argument);
}

}  // namespace
}  // namespace zoneproof::paper
