// A camera of a site becomes a model, or the fields that keep it from it are named.
#include "sight/camera_of_site.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_patch.hpp"
#include "site/file.hpp"

namespace zoneproof::sight {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kYard = R"({
  "format": "zoneproof-site", "version": 3, "name": "Yard", "origin": "measured",
  "levels": {"upper": {"name": "Upper floor", "elevation_m": 3.2, "ceiling_m": 3}},
  "parts": {
    "eye": {"kind": "camera", "camera": {"width_px": 1920, "height_px": 1080, "pixel_um": 2.9, "infrared_reach_m": 20}},
    "ball": {"kind": "camera", "camera": {"width_px": 2048, "height_px": 2048, "pixel_um": 2, "infrared_reach_m": "none",
      "lens": {"projection": "equidistant", "focal_min_mm": 1.3, "focal_max_mm": 1.3, "k1_coefficient": 0.01,
               "k2_coefficient": 0, "k3_coefficient": 0, "near_m": 0.3}}},
    "zoom": {"kind": "lens", "lens": {"projection": "pinhole", "focal_min_mm": 2.8, "focal_max_mm": 12,
      "k1_coefficient": {"value": -0.1, "plus": 0.02, "minus": 0.01}, "k2_coefficient": 0, "k3_coefficient": 0,
      "p1_coefficient": 0.001, "p2_coefficient": 0, "near_m": 0.3}}},
  "cameras": {
    "c1": {"part": "eye", "lens": "zoom", "focal_mm": 4, "turn": "upright", "encoded_width_px": 1280,
      "encoded_height_px": 720, "infrared_reach_m": 20,
      "mount": {"level": "upper", "x_m": 1, "y_m": 5.8, "z_m": {"value": 2.6, "plus": 0.1, "minus": 0.1},
                "bearing_deg": 130, "tilt_deg": -20, "roll_deg": 0},
      "masks": {"window": {"outline": [{"across_pct": 0, "down_pct": 0}, {"across_pct": 20, "down_pct": 0},
                                       {"across_pct": 20, "down_pct": 30}]}}},
    "c2": {"part": "ball", "lens": "none", "turn": "upright", "encoded_width_px": 1024, "encoded_height_px": 1024,
      "mount": {"level": "upper", "x_m": 2, "y_m": 2, "z_m": 3, "bearing_deg": 0, "tilt_deg": -90, "roll_deg": 0}}}
})";

site::Site yard(const char* patch = "[]") {
  Json json = Json::parse(kYard);
  for (const Message& message : apply_patch(json, Json::parse(patch))) ADD_FAILURE() << full_text(message);
  site::ReadResult read = site::read_site(json.dump(), "yard.site.json");
  for (const Message& message : read.messages) ADD_FAILURE() << full_text(message);
  return read.site.value_or(site::Site{});
}

std::vector<std::string> pointers(const CameraFound& found) {
  std::vector<std::string> all;
  for (const chain::Gap& gap : found.gaps) all.push_back(gap.reason + " " + gap.pointer);
  return all;
}

TEST(CameraOfSite, IsMadeOfItsPartItsLensAndItsMount) {
  const CameraFound found = camera_model_of(yard(), "c1");
  ASSERT_TRUE(found.model.has_value());
  EXPECT_THAT(pointers(found), testing::IsEmpty());
  const CameraSetup& setup = found.model->setup();
  EXPECT_DOUBLE_EQ(setup.eye.z, 5.8);  // 2.6 m above a floor at 3.2 m
  EXPECT_EQ(setup.lens.k1, -0.1);
  EXPECT_EQ(setup.focal_mm, 4.0);
  ASSERT_EQ(setup.masks.size(), 1U);
  EXPECT_EQ(setup.masks[0].corners[2].across_px, 256.0);
  EXPECT_EQ(setup.masks[0].corners[2].down_px, 216.0);
}

