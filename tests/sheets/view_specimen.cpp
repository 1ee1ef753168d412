#include "view_specimen.hpp"

#include <stdexcept>

#include "base/message.hpp"
#include "site/file.hpp"

namespace zoneproof::sheets {

namespace {

// A store of 12 by 9 metres; north is up.
//
//   9 +-------[ window ]----------+
//     |   rack row A              |
//     |   [===========]   (col)   |
//   5 |                           D door
//     |   rack row B (mesh)  desk |
//     |   [===========]      [#]  |
//   0 +------[ shutter ]----------+
//     0                          12
constexpr const char* kStore = R"({
  "format": "zoneproof-site", "version": 3, "name": "Ash Wharf Store", "origin": "measured",
  "levels": {"ground": {"name": "Ground floor", "elevation_m": 0, "ceiling_m": 3.4}},
  "walls": {
    "outer": {"level": "ground", "path": [{"x_m": 0, "y_m": 0}, {"x_m": 12, "y_m": 0}, {"x_m": 12, "y_m": 9}, {"x_m": 0, "y_m": 9}, {"x_m": 0, "y_m": 0}],
              "bottom_m": 0, "top_m": "none", "surface": "solid"},
    "cage": {"level": "ground", "path": [{"x_m": 8, "y_m": 9}, {"x_m": 8, "y_m": 7}], "bottom_m": 0, "top_m": 2.2,
             "surface": "mesh", "transmission_pct": 80}},
  "openings": {
    "door": {"name": "Rear door", "wall": "outer", "stretch": 2, "along_m": 4, "width_m": 1, "sill_m": 0, "head_m": 2.1, "kind": "door", "state": "either", "leaf": "solid"},
    "shutter": {"name": "Roller shutter", "wall": "outer", "stretch": 1, "along_m": 4, "width_m": 3, "sill_m": 0, "head_m": 3, "kind": "shutter", "state": "closed", "leaf": "solid"},
    "window": {"name": "Window", "wall": "outer", "stretch": 3, "along_m": 5.6, "width_m": 1.6, "sill_m": 1.1, "head_m": 2.1, "kind": "window", "state": "closed", "leaf": "glass"}},
  "blocks": {
    "rack_a": {"name": "Racking A", "level": "ground", "kind": "racking", "bottom_m": 0, "top_m": 2.4, "fill": "solid",
      "outline": [{"x_m": 2, "y_m": 6}, {"x_m": 7, "y_m": 6}, {"x_m": 7, "y_m": 7}, {"x_m": 2, "y_m": 7}]},
    "rack_b": {"name": "Racking B", "level": "ground", "kind": "racking", "bottom_m": 0, "top_m": 2, "fill": "open", "transmission_pct": 60,
      "outline": [{"x_m": 2, "y_m": 2.5}, {"x_m": 7, "y_m": 2.5}, {"x_m": 7, "y_m": 3.3}, {"x_m": 2, "y_m": 3.3}]},
    "desk": {"name": "Packing desk", "level": "ground", "kind": "counter", "bottom_m": 0, "top_m": 0.9, "fill": "solid",
      "outline": [{"x_m": 9, "y_m": 1.2}, {"x_m": 10.4, "y_m": 1.2}, {"x_m": 10.4, "y_m": 2.2}, {"x_m": 9, "y_m": 2.2}]},
    "shelf": {"name": "Shelf", "level": "ground", "kind": "shelf", "bottom_m": 1.5, "top_m": 1.6, "fill": "solid",
      "outline": [{"x_m": 11.4, "y_m": 6.5}, {"x_m": 12, "y_m": 6.5}, {"x_m": 12, "y_m": 8.5}, {"x_m": 11.4, "y_m": 8.5}]},
    "column": {"level": "ground", "kind": "column", "bottom_m": 0, "top_m": "none", "fill": "solid",
      "outline": [{"x_m": 8.6, "y_m": 5.2}, {"x_m": 9, "y_m": 5.2}, {"x_m": 9, "y_m": 5.6}, {"x_m": 8.6, "y_m": 5.6}]}}
})";

