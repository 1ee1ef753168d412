// The building and what looks at it: what cannot be is refused with its place, cause and remedy.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_patch.hpp"
#include "site/file.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kYard = R"({
  "format": "zoneproof-site", "version": 3, "name": "Yard", "origin": "measured",
  "levels": {"ground": {"name": "Ground floor", "elevation_m": 0, "ceiling_m": 3}},
  "walls": {
    "north": {"level": "ground", "path": [{"x_m": 0, "y_m": 6}, {"x_m": 8, "y_m": 6}, {"x_m": 8, "y_m": 0}],
              "bottom_m": 0, "top_m": 2.8, "surface": "solid"},
    "fence": {"level": "ground", "path": [{"x_m": 0, "y_m": 0}, {"x_m": 8, "y_m": 0}], "bottom_m": 0, "top_m": 2,
              "surface": "mesh", "transmission_pct": 80}},
  "openings": {"gate": {"wall": "north", "stretch": 2, "along_m": 1, "width_m": 0.9, "sill_m": 0, "head_m": 2.1,
                        "kind": "door", "state": "closed", "leaf": "solid"}},
  "blocks": {"rack": {"level": "ground", "kind": "racking", "bottom_m": 0, "top_m": 2, "fill": "solid",
                      "outline": [{"x_m": 1, "y_m": 1}, {"x_m": 3, "y_m": 1}, {"x_m": 3, "y_m": 2}, {"x_m": 1, "y_m": 2}]}},
  "stairs": {"flight": {"level": "ground", "foot": {"x_m": 5, "y_m": 1}, "head": {"x_m": 5, "y_m": 4}, "width_m": 1,
                        "rise_m": 3, "steps": 16, "below": "open"}},
  "privacy_areas": {"desk": {"level": "ground",
                             "outline": [{"x_m": 6, "y_m": 4}, {"x_m": 7, "y_m": 4}, {"x_m": 7, "y_m": 5}]}},
  "parts": {
    "eye": {"kind": "camera", "camera": {"width_px": 1920, "height_px": 1080, "pixel_um": 2.9, "infrared_reach_m": 20}},
    "zoom": {"kind": "lens", "lens": {"projection": "pinhole", "focal_min_mm": 2.8, "focal_max_mm": 12, "k1_coefficient": -0.1,
                                      "p1_coefficient": 0.001}}},
  "units": {"unit": {"name": "Video unit"}},
  "cameras": {"c1": {"part": "eye", "lens": "zoom", "focal_mm": 4, "turn": "upright", "encoded_width_px": 1280,
                     "encoded_height_px": 720,
                     "mount": {"level": "ground", "x_m": 0.2, "y_m": 5.8, "z_m": 2.6, "bearing_deg": 130, "tilt_deg": -20,
                               "roll_deg": 0},
                     "masks": {"window": {"outline": [{"across_pct": 0, "down_pct": 0}, {"across_pct": 20, "down_pct": 0},
                                                      {"across_pct": 20, "down_pct": 30}]}}}},
  "recorders": {"box": {"name": "Recorder"}},
  "channels": {"one": {"unit": "unit", "number": 1, "camera": "c1", "recorder": "box", "recorder_channel": 1},
               "two": {"unit": "unit", "number": 2, "camera": "c1", "recorder": "none", "live_only": true}}
})";

TEST(Scene, AYardIsReadAndWrittenAsItStands) {
  const ReadResult first = read_site(kYard, "yard.site.json");
  for (const Message& message : first.messages) ADD_FAILURE() << full_text(message);
  ASSERT_TRUE(first.site.has_value());
  EXPECT_EQ(first.site->walls.at("north").path.size(), 3U);
  EXPECT_DOUBLE_EQ(first.site->cameras.at("c1").focal_mm.nominal, 4.0);
  EXPECT_EQ(first.site->cameras.at("c1").focal_mm.origin, Origin::measured);
  const std::string text = write_site(*first.site);
  const ReadResult second = read_site(text, "yard.site.json");
  ASSERT_TRUE(second.site.has_value());
  EXPECT_EQ(write_site(*second.site), text);
}