TEST(CameraOfSite, TellsWhichOfItsNumbersHaveARange) {
  const CameraFound found = camera_model_of(yard(), "c1");
  ASSERT_EQ(found.tolerances.size(), 2U);
  EXPECT_EQ(found.tolerances[0].pointer, "/cameras/c1/mount/z_m");
  EXPECT_NEAR(found.tolerances[0].low, -0.1, 1e-12);
  EXPECT_EQ(found.tolerances[1].number, CameraNumber::k1);
  EXPECT_NEAR(found.tolerances[1].high, 0.02, 1e-12);
  EXPECT_NEAR(moved(found.model->setup(), CameraNumber::k1, found.tolerances[1].high).lens.k1, -0.08, 1e-12);
}

TEST(CameraOfSite, AFixedLensNeedsNoFocalLengthWrittenDown) {
  const CameraFound found = camera_model_of(yard(), "c2");
  ASSERT_TRUE(found.model.has_value()) << testing::PrintToString(pointers(found));
  EXPECT_EQ(found.model->setup().focal_mm, 1.3);
  EXPECT_FALSE(found.model->is_flat());
}

TEST(CameraOfSite, ATypicalNumberLeavesAModelAndAGap) {
  const CameraFound found = camera_model_of(
      yard(
          R"([{"op": "replace", "path": "/cameras/c1/mount/tilt_deg", "value": {"value": -20, "origin": "assumed"}}])"),
      "c1");
  EXPECT_TRUE(found.model.has_value());
  EXPECT_THAT(pointers(found), testing::ElementsAre("assumed /cameras/c1/mount/tilt_deg"));
}

struct LackingCamera {
  const char* name;
  const char* patch;
  const char* gap;
};

class CameraLacks : public testing::TestWithParam<LackingCamera> {};

TEST_P(CameraLacks, ANumberAndItIsNamed) {
  const CameraFound found = camera_model_of(yard(GetParam().patch), "c1");
  EXPECT_FALSE(found.model.has_value());
  EXPECT_THAT(pointers(found), testing::ElementsAre(GetParam().gap));
}

#define REMOVE(path) R"([{"op": "remove", "path": ")" path R"("}])"
INSTANTIATE_TEST_SUITE_P(
    Of, CameraLacks,
    testing::Values(
        LackingCamera{"elevation", REMOVE("/levels/upper/elevation_m"), "unknown /levels/upper/elevation_m"},
        LackingCamera{"level", REMOVE("/cameras/c1/mount/level"), "unknown /cameras/c1/mount/level"},
        LackingCamera{"bearing", REMOVE("/cameras/c1/mount/bearing_deg"), "unknown /cameras/c1/mount/bearing_deg"},
        LackingCamera{"part", REMOVE("/cameras/c1/part"), "unknown /cameras/c1/part"},
        LackingCamera{"lens", REMOVE("/cameras/c1/lens"), "unknown /cameras/c1/lens"},
        LackingCamera{"lens_of_a_part_without", R"([{"op": "replace", "path": "/cameras/c1/lens", "value": "none"}])",
                      "unknown /parts/eye/camera/lens"},
        LackingCamera{"focal", REMOVE("/cameras/c1/focal_mm"), "unknown /cameras/c1/focal_mm"},
        LackingCamera{"term", REMOVE("/parts/zoom/lens/p2_coefficient"), "unknown /parts/zoom/lens/p2_coefficient"},
        LackingCamera{"pitch", REMOVE("/parts/eye/camera/pixel_um"), "unknown /parts/eye/camera/pixel_um"},
        LackingCamera{"turn", REMOVE("/cameras/c1/turn"), "unknown /cameras/c1/turn"},
        LackingCamera{"encoding", REMOVE("/cameras/c1/encoded_width_px"), "unknown /cameras/c1/encoded_width_px"},
        LackingCamera{"mask", REMOVE("/cameras/c1/masks/window/outline"), "unknown /cameras/c1/masks/window/outline"},
        LackingCamera{"reach", R"([{"op": "replace", "path": "/parts/zoom/lens/k1_coefficient", "value": -0.3}])",
                      "lens_turns /parts/zoom/lens/k1_coefficient"}),
    [](const auto& one) { return std::string(one.param.name); });

}  // namespace
}  // namespace zoneproof::sight
