// An edit costs what it touches, and what is kept never changes a result: after each of a hundred random edits of the
// demo the views taken with what is kept are those of a fresh start, number for number.
#include "sight/kept_views.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <random>

#include "sight/small_site.hpp"
#include "sight/zone_view.hpp"

namespace zoneproof::sight {
namespace {

void tell(const Outlines& outlines, std::string& words) {
  for (const auto& ring : outlines) {
    words += "(";
    for (const plane::Point p : ring) words += std::to_string(p.x) + "," + std::to_string(p.y) + " ";
    words += ")";
  }
}

/// Everything of a view. Numbers that are not told to the last bit are told to 1e-6; the areas are told exactly.
std::string told(const ZoneView& view) {
  std::string words = view.zone;
  const auto exactly = [&](double value) {
    char bytes[32];
    std::snprintf(bytes, sizeof(bytes), " %a", value);
    words += bytes;
  };
  for (const std::string& camera : view.cameras) words += " " + camera;
  for (const chain::Gap& gap : view.gaps) words += " " + gap.reason + gap.pointer;
  const Coverage& coverage = view.coverage;
  for (const double value : {coverage.area_m2, coverage.witnessed_m2, view.worst_pct, view.worst_value}) exactly(value);
  words += view.worst_pointer;
  for (const auto& [camera, area] : coverage.by_camera_m2) words += " " + camera, exactly(area);
  for (const Patch& patch : coverage.patches) {
    words += "\npatch " + patch.level;
    for (const double value : {patch.floor_m, patch.area_m2, patch.inside.x, patch.inside.y}) exactly(value);
    tell(patch.outlines, words);
    for (const Cause& cause : patch.causes) {
      words += " " + cause.camera + " " + std::to_string(static_cast<int>(cause.why)) + " " +
               std::to_string(static_cast<int>(cause.thing_kind)) + cause.thing + cause.mask;
      exactly(cause.area_m2), exactly(cause.alone_m2);
    }
  }
  for (std::size_t i = 0; i < coverage.areas.size(); ++i) {
    words += "\narea " + coverage.area_levels[i];
    exactly(coverage.area_floors_m[i]);
    tell(coverage.areas[i], words);
  }
  if (coverage.worst) {
    words += "\nworst " + coverage.worst->camera + " " + coverage.worst->level;
    for (const double value : {coverage.worst->at.x, coverage.worst->at.y, coverage.worst->px_per_m,
                               coverage.worst->height_pct.value_or(-1.0)})
      exactly(value);
  }
  return words;
}

std::string all_told(const Json& file, KeptViews* kept) {
  const site::Site site = site_of(file);
  const Scene scene(site, kept);
  std::string words;
  for (const auto& [id, zone] : site.zones) words += told(scene.view(id, true)) + "\n";
  return words;
}

/// What an edit cost.
struct Cost {
  std::size_t found, given;
  friend bool operator==(const Cost&, const Cost&) = default;
};
void PrintTo(const Cost& cost, std::ostream* out) { *out << cost.found << " found, " << cost.given << " computed"; }

class Asking {
 public:
  Cost ask(const Json& file) {
    const Cost before = {kept_.found(), kept_.given()};
    last = all_told(file, &kept_);
    return {kept_.found() - before.found, kept_.given() - before.given};
  }
  std::string last;

