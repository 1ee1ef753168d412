// Masks on the sheet of an expected picture: where they are, what they look like, and that nothing is drawn in them.
#include "sheets/view_masks.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "drawing/faults.hpp"
#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "view_specimen.hpp"

namespace zoneproof::sheets {
namespace {

using drawing::Box;
using drawing::Point;

/// Half of the heaviest line, and the chords of a bent one.
constexpr double kHair_mm = 0.3;

const drawing::Group* group_of(const drawing::Group& within, const std::string& id) {
  if (within.name.id == id) return &within;
  for (const drawing::Item& item : within.items)
    if (const auto* group = std::get_if<drawing::Group>(&item.what))
      if (const auto* found = group_of(*group, id)) return found;
  return nullptr;
}

std::vector<drawing::Shape> shapes_of(const drawing::Group& group) {
  std::vector<drawing::Shape> all;
  each(
      group, [&](const drawing::Shape& shape) { all.push_back(shape); }, [](const drawing::TextLine&) {});
  return all;
}

std::vector<drawing::TextLine> lines_in(const drawing::Group& group) {
  std::vector<drawing::TextLine> all;
  each(
      group, [](const drawing::Shape&) {}, [&](const drawing::TextLine& text) { all.push_back(text); });
  return all;
}

Point part(const drawing::Line& line, double share) { return line.from + (line.to - line.from) * share; }

std::vector<drawing::Line> straight_pieces(const drawing::Shape& shape) {
  std::vector<drawing::Line> all;
  for (const drawing::Subpath& path : shape.path) {
    Point from = path.start;
    for (const drawing::Piece& piece : path.pieces) all.push_back({from, piece.to}), from = piece.to;
  }
  return all;
}

/// The sheet of the masked specimen, and where its masks ought to be: their corners as shares of the picture's frame.
/// Without `with` the sheet of the specimen without masks, and where they would be.
struct Masked {
  explicit Masked(SpecimenLens lens, drawing::Format format = drawing::landscape(drawing::kA4), bool with = true)
      : specimen(view_specimen(lens, with)) {
    specimen.words.format = format;
    sheet = expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words);
    const auto shapes = shapes_of(*group_of(sheet.content, "view"));
    const auto clip =
        std::find_if(shapes.begin(), shapes.end(), [](const auto& s) { return s.name.id == "view-clip"; });
    picture = drawing::bounds(clip->path);
    const ViewSpecimen known = view_specimen(lens, true);
    for (const auto& mask : known.camera->setup().masks) {
      masks.push_back({{}});
      for (const auto& corner : mask.corners)
        masks.back().front().push_back(
            {picture.left + corner.across_px / specimen.camera->width_px() * picture.width(),
             picture.top + corner.down_px / specimen.camera->height_px() * picture.height()});
    }
  }
  /// Within a mask and no nearer to its side than a hair.
  bool deep_in_a_mask(Point p) const {
    return std::any_of(masks.begin(), masks.end(), [&](const Rings& mask) {
      return holds(mask, Box{p.x - kHair_mm, p.y - kHair_mm, p.x + kHair_mm, p.y + kHair_mm});
    });
  }
  ViewSpecimen specimen;
  drawing::Sheet sheet;
  Box picture;
  std::vector<Rings> masks;
};

class ViewMasks : public testing::TestWithParam<SpecimenLens> {};

TEST_P(ViewMasks, AreStraightOutlinesWhereTheFilePutsThem) {
  const Masked masked(GetParam());
  const drawing::Group* group = group_of(masked.sheet.content, "view-masks");
  ASSERT_NE(group, nullptr);
  std::vector<drawing::Shape> outlines;
  for (const drawing::Shape& shape : shapes_of(*group))
    if (shape.stroke && shape.path.size() == 1 && shape.path[0].closed) outlines.push_back(shape);
  ASSERT_EQ(outlines.size(), masked.masks.size());
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    const auto& corners = masked.masks[i].front();
    const auto sides = straight_pieces(outlines[i]);
    ASSERT_EQ(sides.size() + 1, corners.size());
    for (std::size_t k = 0; k < sides.size(); ++k) {
      EXPECT_NEAR(sides[k].to.x, corners[k + 1].x, 1e-9);
      EXPECT_NEAR(sides[k].to.y, corners[k + 1].y, 1e-9);
    }
  }
}

