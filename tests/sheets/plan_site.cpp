#include "sheets/plan_site.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>

#include "site/file.hpp"
#include "site/shelf.hpp"

namespace zoneproof::sheets {

namespace {

// The outer wall is 24 m by 14 m. Hall in the west, office in the south-east behind glass, store in the north-east with
// a cage of mesh.
constexpr const char* kDepot = R"({
  "format": "zoneproof-site", "version": 3, "revision": 3, "name": "Fallow Lane depot", "origin": "measured",
  "levels": {
    "ground": {"name": "Ground floor", "elevation_m": 0, "ceiling_m": 4, "lit": true},
    "gallery": {"name": "Gallery", "elevation_m": 4.2, "ceiling_m": 2.6, "lit": true},
    "roof": {"name": "Roof", "elevation_m": 7, "ceiling_m": "none", "lit": false}},
  "walls": {
    "outer": {"name": "Outer wall", "level": "ground", "surface": "solid", "bottom_m": 0, "top_m": "none",
              "path": [{"x_m": 0, "y_m": 0}, {"x_m": 24, "y_m": 0}, {"x_m": 24, "y_m": 14}, {"x_m": 0, "y_m": 14}, {"x_m": 0, "y_m": 0}]},
    "middle": {"name": "Wall of the hall", "level": "ground", "surface": "solid", "bottom_m": 0, "top_m": "none",
               "path": [{"x_m": 15, "y_m": 14}, {"x_m": 15, "y_m": 6}, {"x_m": 24, "y_m": 6}]},
    "pane": {"name": "Office glass", "level": "ground", "surface": "glass", "bottom_m": 0, "top_m": 2.8,
             "path": [{"x_m": 15, "y_m": 6}, {"x_m": 15, "y_m": 0}]},
    "cage": {"name": "Cage", "level": "ground", "surface": "mesh", "transmission_pct": 70, "bottom_m": 0, "top_m": 2.2,
             "path": [{"x_m": 20, "y_m": 14}, {"x_m": 20, "y_m": 10}, {"x_m": 24, "y_m": 10}]},
    "parapet": {"name": "Counter wall", "level": "ground", "surface": "solid", "bottom_m": 0, "top_m": 1.1,
                "path": [{"x_m": 10, "y_m": 0}, {"x_m": 10, "y_m": 2.5}, {"x_m": 12, "y_m": 2.5}]},
    "lintel": {"name": "Beam over the dock", "level": "ground", "surface": "solid", "bottom_m": 2.6, "top_m": "none",
               "path": [{"x_m": 0, "y_m": 3}, {"x_m": 4, "y_m": 3}]},
    "upper": {"name": "Walls of the gallery", "level": "gallery", "surface": "solid", "bottom_m": 0, "top_m": "none",
              "path": [{"x_m": 15, "y_m": 6}, {"x_m": 24, "y_m": 6}, {"x_m": 24, "y_m": 14}, {"x_m": 15, "y_m": 14}]},
    "rail": {"name": "Rail", "level": "gallery", "surface": "solid", "bottom_m": 0, "top_m": 1,
             "path": [{"x_m": 15, "y_m": 6}, {"x_m": 15, "y_m": 14}]}},
  "openings": {
    "dock": {"name": "Dock door", "wall": "outer", "stretch": 4, "along_m": 11, "width_m": 2.5, "sill_m": 0, "head_m": 3,
             "kind": "shutter", "state": "either", "leaf": "solid"},
    "front": {"name": "Front door", "wall": "outer", "stretch": 1, "along_m": 20, "width_m": 1, "sill_m": 0, "head_m": 2.1,
              "kind": "door", "state": "closed", "leaf": "solid"},
    "double": {"name": "Store door", "wall": "middle", "stretch": 1, "along_m": 5, "width_m": 1.8, "sill_m": 0, "head_m": 2.1,
               "kind": "door", "state": "open", "leaf": "solid"},
    "glass_door": {"name": "Glass door", "wall": "pane", "stretch": 1, "along_m": 1, "width_m": 0.9, "sill_m": 0, "head_m": 2.1,
                   "kind": "door", "state": "either", "leaf": "glass"},
    "passage": {"name": "Passage", "wall": "middle", "stretch": 2, "along_m": 6, "width_m": 1.2, "sill_m": 0, "head_m": 2.4,
                "kind": "doorway", "state": "open"},
    "window": {"name": "Office window", "wall": "outer", "stretch": 2, "along_m": 2, "width_m": 1.6, "sill_m": 1, "head_m": 2.2,
               "kind": "window", "state": "closed", "leaf": "glass"}},
  "blocks": {
    "rack_a": {"name": "Rack A", "level": "ground", "kind": "racking", "bottom_m": 0, "top_m": 3, "fill": "solid",
               "outline": [{"x_m": 4, "y_m": 5}, {"x_m": 12, "y_m": 5}, {"x_m": 12, "y_m": 6.1}, {"x_m": 4, "y_m": 6.1}]},
    "rack_b": {"name": "Rack B", "level": "ground", "kind": "racking", "bottom_m": 0, "top_m": 3, "fill": "either", "transmission_pct": 60,
               "outline": [{"x_m": 4, "y_m": 8.5}, {"x_m": 4, "y_m": 9.6}, {"x_m": 12, "y_m": 9.6}, {"x_m": 12, "y_m": 8.5}]},
    "rack_c": {"name": "Rack C", "level": "ground", "kind": "racking", "bottom_m": 0, "top_m": 2, "fill": "open", "transmission_pct": 80,
               "outline": [{"x_m": 16, "y_m": 12.8}, {"x_m": 19, "y_m": 12.8}, {"x_m": 19, "y_m": 14}, {"x_m": 16, "y_m": 14}]},
    "column_1": {"name": "Column 1", "level": "ground", "kind": "column", "bottom_m": 0, "top_m": "none", "fill": "solid",
                 "outline": [{"x_m": 13.4, "y_m": 4}, {"x_m": 13.8, "y_m": 4}, {"x_m": 13.8, "y_m": 4.4}, {"x_m": 13.4, "y_m": 4.4}]},
    "desk": {"name": "Desk", "level": "ground", "kind": "counter", "bottom_m": 0, "top_m": 0.8, "fill": "solid",
             "outline": [{"x_m": 21.5, "y_m": 3}, {"x_m": 23.2, "y_m": 3}, {"x_m": 23.2, "y_m": 4.6}, {"x_m": 22.4, "y_m": 4.6}, {"x_m": 22.4, "y_m": 3.8}, {"x_m": 21.5, "y_m": 3.8}]},
    "shelf": {"name": "Wall shelf", "level": "ground", "kind": "shelf", "bottom_m": 1.6, "top_m": 2, "fill": "solid",
              "outline": [{"x_m": 16, "y_m": 0}, {"x_m": 19, "y_m": 0}, {"x_m": 19, "y_m": 0.4}, {"x_m": 16, "y_m": 0.4}]},
    "saw": {"name": "Saw", "level": "ground", "kind": "machine", "bottom_m": 0, "top_m": 1.2, "fill": "solid",
            "outline": [{"x_m": 1, "y_m": 11.5}, {"x_m": 2.6, "y_m": 11.5}, {"x_m": 2.6, "y_m": 12.7}, {"x_m": 1, "y_m": 12.7}]}},
  "stairs": {
    "flight": {"name": "Stair to the gallery", "level": "ground", "foot": {"x_m": 13.5, "y_m": 7}, "head": {"x_m": 13.5, "y_m": 11.5},
               "width_m": 1.1, "rise_m": 4.2, "steps": 24, "below": "open"}},
  "protected_places": {
    "hall_floor": {"name": "Aisle", "zone": "z1", "level": "ground",
                   "outline": [{"x_m": 4, "y_m": 6.4}, {"x_m": 12, "y_m": 6.4}, {"x_m": 12, "y_m": 8.2}, {"x_m": 4, "y_m": 8.2}]},
    "way_in": {"name": "Way in", "zone": "z3", "opening": "front"}},
  "privacy_areas": {
    "neighbour": {"name": "Neighbour's yard", "level": "ground",
                  "outline": [{"x_m": 24.5, "y_m": 1}, {"x_m": 27.5, "y_m": 1}, {"x_m": 27.5, "y_m": 5}, {"x_m": 24.5, "y_m": 5}]}},
  "parts": {
    "eye": {"kind": "camera", "camera": {"width_px": 1920, "height_px": 1080, "pixel_um": 2.9, "infrared_reach_m": 20}},
    "short": {"kind": "lens", "lens": {"projection": "pinhole", "focal_min_mm": 2.8, "focal_max_mm": 12, "k1_coefficient": 0,
              "k2_coefficient": 0, "k3_coefficient": 0, "p1_coefficient": 0, "p2_coefficient": 0, "near_m": 0.3}},
    "round": {"kind": "lens", "lens": {"projection": "equidistant", "focal_min_mm": 1.2, "focal_max_mm": 1.2, "k1_coefficient": 0,
              "k2_coefficient": 0, "k3_coefficient": 0, "near_m": 0.3}}},
  "partitions": {"house": {"name": "House", "number": 1}},
  "zones": {
    "z1": {"number": 1, "name": "Hall", "type": "intruder"},
    "z2": {"number": 2, "name": "Store", "type": "intruder"},
    "z3": {"number": 3, "name": "Front door", "type": "entry_exit"},
    "z4": {"number": 4, "name": "Dock", "type": "intruder"},
    "z5": {"number": 5, "name": "Gallery", "type": "intruder"}},
  "detectors": {
    "pir_hall": {"name": "Hall PIR", "part": "pir_wide_12m", "zone": "z1",
                 "mount": {"level": "ground", "x_m": 0.1, "y_m": 13.9, "z_m": 2.3, "bearing_deg": 135, "tilt_deg": 0, "roll_deg": 0}},
    "pir_store": {"name": "Store PIR", "part": "pir_wide_12m", "zone": "z2",
                  "mount": {"level": "ground", "x_m": 23.9, "y_m": 6.1, "z_m": 2.3, "bearing_deg": 315, "tilt_deg": 0, "roll_deg": 0}},
    "contact_front": {"name": "Front door contact", "part": "contact_door", "zone": "z3", "opening": "front",
                      "mount": {"level": "ground", "x_m": 20.5, "y_m": 0.05, "z_m": 2.05, "bearing_deg": 0, "tilt_deg": 0, "roll_deg": 0}},
    "beam_dock": {"name": "Dock beam", "part": "beam_pair_20m_no", "zone": "z4",
                  "mount": {"level": "ground", "x_m": 0.3, "y_m": 0.3, "z_m": 0.8, "bearing_deg": 0, "tilt_deg": 0, "roll_deg": 0},
                  "beam_to": {"level": "ground", "x_m": 0.3, "y_m": 3.4, "z_m": 0.8, "bearing_deg": 180, "tilt_deg": 0, "roll_deg": 0}},
    "pir_gallery": {"name": "Gallery PIR", "part": "pir_wide_12m", "zone": "z5",
                    "mount": {"level": "gallery", "x_m": 23.9, "y_m": 13.9, "z_m": 2.3, "bearing_deg": 225, "tilt_deg": 0, "roll_deg": 0}}},
  "cameras": {
    "c_hall": {"name": "Hall camera", "part": "eye", "lens": "short", "focal_mm": 2.8, "turn": "upright", "encoded_width_px": 1280,
               "encoded_height_px": 720, "masks": {},
               "mount": {"level": "ground", "x_m": 0.15, "y_m": 13.85, "z_m": 3.2, "bearing_deg": 135, "tilt_deg": -32, "roll_deg": 0}},
    "c_store": {"name": "Store camera", "part": "eye", "lens": "round", "focal_mm": 1.2, "turn": "upright", "encoded_width_px": 1280,
                "encoded_height_px": 720, "masks": {},
                "mount": {"level": "ground", "x_m": 15.2, "y_m": 13.8, "z_m": 3, "bearing_deg": 130, "tilt_deg": -35, "roll_deg": 0}}},
  "units": {"unit": {"name": "Video unit"}},
  "channels": {"ch1": {"unit": "unit", "number": 1, "camera": "c_hall", "recorder": "none", "live_only": false},
               "ch2": {"unit": "unit", "number": 2, "camera": "c_store", "recorder": "none", "live_only": false}},
  "triggers": {"t1": {"zone": "z1", "source": "loop_tap", "unit": "unit", "input": 1, "channel": 1},
               "t2": {"zone": "z2", "source": "loop_tap", "unit": "unit", "input": 2, "channel": 2},
               "t3": {"zone": "z3", "source": "loop_tap", "unit": "unit", "input": 3, "channel": 2},
               "t4": {"zone": "z4", "source": "loop_tap", "unit": "unit", "input": 4, "channel": 1}}
})";

