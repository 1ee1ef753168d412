#pragma once
#include <optional>

#include "plane/point.hpp"
#include "sight/vector3.hpp"
#include "site/parts.hpp"

namespace zoneproof::sight {

/// The terms of a lens as general vision libraries define them.
struct LensTerms {
  site::Projection projection = site::Projection::pinhole;
  double k1 = 0.0, k2 = 0.0, k3 = 0.0;  ///< radial; equidistant: of theta
  double p1 = 0.0, p2 = 0.0;            ///< tangential; pinhole only
  friend bool operator==(const LensTerms&, const LensTerms&) = default;
};

/// How a picture grows with the direction at a place: focal lengths per radian by which the direction turns.
struct Growth {
  double least = 0.0, most = 0.0;  ///< over all ways to turn
};

/// Directions to places on the sensor and back.
///
/// Frame: x right, y down, z forward along the axis, as general vision libraries have it. Places on the sensor are in
/// focal lengths from the foot of the axis, so that a lens knows neither pixels nor millimetres.
///
/// Pinhole with the terms of Brown and Conrady (as in the documentation of OpenCV, module calib3d), for u = (x/z, y/z),
/// s = |u|^2, q = (p2, p1):
///
///     place = (1 + k1 s + k2 s^2 + k3 s^3) u + 2 (q.u) u + s q
///
/// Equidistant (module calib3d, fisheye; its k4 is 0 here), for the angle t between axis and direction:
///
///     place = (t + k1 t^3 + k2 t^5 + k3 t^7) (x, y) / |(x, y)|
///
/// Both are polynomials fitted to one part of the picture. Beyond it they may turn back, so that two directions fall on
/// one place: a ghost that no glass makes. What counts is the disc around the axis in which the map is one to one.
/// The pinhole's Jacobian is symmetric (the map is the gradient of a scalar); where it is positive definite on a convex
/// region, the map is one to one there. With A = d(|u| L)/d|u|, L the radial factor and m = 2 |u| |q|, it is
///
///     diag(A, L) + m [[3 c, s], [s, c]]      along and across u, c and s those of the angle between u and q,
///
/// and the eigenvalues of the second part lie within -3 m and 3 m. So the disc reaches to the first |u| at which A or L
/// falls to 3 m: exact without tangential terms, and with them on the safe side by less than they displace. Of an
/// equidistant lens it reaches to the first t at which the derivative of the radial polynomial is 0, or to the
/// backward direction.
///
/// Not modelled: a foot of the axis beside the sensor's middle (the site file has none), thin-prism and tilted-sensor
/// terms, the shift of the entrance pupil of a fisheye (millimetres).
class Lens {
 public:
  explicit Lens(const LensTerms& terms);

  const LensTerms& terms() const { return terms_; }
  /// Straight lines of the site are straight in the picture.
  bool is_straight() const { return straight_; }
  /// Where the range ends: tangent of the angle to the axis (pinhole) or that angle in radians; infinite where the
  /// pinhole never turns back.
  double range() const { return range_; }
  /// Every place nearer to the foot of the axis than this has one direction, in focal lengths.
  double reach() const { return reach_; }

  /// Where a direction falls, of any length but 0; nothing where it is beyond the range, or not before a pinhole.
  /// Error: a few units in the last place.
  std::optional<plane::Point> place_of(Vector3 direction) const;

  /// The unit direction that falls on a place; nothing where none within the range does. Found by Newton steps that
  /// are held between bounds that close in (radial), or that must lessen the distance (tangential), until nothing
  /// gets better. Cost: 0.2 us; with tangential terms 1 us.
  std::optional<Vector3> direction_of(plane::Point place) const;

  /// The growth at a direction: singular values of the derivative of `place_of` by turns of the direction, exactly.
  std::optional<Growth> growth(Vector3 direction) const;

  /// That derivative: columns for turns away from the axis, and around it; rows across and down.
  struct Derivative {
    double across_away, across_around, down_away, down_around;
  };
  std::optional<Derivative> derivative(Vector3 direction) const;

 private:
  struct Bent;
  bool is_pinhole() const { return terms_.projection == site::Projection::pinhole; }
  double radial(double r) const;        ///< of a distance from the axis (u or angle): its place
  double radial_slope(double r) const;  ///< its derivative
  double factor(double r) const;        ///< radial(r) / r
  std::optional<double> radial_inverse(double place) const;
  plane::Point bent(plane::Point u) const;
  Bent bent_slopes(plane::Point u) const;
  std::optional<plane::Point> straightened(plane::Point place) const;

  LensTerms terms_;
  bool straight_, tangential_;
  double range_, reach_;
};

/// Singular values of a 2 x 2 matrix, the smaller one first.
Growth singular_values(const Lens::Derivative& of);

}  // namespace zoneproof::sight