/// Blind patches are hatched one way; a mask both ways, so that black and white tells them apart too.
TEST_P(ViewMasks, AreCrosshatchedAndBlindPatchesAreNot) {
  const Masked masked(GetParam());
  const auto ways = [&](const char* id) {
    std::set<bool> rising;
    for (const drawing::Shape& shape : shapes_of(*group_of(masked.sheet.content, id))) {
      if (shape.path.size() < 2) continue;
      for (const drawing::Line& line : straight_pieces(shape))
        rising.insert((line.to.x - line.from.x) * (line.to.y - line.from.y) < 0.0);
    }
    return rising.size();
  };
  EXPECT_EQ(ways("view-masks"), 2U);
  EXPECT_EQ(ways("view-blind"), 1U);
}

TEST_P(ViewMasks, HaveNothingDrawnInThem) {
  const Masked masked(GetParam()), open(GetParam(), drawing::landscape(drawing::kA4), false);
  const auto crossings = [](const Masked& of) {
    int inside = 0;
    const drawing::Group& view = *group_of(of.sheet.content, "view");
    for (const drawing::Item& item : view.items) {
      if (const auto* group = std::get_if<drawing::Group>(&item.what); group && group->name.id == "view-masks")
        continue;
      drawing::Group one;
      one.items = {item};
      for (const drawing::Shape& shape : shapes_of(one))
        for (const drawing::Line& line : straight_pieces(shape))
          for (int i = 0; i <= 20; ++i) inside += of.deep_in_a_mask(part(line, i / 20.0)) ? 1 : 0;
    }
    return inside;
  };
  EXPECT_EQ(crossings(masked), 0);
  EXPECT_GT(crossings(open), 20) << "without masks there are lines";
}

TEST_P(ViewMasks, HaveTheirNamesInThemOrBesideAndNoOther) {
  for (const drawing::Format format : {drawing::landscape(drawing::kA4), drawing::landscape(drawing::kLetter),
                                       drawing::kA4, drawing::landscape(drawing::kA3)}) {
    const Masked masked(GetParam(), format);
    EXPECT_THAT(drawing::layout_faults(masked.sheet), testing::IsEmpty());
    drawing::Document document;
    document.created = "2026-03-01T12:00:00Z";
    document.sheets = {masked.sheet};
    EXPECT_THAT(drawing::faults(document), testing::IsEmpty());
    std::vector<std::string> names;
    for (const drawing::TextLine& text : lines_in(*group_of(masked.sheet.content, "view-labels"))) {
      const bool of_mask = text.name.id.rfind("mask-", 0) == 0;
      if (of_mask) names.push_back(text.content);
      const Box box = text.box();
      const bool in_it = of_mask && std::any_of(masked.masks.begin(), masked.masks.end(),
                                                [&](const Rings& mask) { return holds(mask, box); });
      for (int i = 0; !in_it && i <= 20; ++i)
        EXPECT_FALSE(masked.deep_in_a_mask({box.left + i / 20.0 * box.width(), box.centre().y})) << text.content;
      // Lying paper has room for the one name and not for the other.
      if (format.width_mm < format.height_mm) continue;
      EXPECT_TRUE(text.name.id != "mask-garden" || in_it);
      EXPECT_FALSE(text.name.id == "mask-way" && in_it);
    }
    EXPECT_THAT(names, testing::UnorderedElementsAre("Neighbour's garden", "Public way beyond the gate", "mask"));
  }
}

TEST_P(ViewMasks, AreInTheLegendAndInTheDescriptionWhereOneOccurs) {
  const auto told = [](const ViewSpecimen& specimen) {
    const drawing::Sheet sheet =
        expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words);
    int count = 0;
    for (const drawing::TextLine& text : lines_in(sheet.content))
      count += text.content.find("the camera blacks this out") != std::string::npos ? 1 : 0;
    return std::pair(count, sheet.description.find("Masked parts of the picture: 3.") != std::string::npos);
  };
  EXPECT_EQ(told(view_specimen(GetParam(), true)), std::pair(1, true));
  EXPECT_EQ(told(view_specimen(GetParam(), false)), std::pair(0, false));
}

INSTANTIATE_TEST_SUITE_P(Of, ViewMasks,
                         testing::Values(SpecimenLens::pinhole, SpecimenLens::barrel, SpecimenLens::fisheye));

}  // namespace
}  // namespace zoneproof::sheets