struct Wrong {
  const char* name;
  const char* patch;
  const char* code;
  const char* place;
};

class SceneFault : public testing::TestWithParam<Wrong> {};

TEST_P(SceneFault, IsNamedOnceWhereItStands) {
  Json yard = Json::parse(kYard);
  for (const Message& message : zoneproof::apply_patch(yard, Json::parse(GetParam().patch)))
    ADD_FAILURE() << full_text(message);
  const ReadResult read = read_site(yard.dump(), "yard.site.json");
  ASSERT_EQ(read.messages.size(), 1U) << (read.messages.empty() ? "" : full_text(read.messages.back()));
  EXPECT_EQ(read.messages.front().code, GetParam().code);
  EXPECT_EQ(read.messages.front().place.pointer, GetParam().place);
  EXPECT_FALSE(read.site.has_value());
}

#define REPLACE(path, value) R"([{"op": "replace", "path": ")" path R"(", "value": )" value "}]"
#define ADD(path, value) R"([{"op": "add", "path": ")" path R"(", "value": )" value "}]"
#define RULE(unit) R"({"value": 25, "unit": ")" unit R"(", "meaning": "m", "source": "s", "verified": false})"
#define ENTRIES R"({"detect_px_per_m": )" RULE("px_per_m") R"(, "view_coverage_pct": )" RULE("pct") R"(})"
#define HOUSE R"({"house": {"name": "House rules", "entries": )" ENTRIES R"(}})"
#define BOOK \
  R"([{"op": "add", "path": "/rulebooks", "value": )" HOUSE R"(}, {"op": "add", "path": "/rulebook", "value": )"