sight::CameraSetup setup_of(SpecimenLens lens) {
  sight::CameraSetup setup;
  setup.eye = {0.15, 0.15, 2.9};
  setup.bearing_deg = 53;
  setup.tilt_deg = -20;
  setup.focal_mm = 2.8;
  setup.sensor_width_px = 1920;
  setup.sensor_height_px = 1080;
  setup.pixel_um = 2.9;
  setup.encoded_width_px = 1280;
  setup.encoded_height_px = 720;
  if (lens == SpecimenLens::barrel) setup.lens.k1 = -0.11;
  if (lens != SpecimenLens::fisheye) return setup;
  setup.lens.projection = site::Projection::equidistant;
  setup.eye = {7.4, 4.6, 3.3};
  setup.bearing_deg = 0;
  setup.tilt_deg = -90;
  setup.focal_mm = 1.15;
  setup.sensor_width_px = setup.sensor_height_px = 2048;
  setup.pixel_um = 1.7;
  setup.encoded_width_px = setup.encoded_height_px = 1024;
  return setup;
}

std::vector<plane::Point> box(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// Corners in hundredths of the picture.
sight::CameraSetup::Mask mask(const sight::CameraSetup& setup, const char* id,
                              const std::vector<sight::PicturePlace>& corners_pct) {
  sight::CameraSetup::Mask made = {id, {}};
  for (const sight::PicturePlace corner : corners_pct)
    made.corners.push_back({corner.across_px / 100.0 * static_cast<double>(setup.encoded_width_px),
                            corner.down_px / 100.0 * static_cast<double>(setup.encoded_height_px)});
  return made;
}

}  // namespace

ViewSpecimen view_specimen(SpecimenLens lens, bool masked) {
  const site::ReadResult read = site::read_site(kStore, "store.site.json");
  if (!read.site) throw std::runtime_error(full_text(read.messages.front()));
  ViewSpecimen made;
  made.building = sight::building_of(*read.site);
  sight::CameraSetup setup = setup_of(lens);
  if (masked) {
    setup.masks = {mask(setup, "garden", {{56, 10}, {80, 10}, {80, 36}, {56, 36}}),
                   mask(setup, "way", {{12, 20}, {15, 20}, {15, 80}, {12, 80}}),
                   mask(setup, "corner", {{70, 100}, {100, 65}, {100, 100}})};
    made.words.masks = {{"garden", "Neighbour's garden"}, {"way", "Public way beyond the gate"}};
  }
  made.camera.emplace(std::move(setup));
  sight::PictureWish wish;
  wish.level = "ground";
  // By hand: areas as drawings of a proof would have them, not proven here.
  wish.marks = {{sight::SurfaceRole::area, "zone_1", {{{1, 4}, {11.5, 3.6}, {11.5, 6.3}, {8.2, 8.2}, {7.3, 5.6}}}, 0.0},
                {sight::SurfaceRole::patch, "patch_1", {box(9.0, 5.6, 11.2, 6.2)}, 0.0},
                {sight::SurfaceRole::patch, "patch_2", {box(2.2, 7.2, 6.8, 8.4)}, 0.0},
                {sight::SurfaceRole::patch, "patch_3", {box(4.2, 3.9, 5.4, 4.6)}, 0.0}};
  wish.persons = {{"worst", {11.2, 4.5}, 0.0, 1.7}, {"middle", {8.1, 6.6}, 0.0, 1.7}, {"near", {4.6, 4.4}, 0.0, 1.7}};
  made.view = sight::expected_view(*made.camera, made.building, wish);
  ExpectedViewWords& words = made.words;
  words.title = {"Ash Wharf Store", "", "14", std::string(64, 'a'), "2026-03-01", std::nullopt, 1, 1};
  words.camera = "Camera 2, loading bay";
  words.above_floor_m = made.camera->eye().z;
  words.areas_known = true;
  words.patches = {{"patch_1", "1.3 m²: the column hides it."},
                   {"patch_2", "5.5 m²: racking A hides it."},
                   {"patch_3", "0.8 m²: too few pixels at head height."}};
  words.persons = {{"worst", "Zone 1, worst place: 21 % of the picture's height, 76 px/m."},
                   {"middle", "Zone 1, beside the cage: 24 %, 88 px/m."},
                   {"near", "Zone 1, before racking A: 41 %, 152 px/m."}};
  for (std::size_t i = 0; i < made.building.things.size(); ++i) {
    const std::string& id = made.building.things[i].id;
    if (const auto block = read.site->blocks.find(id); block != read.site->blocks.end() && !block->second.name.empty())
      words.names[i] = block->second.name;
    if (const auto opening = read.site->openings.find(id); opening != read.site->openings.end())
      words.names[i] = opening->second.name;
  }
  return made;
}

}  // namespace zoneproof::sheets
