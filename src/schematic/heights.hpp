#pragma once
#include <vector>

#include "schematic/columns.hpp"

namespace zoneproof::schematic {

/// A value that wants to be at one of several places.
struct Wish {
  double at = 0.0;
  double weight = 1.0;
};

/// Values x with x[i + 1] >= x[i] + apart[i] and the least sum of weight times distance to all their wishes: isotonic
/// regression in the L1 norm by pooling neighbours, each pool at the weighted median of its wishes (Robertson, Wright
/// and Dykstra, "Order Restricted Statistical Inference", 1988, chapter 1; medians and not means, so that most wires
/// become straight instead of all a little crooked). `apart` has one less entry than `wishes`; each value has a wish,
/// else std::logic_error. Exact. Cost: n log n in the wishes for each pool that is made.
std::vector<double> pooled(const std::vector<std::vector<Wish>>& wishes, const std::vector<double>& apart);

/// How far down each slot stands, all on the grid, the uppermost at 0 or below it: as the columns are ordered, `gap_mm`
/// between devices, so that as many wires as possible run straight. Where a device has `top_mm`, that holds, and a
/// passage goes through at the height that its net comes from.
std::vector<double> heights(const Diagram& diagram, const Layers& layers, double gap_mm);

}  // namespace zoneproof::schematic