INSTANTIATE_TEST_SUITE_P(
    Of, SceneFault,
    testing::Values(
        Wrong{"a wall of one corner", REPLACE("/walls/fence/path", R"([{"x_m": 0, "y_m": 0}])"), "site_path_short",
              "/walls/fence/path"},
        Wrong{"a stretch without length", REPLACE("/walls/fence/path/1/x_m", "0"), "site_corner_twice",
              "/walls/fence/path/1"},
        Wrong{"a wall without height", REPLACE("/walls/fence/top_m", "0"), "site_no_height", "/walls/fence/top_m"},
        Wrong{"a share of a solid wall", ADD("/walls/north/transmission_pct", "50"), "site_contradiction",
              "/walls/north/transmission_pct"},
        Wrong{"an opening in no stretch", REPLACE("/openings/gate/stretch", "3"), "site_no_stretch",
              "/openings/gate/stretch"},
        Wrong{"an opening past its wall", REPLACE("/openings/gate/along_m", "5.2"), "site_opening_past_wall",
              "/openings/gate/width_m"},
        Wrong{"an opening above its wall", REPLACE("/openings/gate/head_m", "2.9"), "site_opening_above_wall",
              "/openings/gate/head_m"},
        Wrong{"an opening below its wall", REPLACE("/openings/gate/sill_m", "-0.1"), "site_opening_below_wall",
              "/openings/gate/sill_m"},
        Wrong{"an outline that crosses itself",
              REPLACE("/blocks/rack/outline",
                      R"([{"x_m": 1, "y_m": 1}, {"x_m": 3, "y_m": 2}, {"x_m": 3, "y_m": 1}, {"x_m": 1, "y_m": 2}])"),
              "site_outline_crosses", "/blocks/rack/outline/2"},
        Wrong{"an outline of two corners",
              REPLACE("/privacy_areas/desk/outline", R"([{"x_m": 1, "y_m": 1}, {"x_m": 2, "y_m": 1}])"),
              "site_outline_short", "/privacy_areas/desk/outline"},
        Wrong{"a flat mask", R"([{"op": "replace", "path": "/cameras/c1/masks/window/outline/2/down_pct", "value": 0},
              {"op": "replace", "path": "/cameras/c1/masks/window/outline/2/across_pct", "value": 30}])",
              "site_outline_flat", "/cameras/c1/masks/window/outline"},
        Wrong{"stairs without length", REPLACE("/stairs/flight/head/y_m", "1"), "site_stair_no_length",
              "/stairs/flight/head"},
        Wrong{"a camera inside of a rack", R"([{"op": "replace", "path": "/cameras/c1/mount/x_m", "value": 2},
              {"op": "replace", "path": "/cameras/c1/mount/y_m", "value": 1.5},
              {"op": "replace", "path": "/cameras/c1/mount/z_m", "value": 1.9}])",
              "site_mounted_inside", "/cameras/c1/mount/x_m"},
        Wrong{"a camera above its ceiling", REPLACE("/cameras/c1/mount/z_m", "3.1"), "site_mount_above_ceiling",
              "/cameras/c1/mount/z_m"},
        Wrong{"a detector above its ceiling",
              ADD("/detectors", R"({"d": {"mount": {"level": "ground", "x_m": 7, "y_m": 5, "z_m": 3.1}}})"),
              "site_mount_above_ceiling", "/detectors/d/mount/z_m"},
        Wrong{"a beam that ends above its ceiling",
              ADD("/detectors", R"({"d": {"beam_to": {"level": "ground", "x_m": 7, "y_m": 5, "z_m": 3.1}}})"),
              "site_mount_above_ceiling", "/detectors/d/beam_to/z_m"},
        Wrong{"a focal length that the lens has not", REPLACE("/cameras/c1/focal_mm", "16"), "site_focal_outside",
              "/cameras/c1/focal_mm"},
        Wrong{"a view rule that the book has not", BOOK R"({"book": "house", "view_rule": "observe_px_per_m"}}])",
              "site_view_rule_unknown", "/rulebook/view_rule"},
        Wrong{"an entry that says nothing of a picture",
              BOOK R"({"book": "house", "view_rule": "view_coverage_pct"}}])", "site_view_rule_unknown",
              "/rulebook/view_rule"},
        Wrong{"a view rule of a book without any",
              R"([{"op": "add", "path": "/rulebooks", "value": {"house": {"name": "House rules"}}},
                  {"op": "add", "path": "/rulebook", "value": {"book": "house", "view_rule": "detect_px_per_m"}}])",
              "site_view_rule_none", "/rulebook/view_rule"},
        Wrong{"two lenses", ADD("/parts/eye/camera/lens", R"({"projection": "pinhole"})"), "site_lens_twice",
              "/cameras/c1/lens"},
        Wrong{"a channel twice", REPLACE("/channels/two/number", "1"), "site_channel_twice", "/channels/two/number"},
        Wrong{"a recorder's channel without recorder", ADD("/channels/two/recorder_channel", "4"), "site_contradiction",
              "/channels/two/recorder_channel"},
        Wrong{"a tangential term of a fisheye", REPLACE("/parts/zoom/lens/projection", R"("equidistant")"),
              "site_contradiction", "/parts/zoom/lens/p1_coefficient"},
        Wrong{"a camera on a floor that is not there", REPLACE("/cameras/c1/mount/level", R"("attic")"),
              "site_dangling", "/cameras/c1/mount/level"}),
    [](const auto& instance) {
      std::string name = instance.param.name;
      for (char& c : name) c = c == ' ' || c == '\'' ? '_' : c;
      return name;
    });
#undef REPLACE
#undef ADD

// Above the rack it is on top of it, and a rack that may be empty is not certainly there.
TEST(Scene, ACameraOverABodyOrInAnOpenOneIsNoFault) {
  Json yard = Json::parse(kYard);
  Json& mount = yard["cameras"]["c1"]["mount"];
  mount["x_m"] = 2, mount["y_m"] = 1.5, mount["z_m"] = 2.1;
  EXPECT_TRUE(read_site(yard.dump(), "yard.site.json").messages.empty());
  mount["z_m"] = 1.9;
  yard["blocks"]["rack"]["fill"] = "open";
  EXPECT_TRUE(read_site(yard.dump(), "yard.site.json").messages.empty());
}

