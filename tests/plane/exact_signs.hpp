#pragma once
#include "plane/point.hpp"

/// The predicates by exact rational numbers (GMP), straight from their definitions.
namespace zoneproof::plane {

int rational_orientation(Point a, Point b, Point c);
int rational_in_circle(Point a, Point b, Point c, Point d);
/// The relative error of a value for twice the area of a triangle.
double error_of_twice_area(double value, Point a, Point b, Point c);
/// Whether the crossing of two segments lies in the pixel around `middle`, left and lower border included.
bool crosses_in_pixel(Point a, Point b, Point c, Point d, Point middle, double step);

}  // namespace zoneproof::plane
