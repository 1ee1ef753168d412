#pragma once
#include <cmath>

namespace zoneproof::sight {

/// Metres, or a direction: east, north, up.
struct Vector3 {
  double x = 0.0, y = 0.0, z = 0.0;
  friend bool operator==(const Vector3&, const Vector3&) = default;
};

inline Vector3 operator+(const Vector3& a, const Vector3& b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
inline Vector3 operator-(const Vector3& a, const Vector3& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
inline Vector3 operator*(double s, const Vector3& a) { return {s * a.x, s * a.y, s * a.z}; }
inline double dot(const Vector3& a, const Vector3& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
inline Vector3 cross(const Vector3& a, const Vector3& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(const Vector3& a) { return std::sqrt(dot(a, a)); }
inline Vector3 unit(const Vector3& a) { return (1.0 / length(a)) * a; }

}  // namespace zoneproof::sight
