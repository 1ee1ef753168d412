// Where names, numbers and letters of an expected picture stand.
#include "sheets/view_labels.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "drawing/specimen.hpp"
#include "sight/reasons.hpp"

namespace zoneproof::sheets {
namespace {

using drawing::Box;
using sight::PicturePlace;
using sight::SurfaceRole;

/// A picture by hand, 1 mm to a pixel, 120 by 80, with its corner at (0, 0).
struct ByHand {
  ByHand() {
    view.width_px = 120;
    view.height_px = 80;
    view.border = ring({0, 0, 120, 80});
    frame = {{0, 0, 120, 80}, 1.0};
  }
  static std::vector<PicturePlace> ring(const Box& box) {
    return {{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
  }
  void add(SurfaceRole role, const std::string& id, const Box& box) {
    view.areas.push_back({view.surfaces.size(), {ring(box)}});
    view.surfaces.push_back({role, sight::kNothing, id, role == SurfaceRole::person, false});
    (role == SurfaceRole::person ? words.persons : words.patches).push_back({id, "says"});
  }
  ViewLabels labels() const { return view_labels(drawing::test_ruler(), view, words, frame); }

  sight::ExpectedView view;
  ExpectedViewWords words;
  PictureFrame frame;
};

/// Texts and leaders of labels that enter a box.
int meeting(const ViewLabels& labels, const Box& box) {
  int count = 0;
  each(
      labels.group,
      [&](const drawing::Shape& shape) {
        if (!shape.stroke) return;
        for (const drawing::Subpath& path : shape.path)
          for (const drawing::Piece& piece : path.pieces)
            count += cross(drawing::Line{path.start, piece.to}, box) ? 1 : 0;
      },
      [&](const drawing::TextLine& text) { count += overlap(text.box(), box) ? 1 : 0; });
  return count;
}

/// A number that has no room in its patch goes to the upper right of it by habit; here a person stands there.
TEST(ViewLabels, StandClearOfPersons) {
  ByHand picture;
  const Box person = {61, 20, 75, 62};
  picture.add(SurfaceRole::patch, "small", {58, 50, 60, 52});
  EXPECT_GT(meeting(picture.labels(), person), 0) << "nobody there";
  picture.add(SurfaceRole::person, "one", person);
  const ViewLabels labels = picture.labels();
  EXPECT_EQ(meeting(labels, person), 0);
  EXPECT_THAT(labels.unnamed, testing::IsEmpty());
}

/// A row of patches that fill each other's places: their leaders go around whoever stands beside them.
TEST(ViewLabels, DrawLeadersAroundPersons) {
  ByHand picture;
  for (int i = 0; i < 6; ++i)
    picture.add(SurfaceRole::patch, fmt::format("small-{}", i), {50, 30.0 + i, 50.4, 30.4 + i});
  const Box person = {55, 20, 63, 60};
  EXPECT_GT(meeting(picture.labels(), person), 0) << "nobody there";
  picture.add(SurfaceRole::person, "one", person);
  const ViewLabels labels = picture.labels();
  EXPECT_EQ(meeting(labels, person), 0);
}

/// A number that the list refers to matters more than a clean body.
TEST(ViewLabels, StandOnAPersonWhereThereIsNoOtherPlace) {
  ByHand picture;
  picture.add(SurfaceRole::person, "all", {0, 0, 120, 80});
  picture.add(SurfaceRole::patch, "small", {60, 40, 60.5, 40.5});
  EXPECT_GE(meeting(picture.labels(), {1, 1, 119, 79}), 2);
  EXPECT_THAT(picture.labels().unnamed, testing::IsEmpty());
}

/// However the height of the lens lies in the picture, its name is clear of the line and of the border.
TEST(ViewLabels, KeepTheHorizonsNameOffTheBorder) {
  int named = 0, asked = 0;
  for (int i = 0; i <= 200; ++i) {
    for (const double slope : {0.0, 0.1, -0.1}) {
      ByHand picture;
      const double left = 0.4 * i, right = left + slope * 120;
      if (std::min(left, right) < 0.2 || std::max(left, right) > 79.8) continue;
      ++asked;
      picture.view.horizon = {{{0, left}, {60, (left + right) / 2}, {120, right}}};
      const ViewLabels labels = picture.labels();
      each(
          labels.group, [](const drawing::Shape&) {},
          [&](const drawing::TextLine& text) {
            ++named;
            EXPECT_TRUE(inside(grown(text.box(), 0.9), picture.frame.box)) << left << " " << slope;
            EXPECT_FALSE(cross(drawing::Line{{0, left}, {120, right}}, text.box())) << left << " " << slope;
          });
    }
  }
  // Above the line or below there is always room.
  EXPECT_EQ(named, asked);
  EXPECT_GT(asked, 500);
}

/// In a round picture too, whose border is not the frame of its clip.
TEST(ViewLabels, KeepTheHorizonsNameWithinARoundPicture) {
  for (int i = 5; i < 35; ++i) {
    ByHand picture;
    picture.view.border.clear();
    for (int k = 0; k < 360; ++k) {
      const double turn = k * 0.0174533;
      picture.view.border.push_back({60 + 40 * std::cos(turn), 40 + 40 * std::sin(turn)});
    }
    const double y = 1.0 * i, half = std::sqrt(40.0 * 40.0 - (40.0 - y) * (40.0 - y));
    picture.view.horizon = {{{60 - half, y}, {60, y}, {60 + half, y}}};
    const Rings round = {picture.frame.points(picture.view.border)};
    each(
        picture.labels().group, [](const drawing::Shape&) {},
        [&](const drawing::TextLine& text) { EXPECT_TRUE(holds(round, grown(text.box(), 0.9))) << i; });
  }
}

}  // namespace
}  // namespace zoneproof::sheets
