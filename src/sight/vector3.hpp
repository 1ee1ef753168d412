#pragma once
#include <cmath>

namespace zoneproof::sight {

/// A place or a direction in the site: metres to the east, to the north, and up above the site's datum; x, y, z of a
/// camera's own frame where it says so.
struct Vector3 {
  double x = 0.0, y = 0.0, z = 0.0;
  friend bool operator==(const Vector3&, const Vector3&) = default;
};

inline Vector3 operator+(Vector3 a, Vector3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
inline Vector3 operator-(Vector3 a, Vector3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
inline Vector3 operator*(double s, Vector3 a) { return {s * a.x, s * a.y, s * a.z}; }
inline double dot(Vector3 a, Vector3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
inline Vector3 cross(Vector3 a, Vector3 b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vector3 a) { return std::hypot(a.x, a.y, a.z); }
inline Vector3 unit(Vector3 a) { return (1.0 / length(a)) * a; }
/// The angle between two directions in radians, precise for small and for flat angles.
inline double angle_between(Vector3 a, Vector3 b) { return std::atan2(length(cross(a, b)), dot(a, b)); }

}  // namespace zoneproof::sight
