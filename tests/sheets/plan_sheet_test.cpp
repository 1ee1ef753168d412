// The plan of a level: what it promises to those who read it, held against the site and against second methods.
#include "sheets/plan_sheet.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <regex>
#include <set>

#include "drawing/faults.hpp"
#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "sheets/plan_density.hpp"
#include "sheets/plan_numbers.hpp"
#include "sheets/plan_site.hpp"
#include "sight/words.hpp"

namespace zoneproof::sheets {
namespace {

using drawing::Box;
using drawing::Group;
using drawing::Item;
using drawing::Point;
using drawing::Shape;
using drawing::Sheet;
using drawing::TextLine;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

const SeenSite& depot() {
  static const std::unique_ptr<SeenSite> site = made_up_depot();
  return *site;
}

PlanOptions with_camera(const std::string& camera) {
  PlanOptions options;
  options.camera = camera;
  options.density = true;
  return options;
}

std::vector<Sheet> plans(const SeenSite& site, const PlanOptions& options) {
  return plans_of_levels(drawing::test_ruler(), *site.scene, site.views, options);
}

std::vector<Sheet> ground(const SeenSite& site, const PlanOptions& options = {}) {
  return plan_of_level(drawing::test_ruler(), *site.scene, site.views, "ground", options);
}

/// Everything with an id, in drawing order.
void collect(const Group& group, std::multimap<std::string, const Item*>& found) {
  for (const Item& item : group.items) {
    const auto id = std::visit([](const auto& what) { return what.name.id; }, item.what);
    if (!id.empty()) found.emplace(id, &item);
    if (const auto* inner = std::get_if<Group>(&item.what)) collect(*inner, found);
  }
}
std::multimap<std::string, const Item*> by_id(const Sheet& sheet) {
  std::multimap<std::string, const Item*> found;
  collect(sheet.content, found);
  return found;
}

const Shape& shape(const Sheet& sheet, const std::string& id) {
  const auto found = by_id(sheet);
  const auto at = found.find(id);
  if (at == found.end()) throw std::runtime_error("nothing has the id " + id);
  return std::get<Shape>(at->second->what);
}

std::vector<TextLine> texts(const Sheet& sheet) {
  std::vector<TextLine> found;
  drawing::each(
      sheet.content, [](const Shape&) {}, [&](const TextLine& line) { found.push_back(line); });
  return found;
}
bool says(const Sheet& sheet, const std::string& part) {
  const std::vector<TextLine> all = texts(sheet);
  return std::any_of(all.begin(), all.end(),
                     [&](const auto& line) { return line.content.find(part) != std::string::npos; });
}
/// All of a list in one string, so that broken lines are one sentence again.
std::string words(const std::vector<Sheet>& sheets) {
  std::string all;
  for (const Sheet& sheet : sheets)
    for (const TextLine& line : texts(sheet)) all += line.content + " ";
  return all;
}

double scale_of(const Sheet& sheet) {
  for (const TextLine& line : texts(sheet)) {
    std::smatch found;
    if (line.name.id.starts_with("title-scale") && std::regex_match(line.content, found, std::regex("1:(\\d+)")))
      return std::stod(found[1]);
  }
  return 0.0;
}

/// From paper back to the site by the corners of a wall that is known: 24 m by 14 m with its corner at (0, 0).
struct BackToSite {
  Box outer;
  explicit BackToSite(const Sheet& sheet) : outer(drawing::bounds(shape(sheet, "wall-outer").path)) {}
  plane::Point operator()(Point p) const {
    return {(p.x - outer.left) / outer.width() * 24.0, (outer.bottom - p.y) / outer.height() * 14.0};
  }
};

/// Crossing numbers, as every text book has them.
bool in_rings(const sight::Outlines& rings, plane::Point p) {
  bool inside = false;
  for (const auto& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const plane::Point a = ring[i], b = ring[(i + 1) % ring.size()];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
    }
  return inside;
}

// --- layout
// -----------------------------------------------------------------------------------------------------------

drawing::Document document(std::vector<Sheet> sheets) {
  drawing::Document made;
  made.title = "Plans";
  made.created = "2026-03-01T12:00:00Z";
  made.sheets = std::move(sheets);
  return made;
}

class PlanLayout : public ::testing::TestWithParam<PlanOptions> {};

TEST_P(PlanLayout, NoTextMeetsAnotherAndNothingLeavesTheFrame) {
  const std::vector<Sheet> sheets = plans(depot(), GetParam());
  ASSERT_FALSE(sheets.empty());
  for (const Sheet& sheet : sheets) {
    EXPECT_THAT(drawing::layout_faults(sheet), IsEmpty()) << sheet.name.id;
    const Box frame = grown(sheet.frame(), 1e-9);
    drawing::each(
        sheet.content,
        [&](const Shape& one) {
          EXPECT_TRUE(one.path.empty() || inside(drawing::bounds(one.path), frame)) << sheet.name.id << one.name.id;
        },
        [](const TextLine&) {});
  }
}

TEST_P(PlanLayout, IdsAreUniqueAndTheListIsADrawing) {
  EXPECT_THAT(drawing::faults(document(plans(depot(), GetParam()))), IsEmpty());
}

TEST_P(PlanLayout, EveryPatchIsOnOneSheetOnceWithItsNumberAndInTheListOnce) {
  const std::vector<Sheet> sheets = plans(depot(), GetParam());
  std::map<std::string, int> count;
  for (const Sheet& sheet : sheets)
    for (const auto& [id, item] : by_id(sheet)) ++count[id];
  const std::vector<NumberedPatch> patches = numbered_patches(depot().site, depot().views);
  ASSERT_GE(patches.size(), 6U);
  std::map<const sight::ZoneView*, std::set<std::size_t>> members;
  for (const NumberedPatch& one : patches) {
    const std::string number = std::to_string(one.number);
    for (const std::string& id : {"patch-" + number, "patch-" + number + "-hatch", "patch-" + number + "-number",
                                  "row-" + number, "row-" + number + "-number"})
      EXPECT_EQ(count[id], 1) << id;
    for (const std::size_t member : one.members) EXPECT_TRUE(members[one.view].insert(member).second);
  }
  for (const sight::ZoneView& view : depot().views)
    EXPECT_EQ(members[&view].size(), view.coverage.patches.size()) << view.zone;
}

// A page of one zone asks for its patches alone, and finds on them the numbers of the plan.
TEST(PlanNumbers, OfOneZoneAreThoseAmongAll) {
  std::map<std::string, std::vector<NumberedPatch>> of_zone;
  for (const NumberedPatch& one : numbered_patches(depot().site, depot().views)) of_zone[one.view->zone].push_back(one);
  ASSERT_GE(of_zone.size(), 2U);
  for (const sight::ZoneView& view : depot().views) {
    const std::vector<NumberedPatch> alone = numbered_patches(depot().site, depot().views, view.zone);
    const std::vector<NumberedPatch>& all = of_zone[view.zone];
    ASSERT_EQ(alone.size(), all.size()) << view.zone;
    for (std::size_t i = 0; i < alone.size(); ++i) {
      EXPECT_EQ(alone[i].number, all[i].number);
      EXPECT_EQ(alone[i].members, all[i].members);
      EXPECT_EQ(alone[i].stair, all[i].stair);
      EXPECT_DOUBLE_EQ(alone[i].patch.area_m2, all[i].patch.area_m2);
    }
  }
}

drawing::Format upright(double width, double height) { return {width, height}; }
PlanOptions on_paper(drawing::Format format) {
  PlanOptions options = with_camera("c_hall");
  options.format = format;
  return options;
}

INSTANTIATE_TEST_SUITE_P(Plans, PlanLayout,
                         ::testing::Values(PlanOptions{}, with_camera("c_hall"), with_camera("c_store"),
                                           on_paper(drawing::landscape(drawing::kA3)),
                                           on_paper(drawing::landscape(drawing::kA4)), on_paper(upright(841, 594))));

TEST(Plan, AListThatIsLongerThanItsColumnGoesOnOnFurtherSheets) {
  PlanOptions options = on_paper(drawing::landscape(drawing::kA4));
  const std::vector<Sheet> sheets = ground(depot(), options);
  ASSERT_GE(sheets.size(), 2U);
  for (std::size_t i = 0; i < sheets.size(); ++i)
    EXPECT_TRUE(says(sheets[i], fmt::format("{} of {}", i + 1, sheets.size()))) << i;
}

TEST(Plan, LevelsWithNothingOnThemHaveNoSheetAndTheOthersStandByHeight) {
  const std::vector<Sheet> sheets = plans(depot(), {});
  ASSERT_EQ(sheets.size(), 2U);
  EXPECT_EQ(sheets[0].name.id, "plan-ground");
  EXPECT_EQ(sheets[1].name.id, "plan-gallery");
  EXPECT_THAT(plan_of_level(drawing::test_ruler(), *depot().scene, depot().views, "roof", {}), IsEmpty());
  EXPECT_THROW(plan_of_level(drawing::test_ruler(), *depot().scene, depot().views, "cellar", {}),
               std::invalid_argument);
  EXPECT_THROW(ground(depot(), with_camera("c_none")), std::invalid_argument);
}

TEST(Plan, TheTitleSaysWhatIsDrawn) {
  PlanOptions options;
  options.date = "1 March 2026";
  const Sheet sheet = ground(depot(), options)[0];
  for (const char* part : {"Fallow Lane depot", "Ground floor", "1 March 2026", "1:100"})
    EXPECT_TRUE(says(sheet, part)) << part;
}

// --- geometry
// ---------------------------------------------------------------------------------------------------------

TEST(Plan, IsToScale) {
  const Sheet sheet = ground(depot())[0];
  ASSERT_EQ(scale_of(sheet), 100.0);
  const Box outer = drawing::bounds(shape(sheet, "wall-outer").path);
  EXPECT_NEAR(outer.width(), 240.0, 1e-9);   // 24 m
  EXPECT_NEAR(outer.height(), 140.0, 1e-9);  // 14 m
  const Box cage = drawing::bounds(shape(sheet, "wall-cage").path);
  EXPECT_NEAR(cage.width(), 40.0, 1e-9);
  EXPECT_NEAR(outer.right - cage.right, 0.0, 1e-9);
  EXPECT_NEAR(outer.top - cage.top, 0.0, 1e-9);  // north is above
}

TEST(Plan, OfASmallRoomIsLargerAndOnSmallerPaper) {
  const auto small = made_up_depot();
  for (auto* collection : {&small->site.openings}) collection->clear();
  site::Site& site = small->site;
  for (const char* wall : {"middle", "pane", "cage", "parapet", "lintel", "upper", "rail"}) site.walls.erase(wall);
  site.blocks.clear(), site.stairs.clear(), site.protected_places.clear(), site.privacy_areas.clear();
  site.detectors.clear(), site.cameras.clear(), site.channels.clear(), site.triggers.clear(), site.zones.clear();
  auto& path = site.walls.at("outer").path;
  for (site::PlanPoint& point : path) {
    point.x_m.nominal /= 10.0;
    point.y_m.nominal /= 10.0;
  }
  small->look();
  const Sheet sheet = ground(*small)[0];
  EXPECT_EQ(sheet.format.width_mm, drawing::kA4.height_mm);
  EXPECT_EQ(scale_of(sheet), 20.0);
  EXPECT_NEAR(drawing::bounds(shape(sheet, "wall-outer").path).width(), 2400.0 / 20.0, 1e-9);
  EXPECT_TRUE(says(sheet, "Nothing is unseen here"));
}

TEST(Plan, WallsTellHeightAndSurface) {
  const Sheet sheet = ground(depot())[0];
  const auto stroke = [&](const char* id) { return *shape(sheet, id).stroke; };
  EXPECT_GT(stroke("wall-outer").width_mm, stroke("wall-parapet").width_mm);
  EXPECT_THAT(stroke("wall-outer").dashes_mm, IsEmpty());
  EXPECT_FALSE(stroke("wall-cage").dashes_mm.empty());
  EXPECT_FALSE(stroke("wall-lintel").dashes_mm.empty());
  // Glass: two lines for each of the two pieces beside its door.
  EXPECT_EQ(shape(sheet, "wall-pane").path.size(), 4U);
  EXPECT_LT(stroke("wall-pane").width_mm, stroke("wall-parapet").width_mm);
}

/// Total length of a wall's lines.
double length_of(const Shape& drawn) {
  double sum = 0.0;
  for (const drawing::Subpath& path : drawn.path) {
    const drawing::Points points = drawing::flattened(path, 0.1);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) sum += length(points[i + 1] - points[i]);
    if (path.closed) sum += length(points.front() - points.back());
  }
  return sum;
}

TEST(Plan, WallsAreCutByTheirOpenings) {
  const Sheet sheet = ground(depot())[0];
  EXPECT_NEAR(length_of(shape(sheet, "wall-outer")), 10.0 * (2 * 24 + 2 * 14 - 2.5 - 1.0 - 1.6), 1e-6);
  EXPECT_NEAR(length_of(shape(sheet, "wall-middle")), 10.0 * (8 + 9 - 1.8 - 1.2), 1e-6);
}

// --- what is not seen
// -------------------------------------------------------------------------------------------------

TEST(Plan, OnlyBlindPatchesAreHatched) {
  const Sheet sheet = ground(depot())[0];
  const BackToSite back(sheet);
  int lines = 0;
  for (const NumberedPatch& one : patches_on_level(depot().site, depot().views, "ground")) {
    for (const drawing::Subpath& line : shape(sheet, fmt::format("patch-{}-hatch", one.number)).path) {
      const plane::Point middle = back((line.start + line.pieces.back().to) * 0.5);
      EXPECT_TRUE(in_rings(one.patch.outlines, middle)) << one.number << ": " << middle.x << ", " << middle.y;
      ++lines;
    }
  }
  EXPECT_GT(lines, 100);
}

TEST(Plan, TheListNamesCausesAndThePlanNamesWhatTheySpeakOf) {
  const std::vector<Sheet> sheets = ground(depot());
  const std::string all = words(sheets);
  for (const NumberedPatch& one : patches_on_level(depot().site, depot().views, "ground")) {
    const std::string causes = sight::causes_words(depot().site, one.patch);
    EXPECT_THAT(all, HasSubstr(causes.substr(0, causes.find(';')))) << one.number;
    for (const sight::Cause& cause : one.patch.causes) {
      if (cause.why != sight::Why::hidden || cause.thing_kind != sight::ThingKind::block) continue;
      EXPECT_TRUE(by_id(sheets[0]).contains("block-" + cause.thing + "-name")) << cause.thing;
    }
  }
  EXPECT_THAT(all, HasSubstr("Zone 1 Hall"));
}

TEST(Plan, AStairHasOneNumberForAllOfItsSteps) {
  int on_stair = 0;
  for (const NumberedPatch& one : patches_on_level(depot().site, depot().views, "ground")) {
    if (one.stair.empty()) continue;
    ++on_stair;
    EXPECT_GT(one.members.size(), 1U);
    double sum = 0.0;
    for (const std::size_t member : one.members) sum += one.view->coverage.patches[member].area_m2;
    EXPECT_NEAR(one.patch.area_m2, sum, 1e-9);
  }
  EXPECT_GE(on_stair, 1);
}

TEST(Plan, WhatIsNotKnownIsToldAndNotGuessed) {
  const auto site = made_up_depot();
  site->site.walls.at("parapet").top_m.state = site::Value::State::unknown;
  site->site.walls.at("cage").path[1].x_m.state = site::Value::State::unknown;
  site->site.cameras.at("c_store").mount.bearing_deg.state = site::Value::State::unknown;
  site->look();
  const std::vector<Sheet> sheets = ground(*site);
  EXPECT_THAT(words(sheets), HasSubstr("/walls/cage/path"));
  EXPECT_THAT(words(sheets), HasSubstr("/cameras/c_store/mount"));
  EXPECT_THAT(words(sheets), HasSubstr("its height or surface is not known"));
  EXPECT_FALSE(by_id(sheets[0]).contains("wall-cage"));
  EXPECT_FALSE(by_id(sheets[0]).contains("camera-c_store"));
  EXPECT_FALSE(shape(sheets[0], "wall-parapet").stroke->dashes_mm.empty());
  for (const Sheet& sheet : sheets) EXPECT_THAT(drawing::layout_faults(sheet), IsEmpty());
}

// --- the chosen camera
// ------------------------------------------------------------------------------------------------

/// Both ends of the band of heights that has to be seen, above a place.
std::array<sight::Vector3, 2> band_above(plane::Point p) {
  const sight::Demand& demand = depot().scene->rules().demand;
  return {{{p.x, p.y, demand.from_m}, {p.x, p.y, demand.to_m}}};
}

template <typename Visit>
void each_place(const Shape& lines, const BackToSite& back, const Visit& visit) {
  for (const drawing::Subpath& line : lines.path)
    for (const double share : {0.1, 0.5, 0.9}) visit(back(line.start + (line.pieces.back().to - line.start) * share));
}

TEST(PlanOfCamera, OnItsFrameOneEndOfTheBandLiesOnThePicturesEdgeAndBothLieInIt) {
  const Sheet sheet = ground(depot(), with_camera("c_hall"))[0];
  const sight::CameraModel& model = depot().scene->cameras().at("c_hall").watching->model;
  const BackToSite back(sheet);
  int places = 0;
  each_place(shape(sheet, "frame-c_hall-edge"), back, [&](plane::Point p) {
    double nearest = 1e9;
    for (const sight::Vector3 end : band_above(p)) {
      const auto place = model.place_of(end);
      ASSERT_TRUE(place.has_value());
      const double within = std::min(
          {place->across_px, model.width_px() - place->across_px, place->down_px, model.height_px() - place->down_px});
      EXPECT_GT(within, -2.0);
      nearest = std::min(nearest, std::abs(within));
    }
    EXPECT_LT(nearest, 2.0) << p.x << ", " << p.y;  // corners of regions lie on a grid of 0.12 mm
    ++places;
  });
  EXPECT_GT(places, 5);
}

TEST(PlanOfCamera, OnAContourAPersonHasSoManyPixelsToAMetre) {
  const Sheet sheet = ground(depot(), with_camera("c_hall"))[0];
  const sight::CameraModel& model = depot().scene->cameras().at("c_hall").watching->model;
  const BackToSite back(sheet);
  const std::vector<double> steps = density_steps(depot().site);
  EXPECT_THAT(steps, ::testing::ElementsAre(12.5, 25, 62.5, 125, 250, 1000));  // IEC 62676-4:2014, the choice's book
  int contours = 0;
  for (const double step : steps) {
    const std::string id = fmt::format("density-c_hall-{}", step);
    if (!by_id(sheet).contains(id)) continue;
    ++contours;
    each_place(shape(sheet, id), back, [&](plane::Point p) {
      double least = 1e9;
      for (const sight::Vector3 end : band_above(p)) {
        // A pinhole: focal length in pixels of the clip over depth, without the model's own density.
        const double depth = dot(model.forward(), end - model.eye());
        least = std::min(least, std::min(model.focal_across_px(), model.focal_down_px()) / depth);
      }
      EXPECT_NEAR(least, step, 1e-4 * step);
    });
    EXPECT_TRUE(by_id(sheet).contains(id + "-number"));
  }
  EXPECT_GE(contours, 3);
}

TEST(PlanOfCamera, OfAFisheyeAContourPromisesNoMoreThanThePictureHas) {
  const Sheet sheet = ground(depot(), with_camera("c_store"))[0];
  const sight::CameraModel& model = depot().scene->cameras().at("c_store").watching->model;
  const BackToSite back(sheet);
  int contours = 0;
  for (const double step : density_steps(depot().site)) {
    const std::string id = fmt::format("density-c_store-{}", step);
    if (!by_id(sheet).contains(id)) continue;
    ++contours;
    each_place(shape(sheet, id), back, [&](plane::Point p) {
      for (const sight::Vector3 end : band_above(p)) EXPECT_GT(model.pixels_per_metre(end), step * 0.999);
    });
  }
  EXPECT_GE(contours, 1);
}

TEST(PlanOfCamera, WithoutOneThereIsNoFrameAndTheRestIsTheSame) {
  const Sheet plain = ground(depot())[0];
  for (const auto& [id, item] : by_id(plain)) {
    EXPECT_FALSE(id.starts_with("frame-")) << id;
    EXPECT_FALSE(id.starts_with("density-")) << id;
  }
}

}  // namespace
}  // namespace zoneproof::sheets
