#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "plane/arrangement.hpp"

/// Polygons with holes from the open art-gallery instances (AGPLIB), which are measured on and never copied into the
/// project.
namespace zoneproof::open_data {

struct Polygon {
  std::string name;
  std::vector<std::vector<plane::Point>> rings;  ///< the outer one, then the holes

  plane::Box box() const;
  std::vector<plane::Segment> walls() const;
  /// `box` with a margin on all sides.
  plane::Box bound() const;
};

/// The folder of the polygons; empty where the machine does not have it.
std::vector<std::filesystem::path> polygon_files();

/// `n x1/d1 y1/d1 ...`, then the number of holes, then each hole the same way; rationals become the doubles next to
/// them. Throws std::runtime_error where the file is none of the kind.
Polygon read_polygon(const std::filesystem::path& file);

/// Points inside of the polygon, evenly by chance; the same for the same seed on every machine.
std::vector<plane::Point> points_inside(const Polygon& polygon, std::size_t count, std::uint64_t seed);

}  // namespace zoneproof::open_data