TEST(Scene, AMountAboveItsCeilingIsToldWithPlaceCauseAndRemedy) {
  Json yard = Json::parse(kYard);
  Json& height = yard["cameras"]["c1"]["mount"]["z_m"];
  height = 5.8;
  const ReadResult read = read_site(yard.dump(), "yard.site.json");
  ASSERT_EQ(read.messages.size(), 1U);
  EXPECT_EQ(kind_of(read.messages.front().code).exit_status, 2);
  EXPECT_THAT(full_text(read.messages.front()),
              testing::AllOf(testing::HasSubstr("/cameras/c1/mount/z_m"), testing::HasSubstr("5.8 m"),
                             testing::HasSubstr("3 m"), testing::HasSubstr("from the floor of its own level")));
  height = 3;
  EXPECT_TRUE(read_site(yard.dump(), "yard.site.json").messages.empty()) << "flush with it";
  height = 5.8;
  yard["levels"]["ground"]["ceiling_m"] = "none";
  EXPECT_TRUE(read_site(yard.dump(), "yard.site.json").messages.empty()) << "under the sky";
}

constexpr const char* kBehind = R"([
  {"op": "add", "path": "/parts/pir", "value": {"kind": "detector", "detector": {"pattern": {"shape": "fan"}}}},
  {"op": "add", "path": "/walls/inner", "value": {"name": "Inner wall", "level": "ground", "bottom_m": 0, "top_m": "none",
      "surface": "solid", "path": [{"x_m": 4, "y_m": 0}, {"x_m": 4, "y_m": 6}]}},
  {"op": "add", "path": "/zones", "value": {"z": {"name": "Yard", "medium": "wireless"}}},
  {"op": "add", "path": "/detectors", "value": {"d": {"part": "pir", "zone": "z",
      "mount": {"level": "ground", "x_m": 7.8, "y_m": 5.8, "z_m": 2.3, "bearing_deg": 225, "tilt_deg": 0, "roll_deg": 0}}}},
  {"op": "add", "path": "/protected_places", "value": {"p": {"name": "West half", "zone": "z", "level": "ground",
      "outline": [{"x_m": 1, "y_m": 1}, {"x_m": 3, "y_m": 1}, {"x_m": 3, "y_m": 5}, {"x_m": 1, "y_m": 5}]}}}
])";

std::vector<Message> told_of(const Json& more) {
  Json yard = Json::parse(kYard);
  for (const Message& message : zoneproof::apply_patch(yard, Json::parse(kBehind))) ADD_FAILURE() << full_text(message);
  for (const Message& message : zoneproof::apply_patch(yard, more)) ADD_FAILURE() << full_text(message);
  const ReadResult read = read_site(yard.dump(), "yard.site.json");
  EXPECT_TRUE(read.site.has_value());
  return read.messages;
}

TEST(Pattern, ThatEndsAtAWallBeforeWhatItIsThereForIsToldOf) {
  const std::vector<Message> told = told_of(Json::array());
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told.front().code, "site_pattern_behind_wall");
  EXPECT_EQ(told.front().place.pointer, "/detectors/d/mount/x_m");
  EXPECT_THAT(full_text(told.front()),
              testing::AllOf(testing::HasSubstr("Inner wall"), testing::HasSubstr("West half")));
}

TEST(Pattern, ThatReachesSomeOfItOrGoesThroughAnOpeningIsNot) {
  const char* beside = R"([{"op": "replace", "path": "/protected_places/p/outline/1/x_m", "value": 5}])";
  const char* glass = R"([{"op": "replace", "path": "/walls/inner/surface", "value": "glass"}])";
  const char* door = R"([{"op": "add", "path": "/openings/door", "value": {"wall": "inner", "stretch": 1, "along_m": 2,
      "width_m": 1, "sill_m": 0, "head_m": 2, "kind": "doorway", "state": "open"}}])";
  const char* drawn = R"([{"op": "add", "path": "/detectors/d/watched",
      "value": [{"x_m": 1, "y_m": 1}, {"x_m": 2, "y_m": 1}, {"x_m": 2, "y_m": 2}]}])";
  for (const char* more : {beside, glass, door, drawn}) EXPECT_TRUE(told_of(Json::parse(more)).empty()) << more;
}

}  // namespace
}  // namespace zoneproof::site