std::unique_ptr<SeenSite> seen(site::ReadResult read) {
  std::string wrong;
  for (const Message& message : read.messages) wrong += full_text(message) + "\n";
  if (!read.site) throw std::runtime_error(wrong);
  auto found = std::make_unique<SeenSite>();
  found->site = std::move(*read.site);
  return found;
}

}  // namespace

void SeenSite::look() {
  scene = std::make_unique<sight::Scene>(site);
  views.clear();
  for (const auto& [id, zone] : site.zones) views.push_back(scene->view(id, false));
}

std::unique_ptr<SeenSite> seen_site(const std::string& text) {
  auto found = seen(site::read_site(text, "site"));
  found->look();
  return found;
}

std::unique_ptr<SeenSite> made_up_depot() {
  // Detectors are the shelf's, read as a person's own parts.
  std::ostringstream parts;
  parts << std::ifstream(ZONEPROOF_SOURCE_DIR "/data/parts/detectors.json").rdbuf();
  auto found = seen(site::read_site_with_parts(kDepot, "depot", parts.str(), "parts"));
  site::Site& site = found->site;
  site.rulebook.book.id = "european_intruder";
  site.rulebook.grade.value = 2;
  site.rulebook.view_rule = "observe_2014_px_per_m";
  site.rulebooks["european_intruder"] = *site::rulebook_for_site("european_intruder");
  found->look();
  return found;
}

}  // namespace zoneproof::sheets
