#include "sight/kept_views.hpp"

#include <algorithm>
#include <cstring>
#include <limits>
#include <type_traits>

namespace zoneproof::sight {

namespace {

using plane::Point;

constexpr std::size_t kViewsOfAZone = 8;  // a hand that drags to and fro; more would be memory for nothing
constexpr double kNear_m = 2.0;           // around the lines of sight: more than obstacles.cpp looks at

/// Values one after the other, texts with their length: equal bytes, equal values.
class Bytes {
 public:
  template <class Value>
  std::enable_if_t<std::is_arithmetic_v<Value> || std::is_enum_v<Value>> put(Value value) {
    char raw[sizeof(Value)];
    std::memcpy(raw, &value, sizeof(Value));
    bytes_.append(raw, sizeof(Value));
  }
  void put(const std::string& text) {
    put(text.size());
    bytes_ += text;
  }
  void put(Point point) { put(point.x), put(point.y); }
  void put(const Vector3& vector) { put(vector.x), put(vector.y), put(vector.z); }
  void put(const std::vector<Point>& points) {
    put(points.size());
    for (const Point point : points) put(point);
  }
  std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

void put_source(Bytes& bytes, const AreaSource& source) {
  bytes.put(source.level);
  bytes.put(source.opening);
  bytes.put(source.side);
  bytes.put(source.outlines.size());
  for (const auto& ring : source.outlines) bytes.put(ring);
  bytes.put(source.opens.size());
  for (const std::string& opening : source.opens) bytes.put(opening);
  bytes.put(source.looks.has_value());
  if (!source.looks) return;
  const Looking& looks = *source.looks;
  bytes.put(looks.eye.at), bytes.put(looks.eye.height_m), bytes.put(looks.heading);
  bytes.put(looks.medium.through_solid), bytes.put(looks.medium.through_glass), bytes.put(looks.medium.mesh_is_clear);
  bytes.put(looks.hides), bytes.put(looks.band.low_m), bytes.put(looks.band.high_m);
}

void put_camera(Bytes& bytes, const Watching& watching, const std::vector<CameraTolerance>& tolerances) {
  const CameraSetup& setup = watching.model.setup();
  bytes.put(watching.camera), bytes.put(watching.level);
  for (const double value : {watching.near_m, watching.light_m, watching.px_per_m, watching.height_pct})
    bytes.put(value);
  bytes.put(watching.own_light);
  bytes.put(watching.dark_levels.size());
  for (const std::string& level : watching.dark_levels) bytes.put(level);
  bytes.put(watching.only_height_m.value_or(-1.0));
  bytes.put(setup.eye);
  for (const double value : {setup.bearing_deg, setup.tilt_deg, setup.roll_deg, setup.focal_mm, setup.pixel_um,
                             setup.lens.k1, setup.lens.k2, setup.lens.k3, setup.lens.p1, setup.lens.p2})
    bytes.put(value);
  bytes.put(setup.lens.projection), bytes.put(setup.turn);
  for (const long long count :
       {setup.sensor_width_px, setup.sensor_height_px, setup.encoded_width_px, setup.encoded_height_px})
    bytes.put(count);
  bytes.put(setup.masks.size());
  for (const CameraSetup::Mask& mask : setup.masks) {
    bytes.put(mask.id);
    bytes.put(mask.corners.size());
    for (const PicturePlace corner : mask.corners) bytes.put(corner.across_px), bytes.put(corner.down_px);
  }
  bytes.put(tolerances.size());
  for (const CameraTolerance& tolerance : tolerances) {
    bytes.put(tolerance.number), bytes.put(tolerance.pointer);
    bytes.put(tolerance.low), bytes.put(tolerance.high);
  }
}

void put_prism(Bytes& bytes, const Building& building, const Prism& prism) {
  const Thing& thing = building.things[prism.thing];
  bytes.put(thing.kind), bytes.put(thing.id);
  bytes.put(prism.body), bytes.put(prism.outline);
  for (const double value : {prism.bottom_m, prism.top_m, prism.clear, prism.clear_otherwise}) bytes.put(value);
  bytes.put(prism.surface), bytes.put(prism.either);
}

/// Holds every line of sight of a view.
class Around {
 public:
  void take(Point p) {
    box_.low = {std::min(box_.low.x, p.x - kNear_m), std::min(box_.low.y, p.y - kNear_m)};
    box_.high = {std::max(box_.high.x, p.x + kNear_m), std::max(box_.high.y, p.y + kNear_m)};
  }
  bool meets(const std::vector<Point>& outline) const {
    Point low = outline[0], high = low;
    for (const Point p : outline) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    return low.x <= box_.high.x && high.x >= box_.low.x && low.y <= box_.high.y && high.y >= box_.low.y;
  }

 private:
  static constexpr double kFar = std::numeric_limits<double>::infinity();
  plane::Box box_ = {{kFar, kFar}, {-kFar, -kFar}};
};

/// How far a tolerance may move an eye.
double most_moved(const std::vector<CameraTolerance>& tolerances) {
  double most = 0.0;
  for (const CameraTolerance& tolerance : tolerances)
    if (tolerance.number == CameraNumber::x || tolerance.number == CameraNumber::y)
      most = std::max({most, -tolerance.low, tolerance.high});
  return most;
}

}  // namespace

std::string basis_of(const Building& building, const std::vector<AreaSource>& sources,
                     const std::vector<Watching>& cameras, const std::vector<std::vector<CameraTolerance>>& tolerances,
                     const Demand& demand, double least_patch_m2) {
  Bytes bytes;
  Around around;
  for (const double value : {demand.from_m, demand.to_m, demand.target_m, demand.clear_pct, demand.stepped_on_m,
                             demand.stoop_m, least_patch_m2})
    bytes.put(value);
  for (const AreaSource& source : sources) {
    put_source(bytes, source);
    for (const auto& ring : source.outlines)
      for (const Point p : ring) around.take(p);
    if (source.looks) around.take(source.looks->eye.at);
  }
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    put_camera(bytes, cameras[i], tolerances[i]);
    const Vector3 eye = cameras[i].model.eye();
    const double moved = most_moved(tolerances[i]);
    around.take({eye.x - moved, eye.y - moved}), around.take({eye.x + moved, eye.y + moved});
  }
  for (const Floor& floor : building.floors) {
    bytes.put(floor.level), bytes.put(floor.height_m), bytes.put(floor.ceiling_m);
  }
  for (const Prism& prism : building.prisms)
    if (around.meets(prism.outline)) put_prism(bytes, building, prism);
  return bytes.take();
}

ZoneView KeptViews::of(const std::string& zone, const std::string& basis, const std::function<ZoneView()>& viewing) {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    std::list<Entry>& here = kept_[zone];
    const auto known = std::find_if(here.begin(), here.end(), [&](const Entry& one) { return one.basis == basis; });
    if (known != here.end()) {
      ++found_;
      here.splice(here.begin(), here, known);
      return known->view;
    }
  }
  ZoneView view = viewing();
  const std::lock_guard<std::mutex> lock(mutex_);
  ++given_;
  std::list<Entry>& here = kept_[zone];
  here.push_front({basis, view});
  if (here.size() > kViewsOfAZone) here.pop_back();
  return view;
}

std::size_t KeptViews::found() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return found_;
}

std::size_t KeptViews::given() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return given_;
}

}  // namespace zoneproof::sight
