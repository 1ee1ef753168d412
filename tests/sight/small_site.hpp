#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "site/model.hpp"

/// Site files small enough to compute by hand, for what is read out of a site.
namespace zoneproof::sight {

using Json = nlohmann::ordered_json;

/// The bytes of a file under data/demo/ as JSON.
Json demo_json(const std::string& file);

/// The site that a file holds; its messages of the severity error fail the test.
site::Site site_of(const Json& file);
/// The same with an RFC 6902 patch applied first.
site::Site site_of(Json file, const char* patch);

/// A place on the plan, and an outline of such, as the file spells them.
Json place(double x_m, double y_m);
Json outline(const std::vector<std::pair<double, double>>& corners);
Json box(double west, double south, double east, double north);

/// Two yards 1000 m apart on one level, open to the sky, lit, without a wall. In each a camera hangs at the origin of
/// its yard, 1.3 m high, level, looking north: a pinhole of 1920 x 1080 pixels of 2.9 um behind a fixed lens of 2.8 mm,
/// so that its picture reaches 44.84 degrees to either side. Each is the only one that is to witness its zone ("z1" by
/// "c1", "z2" by "c2"), whose detector ("d1", "d2") watches a square of 2 m drawn 4 m before it. The rulebook is that
/// of the demo: heights of 0.9 to 1.7 m, 25 pixels to a metre, all of the area, patches from 0.05 m2.
Json two_yards();

/// The first yard with another detector in place of the mat, at its origin, 2.3 m high, looking north.
Json yard_with(const char* technology, const Json& shape);

/// A wall of any surface, from the floor up to a top (0: none, to the ceiling).
Json wall(double from_x, double from_y, double to_x, double to_y, double top_m = 0.0, const char* surface = "solid");

}  // namespace zoneproof::sight
