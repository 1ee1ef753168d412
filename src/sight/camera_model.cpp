#include "sight/camera_model.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "sight/ray_outline.hpp"
#include "site/outline.hpp"

namespace zoneproof::sight {

using plane::Point;
using site::PictureTurn;

namespace {

constexpr double kRadian = std::numbers::pi / 180.0;
constexpr double kMicrometresInMillimetre = 1000.0;
bool sideways(PictureTurn turn) { return turn == PictureTurn::left || turn == PictureTurn::right; }

/// What falls at (x, y) of the sensor's picture, y down, falls here in the turned one, both from the middle.
Point turned(PictureTurn turn, Point p) {
  switch (turn) {
    case PictureTurn::left: return {p.y, -p.x};
    case PictureTurn::right: return {-p.y, p.x};
    case PictureTurn::upside_down: return {-p.x, -p.y};
    default: return p;
  }
}

PictureTurn back(PictureTurn turn) {
  if (turn == PictureTurn::left) return PictureTurn::right;
  return turn == PictureTurn::right ? PictureTurn::left : turn;
}

void refuse_nonsense(const CameraSetup& s) {
  for (const double size :
       {static_cast<double>(s.sensor_width_px), static_cast<double>(s.sensor_height_px),
        static_cast<double>(s.encoded_width_px), static_cast<double>(s.encoded_height_px), s.pixel_um, s.focal_mm}) {
    if (!(size > 0.0) || !std::isfinite(size)) throw std::invalid_argument("a camera without size");
  }
  for (const double number : {s.eye.x, s.eye.y, s.eye.z, s.bearing_deg, s.tilt_deg, s.roll_deg, s.lens.k1, s.lens.k2,
                              s.lens.k3, s.lens.p1, s.lens.p2}) {
    if (!std::isfinite(number)) throw std::invalid_argument("a camera without place");
  }
}

/// Sine and cosine of an angle in degrees; of whole quarters they are 0 and 1, so that a camera that looks due east
/// does not look a hair beside it.
struct Angle {
  double sine, cosine;
  explicit Angle(double degrees) {
    const double quarter = std::nearbyint(degrees / 90.0);
    const double rest = (degrees - 90.0 * quarter) * kRadian;
    const double s = std::sin(rest), c = std::cos(rest);
    switch (static_cast<int>(std::fmod(quarter, 4.0) + 4.0) % 4) {
      case 0: sine = s, cosine = c; break;
      case 1: sine = c, cosine = -s; break;
      case 2: sine = -s, cosine = -c; break;
      default: sine = -c, cosine = s; break;
    }
  }
};

}  // namespace

CameraModel::CameraModel(CameraSetup setup) : setup_(std::move(setup)), lens_(setup_.lens) {
  refuse_nonsense(setup_);
  for (const CameraSetup::Mask& mask : setup_.masks) {
    mask_rings_.emplace_back();
    for (const PicturePlace corner : mask.corners) mask_rings_.back().push_back({corner.across_px, corner.down_px});
  }
  const Angle bearing(setup_.bearing_deg), tilt(setup_.tilt_deg), roll(setup_.roll_deg);
  forward_ = {bearing.sine * tilt.cosine, bearing.cosine * tilt.cosine, tilt.sine};
  const Vector3 level = {bearing.cosine, -bearing.sine, 0.0};  // to the right, before the roll
  const Vector3 below = cross(forward_, level);
  right_ = roll.cosine * level + roll.sine * below;
  down_ = roll.cosine * below - roll.sine * level;
  const Point across = turned(back(setup_.turn), {1.0, 0.0}), downward = turned(back(setup_.turn), {0.0, 1.0});
  shown_right_ = across.x * right_ + across.y * down_;
  shown_down_ = downward.x * right_ + downward.y * down_;

  const double focal_px = setup_.focal_mm * kMicrometresInMillimetre / setup_.pixel_um;
  auto sensor_width = static_cast<double>(setup_.sensor_width_px);
  auto sensor_height = static_cast<double>(setup_.sensor_height_px);
  if (sideways(setup_.turn)) std::swap(sensor_width, sensor_height);
  focal_across_ = focal_px * width_px() / sensor_width;
  focal_down_ = focal_px * height_px() / sensor_height;
}

bool CameraModel::reaches_corner() const {
  const Point corner = shown({width_px(), height_px()});
  return std::hypot(corner.x, corner.y) < lens_.reach();
}

Vector3 CameraModel::in_camera(Vector3 at) const {
  const Vector3 d = at - setup_.eye;
  return {dot(d, shown_right_), dot(d, shown_down_), dot(d, forward_)};
}

Vector3 CameraModel::in_site(Vector3 p) const {
  return setup_.eye + p.x * shown_right_ + p.y * shown_down_ + p.z * forward_;
}

PicturePlace CameraModel::encoded(Point p) const {
  return {width_px() / 2.0 + focal_across_ * p.x, height_px() / 2.0 + focal_down_ * p.y};
}

Point CameraModel::shown(PicturePlace place) const {
  return {(place.across_px - width_px() / 2.0) / focal_across_, (place.down_px - height_px() / 2.0) / focal_down_};
}

std::optional<PicturePlace> CameraModel::place_of(Vector3 at) const {
  const Vector3 d = at - setup_.eye;
  if (d == Vector3{}) return std::nullopt;
  const auto on_sensor = lens_.place_of({dot(d, right_), dot(d, down_), dot(d, forward_)});
  if (!on_sensor) return std::nullopt;
  return encoded(turned(setup_.turn, *on_sensor));
}

bool CameraModel::in_picture(PicturePlace place) const {
  return place.across_px >= 0.0 && place.across_px <= width_px() && place.down_px >= 0.0 &&
         place.down_px <= height_px();
}

bool CameraModel::in_picture(Vector3 at) const {
  const auto place = place_of(at);
  return place && in_picture(*place);
}

bool CameraModel::masked(PicturePlace place) const {
  return std::any_of(mask_rings_.begin(), mask_rings_.end(), [&](const std::vector<Point>& ring) {
    return site::inside_or_on(ring, {place.across_px, place.down_px});
  });
}

std::optional<Vector3> CameraModel::ray_at(Point p) const {
  const auto d = lens_.direction_of(turned(back(setup_.turn), p));
  if (!d) return std::nullopt;
  return unit(d->x * right_ + d->y * down_ + d->z * forward_);
}

std::optional<Vector3> CameraModel::ray(PicturePlace place) const { return ray_at(shown(place)); }

double CameraModel::pixels_per_metre(Vector3 at) const {
  const Vector3 d = at - setup_.eye;
  if (d == Vector3{}) return 0.0;
  const auto m = lens_.derivative({dot(d, right_), dot(d, down_), dot(d, forward_)});
  if (!m) return 0.0;
  const Point away = turned(setup_.turn, {m->across_away, m->down_away});
  const Point around = turned(setup_.turn, {m->across_around, m->down_around});
  const Growth scaled =
      singular_values({focal_across_ * away.x, focal_across_ * around.x, focal_down_ * away.y, focal_down_ * around.y});
  return scaled.least / length(d);
}

std::optional<double> CameraModel::height_share_pct(Vector3 foot, double height_m) const {
  const auto low = place_of(foot), high = place_of(foot + Vector3{0.0, 0.0, height_m});
  if (!low || !high) return std::nullopt;
  return std::abs(low->down_px - high->down_px) / height_px() * kWhole_percent;
}

RayOutline CameraModel::outline(const std::vector<PicturePlace>& corners, double tolerance) const {
  std::vector<Point> ring;
  double twice_area = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const PicturePlace a = corners[i], b = corners[(i + 1) % corners.size()];
    twice_area += a.across_px * b.down_px - b.across_px * a.down_px;
    ring.push_back(shown(a));
  }
  // Counter-clockwise to the eye is clockwise where y is counted down.
  if (twice_area > 0.0) std::reverse(ring.begin(), ring.end());
  // A hair within the end of the lens's range, so that every place has its ray.
  constexpr double kWithin = 1.0 - 0x1p-40;
  return follow_ring(ring, lens_.reach() * kWithin, is_flat(), tolerance, [&](Point p) { return *ray_at(p); });
}

RayOutline CameraModel::frame_outline(double tolerance) const {
  return outline({{0.0, 0.0}, {0.0, height_px()}, {width_px(), height_px()}, {width_px(), 0.0}}, tolerance);
}

std::vector<MaskOutline> CameraModel::mask_outlines(double tolerance) const {
  std::vector<MaskOutline> all;
  for (const CameraSetup::Mask& mask : setup_.masks) all.push_back({mask.id, outline(mask.corners, tolerance)});
  return all;
}

CameraModel CameraModel::with(const CameraChange& change) const {
  CameraSetup changed = setup_;
  changed.bearing_deg += change.pan_deg;
  changed.tilt_deg += change.tilt_deg;
  changed.eye.z += change.raise_m;
  if (change.focal_mm) changed.focal_mm = *change.focal_mm;
  return CameraModel(std::move(changed));
}

}  // namespace zoneproof::sight