 private:
  KeptViews kept_;
};

TEST(KeptViews, AnEditCostsTheZonesThatItTouches) {
  Asking asking;
  const Json file = two_yards();
  EXPECT_EQ(asking.ask(file), (Cost{0, 2}));
  const std::string first = asking.last;
  EXPECT_EQ(asking.ask(file), (Cost{2, 0})) << "nothing has changed";

  Json far = file;
  far["walls"]["far"] = wall(500, 0, 500, 20);
  EXPECT_EQ(asking.ask(far), (Cost{2, 0})) << "a wall in another place";
  EXPECT_EQ(asking.last, first);

  Json near = far;
  near["walls"]["near"] = wall(-1, 2, 0, 2, 3.0);
  EXPECT_EQ(asking.ask(near), (Cost{1, 1})) << "a wall between an eye and its area";
  EXPECT_NE(asking.last, first);
  EXPECT_EQ(asking.last, all_told(near, nullptr));

  near["walls"]["near"]["path"] = outline({{-1, 3}, {0, 3}});
  EXPECT_EQ(asking.ask(near), (Cost{1, 1})) << "the same wall, moved";
  EXPECT_EQ(asking.last, all_told(near, nullptr));

  EXPECT_EQ(asking.ask(file), (Cost{2, 0})) << "all taken back";
  EXPECT_EQ(asking.last, first);
}

/// Everything else that a view rests on, one by one; the second zone is never computed again for it.
TEST(KeptViews, EachNumberThatAViewRestsOnMakesItNew) {
  const Json file = two_yards();
  const auto changed = [&](const char* pointer, const Json& value) {
    Json other = file;
    other[Json::json_pointer(pointer)] = value;
    return other;
  };
  const std::vector<std::pair<const char*, Json>> edits = {
      {"/cameras/c1/mount/x_m", 0.1},
      {"/cameras/c1/mount/z_m", 1.4},
      {"/cameras/c1/mount/bearing_deg", 2},
      {"/cameras/c1/mount/tilt_deg", -2},
      {"/cameras/c1/mount/roll_deg", 3},
      {"/cameras/c1/turn", "left"},
      {"/cameras/c1/encoded_width_px", 1280},
      {"/detectors/d1/watched", box(-1, 4, 1, 6.5)},
      {"/channels/ch1/camera", "c2"},
      {"/cameras/c1/masks",
       {{"m",
         {{"outline",
           {{{"across_pct", 0}, {"down_pct", 0}},
            {{"across_pct", 50}, {"down_pct", 0}},
            {{"across_pct", 50}, {"down_pct", 100}}}}}}}},
      {"/cameras/c1/mount/tilt_deg", {{"value", 0}, {"plus", 1}, {"minus", 1}}}};
  for (const auto& [pointer, value] : edits) {
    SCOPED_TRACE(pointer);
    Asking asking;
    asking.ask(file);
    const Json other = changed(pointer, value);
    EXPECT_EQ(asking.ask(other), (Cost{1, 1}));
    EXPECT_EQ(asking.last, all_told(other, nullptr));
  }
  // What is asked of a picture and the level that all stand on concern both.
  for (const auto& [pointer, value] :
       std::vector<std::pair<const char*, Json>>{{"/levels/ground/ceiling_m", 3},
                                                 {"/levels/ground/elevation_m", 1},
                                                 {"/levels/ground/lit", false},
                                                 {"/rulebook/view_rule", "identify_2014_px_per_m"},
                                                 {"/rulebooks/european_intruder/entries/view_to_m/value", 1.8}}) {
    SCOPED_TRACE(pointer);
    Asking asking;
    asking.ask(file);
    const Json other = changed(pointer, value);
    EXPECT_EQ(asking.ask(other), (Cost{0, 2}));
    EXPECT_EQ(asking.last, all_told(other, nullptr));
  }
}

TEST(KeptViews, ACameraOfTheDemoTurnedConcernsItsOwnZoneAlone) {
  Asking asking;
  const Json file = demo_json("kiln-yard.site.json");
  EXPECT_EQ(asking.ask(file), (Cost{0, 8}));
  Json other = file;
  other["cameras"]["c_office"]["mount"]["bearing_deg"] = 215;
  EXPECT_EQ(asking.ask(other), (Cost{7, 1}));
  EXPECT_EQ(asking.last, all_told(other, nullptr));
  EXPECT_EQ(asking.ask(file), (Cost{8, 0}));
}

/// A person at the page: something is moved, turned, opened or put back.
class Hand {
 public:
  explicit Hand(Json file) : right_(file), file_(std::move(file)) {}

  const Json& edit() {
    switch (upto(6)) {
      case 0: move_wall(); break;
      case 1: move_mount("cameras"); break;
      case 2: move_mount("detectors"); break;
      case 3: pick("openings")["state"] = std::vector<Json>{"open", "closed", "either"}[upto(3)]; break;
      case 4: move_block(); break;
      default: put_back();
    }
    return file_;
  }

 private:
  std::size_t upto(std::size_t count) { return std::uniform_int_distribution<std::size_t>(0, count - 1)(random_); }
  double by(double most) { return std::uniform_real_distribution<double>(-most, most)(random_); }
  Json& pick(const char* collection) {
    Json& all = file_[collection];
    auto at = all.begin();
    std::advance(at, upto(all.size()));
    return at.value();
  }
  static void add(Json& to, const char* key, double by) { to[key] = to[key].get<double>() + by; }

  /// An inner wall across its length: its openings stay within it.
  void move_wall() {
    static const std::vector<std::pair<const char*, const char*>> inner = {
        {"w_office_kiln", "x_m"}, {"w_shop_office", "x_m"}, {"w_store", "x_m"}, {"w_middle", "y_m"}};
    const auto& [id, key] = inner[upto(inner.size())];
    const double step = by(0.3);
    for (Json& corner : file_["walls"][id]["path"]) add(corner, key, step);
  }
  void move_mount(const char* collection) {
    Json& mount = pick(collection)["mount"];
    switch (upto(4)) {
      case 0: add(mount, "x_m", by(0.1)); break;
      case 1: add(mount, "z_m", by(0.1)); break;
      case 2: add(mount, "bearing_deg", by(10)); break;
      default: add(mount, "tilt_deg", by(3));
    }
    mount["bearing_deg"] = std::fmod(mount["bearing_deg"].get<double>() + 360.0, 360.0);
  }
  void move_block() {
    Json& block = pick("blocks");
    const double east = by(0.5), north = by(0.5);
    for (Json& corner : block["outline"]) add(corner, "x_m", east), add(corner, "y_m", north);
  }
  void put_back() {
    static const std::vector<const char*> collections = {"walls", "cameras", "detectors", "openings", "blocks"};
    const char* collection = collections[upto(collections.size())];
    file_[collection] = right_[collection];
  }

  Json right_, file_;
  std::mt19937 random_{20261};
};

TEST(KeptViews, AHundredEditsGiveWhatAFreshStartGives) {
  Hand hand(demo_json("kiln-yard.site.json"));
  Asking asking;
  Cost sum = {0, 0};
  for (int i = 0; i < 100; ++i) {
    SCOPED_TRACE(i);
    const Json& file = hand.edit();
    const Cost cost = asking.ask(file);
    sum = {sum.found + cost.found, sum.given + cost.given};
    ASSERT_EQ(asking.last, all_told(file, nullptr));
  }
  EXPECT_EQ(sum.found + sum.given, 800U);
  EXPECT_GT(sum.found, sum.given) << "most edits touch few zones";
  RecordProperty("found", static_cast<int>(sum.found));
}

}  // namespace
}  // namespace zoneproof::sight
