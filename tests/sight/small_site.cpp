#include "sight/small_site.hpp"

#include <gtest/gtest.h>

#include <fstream>

#include "base/json_patch.hpp"
#include "site/file.hpp"

namespace zoneproof::sight {

namespace {

constexpr const char* kYards = R"json({
  "format": "zoneproof-site", "version": 3, "name": "Two yards", "origin": "measured",
  "levels": {"ground": {"name": "Ground", "elevation_m": 0, "ceiling_m": "none", "lit": true}},
  "parts": {
    "eye": {"kind": "camera", "name": "Eye", "origin": "data_sheet", "source": "made for this test",
      "camera": {"width_px": 1920, "height_px": 1080, "pixel_um": 2.9, "infrared_reach_m": "none"}},
    "wide": {"kind": "lens", "name": "Wide", "origin": "data_sheet", "source": "made for this test",
      "lens": {"projection": "pinhole", "focal_min_mm": 2.8, "focal_max_mm": 2.8, "k1_coefficient": 0,
               "k2_coefficient": 0, "k3_coefficient": 0, "p1_coefficient": 0, "p2_coefficient": 0, "near_m": 0.3}},
    "mat": {"kind": "detector", "name": "Mat", "origin": "data_sheet", "source": "made for this test",
      "detector": {"technology": "floor_mat", "contacts": {"alarm": {"reports": "alarm"}},
                   "pattern": {"shape": "mat"}}},
    "box": {"kind": "unit", "name": "Box", "origin": "data_sheet", "source": "made for this test", "unit": {}}},
  "units": {"unit": {"name": "Unit", "part": "box"}}
})json";

}  // namespace

Json demo_json(const std::string& file) {
  std::ifstream in(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + file, std::ios::binary);
  return Json::parse(in);
}

site::Site site_of(const Json& file) {
  site::ReadResult read = site::read_site(file.dump(), "test.site.json");
  for (const Message& message : read.messages)
    if (kind_of(message.code).severity == Severity::error) ADD_FAILURE() << full_text(message);
  return read.site.value_or(site::Site{});
}

site::Site site_of(Json file, const char* patch) {
  for (const Message& message : apply_patch(file, Json::parse(patch))) ADD_FAILURE() << full_text(message);
  return site_of(file);
}

Json place(double x_m, double y_m) { return {{"x_m", x_m}, {"y_m", y_m}}; }

Json outline(const std::vector<std::pair<double, double>>& corners) {
  Json ring = Json::array();
  for (const auto& [x, y] : corners) ring.push_back(place(x, y));
  return ring;
}

Json box(double west, double south, double east, double north) {
  return outline({{west, south}, {east, south}, {east, north}, {west, north}});
}

Json two_yards() {
  Json file = Json::parse(kYards);
  const Json demo = demo_json("kiln-yard.site.json");
  file["rulebooks"] = demo.at("rulebooks");
  file["rulebook"] = demo.at("rulebook");
  for (const int number : {1, 2}) {
    const std::string n = std::to_string(number);
    const double east = number == 1 ? 0.0 : 1000.0;
    const Json mount = {{"level", "ground"}, {"x_m", east},   {"y_m", 0},     {"z_m", 1.3},
                        {"bearing_deg", 0},  {"tilt_deg", 0}, {"roll_deg", 0}};
    file["cameras"]["c" + n] = {{"name", "Camera " + n},
                                {"part", "eye"},
                                {"lens", "wide"},
                                {"turn", "upright"},
                                {"encoded_width_px", 1920},
                                {"encoded_height_px", 1080},
                                {"infrared_reach_m", "none"},
                                {"mount", mount}};
    file["channels"]["ch" + n] = {{"unit", "unit"}, {"number", number}, {"camera", "c" + n}, {"live_only", false}};
    file["detectors"]["d" + n] = {{"name", "Mat " + n},
                                  {"part", "mat"},
                                  {"mount", {{"level", "ground"}}},
                                  {"watched", box(east - 1, 4, east + 1, 6)}};
    const Json contact = {{"detector", "d" + n}, {"contact", "alarm"}, {"role", "alarm"}};
    file["zones"]["z" + n] = {{"name", "Yard " + n},
                              {"number", number},
                              {"type", "intruder"},
                              {"medium", "wired"},
                              {"loop", {{"contacts", {{"a", contact}}}}}};
    file["triggers"]["t" + n] = {
        {"zone", "z" + n}, {"source", "loop_tap"}, {"unit", "unit"}, {"input", number}, {"channel", number}};
  }
  return file;
}

Json yard_with(const char* technology, const Json& shape) {
  Json file = two_yards();
  Json& spec = file["parts"]["mat"]["detector"];
  spec["technology"] = technology;
  spec["pattern"] = shape;
  Json& detector = file["detectors"]["d1"];
  detector.erase("watched");
  detector["mount"] = {{"level", "ground"}, {"x_m", 0},      {"y_m", 0},     {"z_m", 2.3},
                       {"bearing_deg", 0},  {"tilt_deg", 0}, {"roll_deg", 0}};
  file["detectors"].erase("d2");
  file["zones"].erase("z2"), file["triggers"].erase("t2");
  return file;
}

Json wall(double from_x, double from_y, double to_x, double to_y, double top_m, const char* surface) {
  return {{"level", "ground"},
          {"path", outline({{from_x, from_y}, {to_x, to_y}})},
          {"bottom_m", 0},
          {"top_m", top_m > 0.0 ? Json(top_m) : Json("none")},
          {"surface", surface}};
}

}  // namespace zoneproof::sight
