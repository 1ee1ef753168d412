// Masks of a picture: under them nothing is seen, and everywhere else the picture is what it is without them.
#include <gtest/gtest.h>

#include <cmath>

#include "picture_query.hpp"
#include "random_building.hpp"
#include "random_camera.hpp"
#include "sight/picture.hpp"

namespace zoneproof::sight {
namespace {

/// Places nearer than this to the side of a mask are not asked: curves are chords within a quarter of a pixel.
constexpr double kAwayFromMask_px = 1.0;

/// A box and, with a bay cut into it, an outline that is not convex; anywhere in the picture, also over its border.
std::vector<CameraSetup::Mask> random_masks(std::mt19937_64& random, double width, double height) {
  const auto place = [&](double across, double down) { return PicturePlace{across * width, down * height}; };
  const double x = within(random, 0, 0.6), y = within(random, 0, 0.6), w = within(random, 0.1, 0.4);
  const double p = within(random, 0, 0.5), q = within(random, 0, 0.5), s = within(random, 0.2, 0.5);
  return {{"box", {place(x, y), place(x + w, y), place(x + w, y + w), place(x, y + w)}},
          {"bay", {place(p, q), place(p + s, q), place(p + s / 3, q + s / 3), place(p, q + s)}}};
}

CameraModel masked_camera(const CameraModel& camera, std::mt19937_64& random) {
  CameraSetup setup = camera.setup();
  setup.masks = random_masks(random, camera.width_px(), camera.height_px());
  return CameraModel(setup);
}

PictureWish wish_of_everything() {
  PictureWish wish;
  wish.level = "ground";
  wish.marks = {{SurfaceRole::area, "area", {{{2, 2}, {14, 3}, {15, 13}, {4, 12}}}, 0.0}};
  wish.persons = {{"one", {8.0, 8.0}, 0.0, 1.7}, {"two", {4.0, 12.0}, 0.0, 1.7}};
  return wish;
}

/// By the corners alone: even-odd.
bool covered(const std::vector<CameraSetup::Mask>& masks, PicturePlace p) {
  for (const CameraSetup::Mask& mask : masks)
    if (crosses_evenly(
            mask.corners, p.across_px, p.down_px, [](const PicturePlace& q) { return q.across_px; },
            [](const PicturePlace& q) { return q.down_px; }))
      return true;
  return false;
}

/// Covered, or free, with all places as far as `kAwayFromMask_px` in eight directions.
bool clearly(bool under, const std::vector<CameraSetup::Mask>& masks, PicturePlace p) {
  for (int i = 0; i < 8; ++i) {
    const PicturePlace q = {p.across_px + kAwayFromMask_px * std::cos(i * 0.7854),
                            p.down_px + kAwayFromMask_px * std::sin(i * 0.7854)};
    if (covered(masks, q) != under) return false;
  }
  return covered(masks, p) == under;
}

/// Places along lines, seventeen to a straight piece.
std::vector<PicturePlace> along(const std::vector<std::vector<PicturePlace>>& lines) {
  std::vector<PicturePlace> all;
  for (const auto& line : lines) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const PicturePlace a = line[i], b = line[i + 1];
      for (double share = 0.0; share <= 1.0; share += 0.0625)
        all.push_back({a.across_px + share * (b.across_px - a.across_px), a.down_px + share * (b.down_px - a.down_px)});
    }
  }
  return all;
}

std::vector<PicturePlace> on_edges(const ExpectedView& view) {
  std::vector<std::vector<PicturePlace>> lines;
  for (const SeenEdge& edge : view.edges) lines.push_back(edge.points);
  return along(lines);
}

/// The narrower the picture, the less is in it.
int scenes(Bend bend) { return bend == Bend::fisheye ? 10 : 60; }

class PictureMasks : public testing::TestWithParam<Bend> {};

TEST_P(PictureMasks, NothingIsSeenUnderThem) {
  std::mt19937_64 random(91);
  int asked = 0, lines_without = 0;
  for (int i = 0; i < scenes(GetParam()); ++i) {
    const Building building = random_building(random, i % 2 == 0);
    const CameraModel open = camera_in(building, random_camera(random, GetParam()), random);
    const CameraModel camera = masked_camera(open, random);
    const auto& masks = camera.setup().masks;
    const ExpectedView view = expected_view(camera, building, wish_of_everything());
    const PictureQuery query(view);
    for (int k = 0; k < 400; ++k) {
      const PicturePlace place = {within(random, 0, view.width_px), within(random, 0, view.height_px)};
      if (!clearly(true, masks, place)) continue;
      ++asked;
      ASSERT_TRUE(camera.masked(place));
      EXPECT_EQ(query.hiding_at(place), kNothing) << i << " at " << place.across_px << ", " << place.down_px;
      EXPECT_FALSE(query.shows(place, SurfaceRole::area));
    }
    for (const PicturePlace p : on_edges(view)) EXPECT_FALSE(clearly(true, masks, p)) << i << " " << p.across_px;
    for (const PicturePlace p : along(view.horizon)) EXPECT_FALSE(clearly(true, masks, p)) << i << " " << p.across_px;
    for (const PicturePlace p : on_edges(expected_view(open, building, wish_of_everything())))
      lines_without += clearly(true, masks, p) ? 1 : 0;
  }
  EXPECT_GT(asked, 500);
  // There would have been lines.
  EXPECT_GT(lines_without, 100);
}

TEST_P(PictureMasks, ElsewhereThePictureStaysAsItIs) {
  std::mt19937_64 random(92);
  int asked = 0, lines = 0;
  for (int i = 0; i < scenes(GetParam()); ++i) {
    const Building building = random_building(random, i % 2 == 0);
    const CameraModel open = camera_in(building, random_camera(random, GetParam()), random);
    const CameraModel camera = masked_camera(open, random);
    const auto& masks = camera.setup().masks;
    const ExpectedView view = expected_view(camera, building, wish_of_everything());
    const ExpectedView plain = expected_view(open, building, wish_of_everything());
    const PictureQuery query(view), known(plain);
    for (int k = 0; k < 400; ++k) {
      const PicturePlace place = {within(random, 0, view.width_px), within(random, 0, view.height_px)};
      if (!clearly(false, masks, place) || known.to_nearest_line(place) < kAwayFromMask_px) continue;
      ++asked;
      EXPECT_EQ(query.hiding_at(place), known.hiding_at(place)) << i << " " << place.across_px << ", " << place.down_px;
      EXPECT_EQ(query.shows(place, SurfaceRole::area), known.shows(place, SurfaceRole::area));
    }
    for (const PicturePlace p : on_edges(plain)) {
      if (!clearly(false, masks, p)) continue;
      ++lines;
      EXPECT_LT(query.to_nearest_line(p), kAwayFromMask_px) << i << " at " << p.across_px << ", " << p.down_px;
    }
  }
  EXPECT_GT(asked, 2000);
  EXPECT_GT(lines, 500);
}

INSTANTIATE_TEST_SUITE_P(Of, PictureMasks, testing::Values(Bend::none, Bend::radial, Bend::tangential, Bend::fisheye));

}  // namespace
}  // namespace zoneproof::sight
