#include "open_polygon.hpp"

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <random>
#include <stdexcept>

#include "plane/predicates.hpp"

namespace zoneproof::open_data {
namespace {

double rational(std::istream& in, const std::string& name) {
  std::string word;
  in >> word;
  const std::size_t stroke = word.find('/');
  if (!in || stroke == std::string::npos) throw std::runtime_error(name + ": no polygon with rational coordinates");
  // Some have more than 308 digits.
  return static_cast<double>(std::stold(word.substr(0, stroke)) / std::stold(word.substr(stroke + 1)));
}

std::vector<plane::Point> read_ring(std::istream& in, const std::string& name) {
  std::size_t count = 0;
  in >> count;
  std::vector<plane::Point> ring;
  for (std::size_t i = 0; i < count; ++i) {
    const double x = rational(in, name);
    ring.push_back({x, rational(in, name)});
  }
  return ring;
}

bool inside(const Polygon& polygon, plane::Point p) {
  bool odd = false;
  for (const plane::Segment& wall : polygon.walls()) {
    const plane::Point low = wall.from.y < wall.to.y ? wall.from : wall.to,
                       high = wall.from.y < wall.to.y ? wall.to : wall.from;
    const int turn = plane::orientation(low, high, p);
    if (turn == 0 && (p == low || p == high || plane::between(low, high, p))) return false;
    if (low.y <= p.y && p.y < high.y && turn > 0) odd = !odd;
  }
  return odd;
}

}  // namespace

plane::Box Polygon::box() const {
  plane::Box box{rings[0][0], rings[0][0]};
  for (const plane::Point p : rings[0]) {
    box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
    box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
  }
  return box;
}

plane::Box Polygon::bound() const {
  const plane::Box inner = box();
  const double margin = 0.01 * std::max(inner.high.x - inner.low.x, inner.high.y - inner.low.y);
  return {{inner.low.x - margin, inner.low.y - margin}, {inner.high.x + margin, inner.high.y + margin}};
}

std::vector<plane::Segment> Polygon::walls() const {
  std::vector<plane::Segment> walls;
  for (const auto& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) walls.push_back({ring[i], ring[(i + 1) % ring.size()]});
  }
  return walls;
}

std::vector<std::filesystem::path> polygon_files() {
  const std::filesystem::path folder = std::filesystem::path(ZONEPROOF_OPEN_DATA) / "polygons";
  std::vector<std::filesystem::path> files;
  if (std::filesystem::is_directory(folder)) {
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
      if (entry.path().extension() == ".pol") files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

Polygon read_polygon(const std::filesystem::path& file) {
  std::ifstream in(file);
  Polygon polygon{file.stem().string(), {}};
  polygon.rings.push_back(read_ring(in, polygon.name));
  std::size_t holes = 0;
  in >> holes;  // not there in files without holes
  for (std::size_t i = 0; i < holes; ++i) polygon.rings.push_back(read_ring(in, polygon.name));
  if (polygon.rings[0].size() < 3) throw std::runtime_error(polygon.name + ": no polygon");
  return polygon;
}

std::vector<plane::Point> points_inside(const Polygon& polygon, std::size_t count, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto unit = [&] { return static_cast<double>(random() >> 11U) * 0x1p-53; };
  const plane::Box box = polygon.box();
  std::vector<plane::Point> points;
  while (points.size() < count) {
    const double x = box.low.x + unit() * (box.high.x - box.low.x);
    const plane::Point p{x, box.low.y + unit() * (box.high.y - box.low.y)};
    if (inside(polygon, p)) points.push_back(p);
  }
  return points;
}

}  // namespace zoneproof::open_data
