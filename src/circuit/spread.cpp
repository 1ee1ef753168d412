#include "circuit/spread.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace zoneproof::circuit {
namespace {

const double root_of_half = std::sqrt(0.5);
const double root_of_two_pi = std::sqrt(2.0 * std::acos(-1.0));

/// Below this cut the density differs from an even one by less than 0.005 %.
constexpr double flat = 0.01;

double normal_density(double z) { return std::exp(-0.5 * z * z) / root_of_two_pi; }
double normal_above(double z) { return 0.5 * std::erfc(z * root_of_half); }

/// z with the share `above` of the standard normal above it, 0 < above <= 0.5. The share falls convexly there, so
/// Newton's method from zero comes nearer from one side only.
double normal_at(double above) {
  double z = 0.0;
  for (;;) {
    const double step = (normal_above(z) - above) / normal_density(z);
    const double next = z + step;
    if (!(next > z) || step < 1e-15) return next;
    z = next;
  }
}

/// Standard deviation of the normal distribution cut `cut` standard deviations either side of its middle, as a share of
/// half its width; 1/sqrt(3) where it is not bent at all. Near that the closed form cancels, and the series
/// of the variance is taken, 1/3 - 2 cut^2 / 45 + ...
double sigma_of_cut(double cut) {
  if (cut < flat) return std::sqrt(1.0 / 3.0 - 2.0 * cut * cut / 45.0);
  const double inside = 1.0 - 2.0 * normal_above(cut);
  return std::sqrt(1.0 - 2.0 * cut * normal_density(cut) / inside) / cut;
}

}  // namespace

bool is_switch(const Element& element, double leakage_ohm) {
  return element.kind == Kind::resistor && element.value.low < leakage_ohm && element.value.high >= leakage_ohm &&
         (std::isinf(element.value.high) || element.value.low <= 0.0 ||
          element.value.high / element.value.low >= leakage_ohm);
}

Spread::Spread(const Range& range, const SpreadLaw& law) {
  if (!range.wide() || (std::isinf(range.high) && !(range.low > 0.0)))
    throw std::invalid_argument("a range without a law of chance");
  if (!(law.sigmas >= 0.0) || !(law.log_ratio > 1.0)) throw std::invalid_argument("no law of chance");
  double low = range.low, high = range.high;
  if (std::isinf(high)) {
    scale_ = Scale::conductance;
    high = 1.0 / low;
    low = 0.0;
  } else if (low > 0.0 && high / low >= law.log_ratio) {
    scale_ = Scale::logarithmic;
    low = std::log(low);
    high = std::log(high);
  }
  cut_ = scale_ == Scale::linear ? law.sigmas : 0.0;
  below_ = normal_above(cut_);
  middle_ = 0.5 * (low + high);
  half_ = 0.5 * (high - low);
  sigma_ = half_ * sigma_of_cut(cut_);
}

double Spread::at_share(double u) const {
  const double side = std::min(u, 1.0 - u);
  double away = 1.0 - 2.0 * side;  // of the middle, as a share of half the width
  if (cut_ >= flat) {
    const double above = below_ + side * (1.0 - 2.0 * below_);
    away = above > 0.0 ? std::min(normal_at(above) / cut_, 1.0) : 1.0;
  }
  return value_at(middle_ + (u < 0.5 ? -away : away) * half_);
}

double Spread::from_mean(double sigmas) const { return value_at(middle_ + std::clamp(sigmas * sigma_, -half_, half_)); }

double Spread::value_at(double on_scale) const {
  switch (scale_) {
    case Scale::logarithmic: return std::exp(on_scale);
    case Scale::conductance: return on_scale > 0.0 ? 1.0 / on_scale : infinite;
    default: return on_scale;
  }
}

}  // namespace zoneproof::circuit
