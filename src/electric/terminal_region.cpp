#include "electric/terminal_region.hpp"

#include <algorithm>
#include <cmath>

#include "circuit/network.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

/// By how much of itself every half plane is moved outward before it cuts (the header's "Numerics").
constexpr double outward = 1e-12;
/// A ray whose w is below this share of its length is a direction: it ends beyond 10^15 ohm.
constexpr double at_infinity = 1e-12;
/// Corners nearer to each other than this share of themselves are one.
constexpr double same_corner = 1e-12;
constexpr double ohm_per_kohm = 1e3;

double lowered(double value) { return value - outward * std::fabs(value); }
double raised(double value) { return value + outward * std::fabs(value); }

/// The ends of p and q in x (p + q R).
struct Line {
  double p, q;
};
Line lowest_line(const MeterReading& reading) {
  if (reading.kind == MeterKind::voltage) return {1.0, reading.load_S.low};
  return {reading.burden_ohm.low, 1.0 + reading.burden_ohm.low * reading.load_S.low};
}
Line highest_line(const MeterReading& reading) {
  if (reading.kind == MeterKind::voltage) return {1.0, reading.load_S.high};
  return {reading.burden_ohm.high, 1.0 + reading.burden_ohm.high * reading.load_S.high};
}

bool near(double a, double b) { return std::fabs(a - b) <= same_corner * std::max(std::fabs(a), std::fabs(b)); }
bool near(const TerminalPoint& a, const TerminalPoint& b) { return near(a.ohm, b.ohm) && near(a.volts, b.volts); }

/// Neighbours that are one corner, merged; the first and the last are neighbours too.
void merge_neighbours(std::vector<TerminalPoint>& points) {
  points.erase(std::unique(points.begin(), points.end(),
                           [](const TerminalPoint& a, const TerminalPoint& b) { return near(a, b); }),
               points.end());
  while (points.size() > 1 && near(points.front(), points.back())) points.pop_back();
}

void take(Extent& extent, double value) {
  extent.low = std::min(extent.low, value);
  extent.high = std::max(extent.high, value);
}
Extent nothing_yet() { return {infinite, -infinite}; }

/// V / R of all pairs of a box; without end where R can be zero.
Extent ratio_of(const Extent& volts, const Extent& ohm) {
  if (ohm.high <= 0.0) return {-infinite, infinite};
  const auto farthest = [&](double value) { return ohm.low > 0.0 ? value / ohm.low : std::copysign(infinite, value); };
  return {volts.low >= 0.0 ? volts.low / ohm.high : farthest(volts.low),
          volts.high <= 0.0 ? volts.high / ohm.high : farthest(volts.high)};
}

void cut_known(const KnownSource& known, TerminalRegion& region) {
  if (!known.behind_input) {
    region.cut_ohm(known.ohm);
    region.cut_volts(known.volts);
    return;
  }
  region.cut_ohm({0.0, known.ohm.high});
  region.cut_volts({std::min(0.0, known.volts.low), std::max(0.0, known.volts.high)});
  region.cut_amperes(ratio_of(known.volts, known.ohm));
}

}  // namespace

Extent MeterReading::really() const {
  const auto error = [this](double value) { return error_share * std::fabs(value) + error_fixed; };
  // A share below 1 of what is shown is least at the end nearer to zero, so the ends stay the ends.
  return {shown.low - error(shown.low), shown.high + error(shown.high)};
}

KnownSource::KnownSource() : ohm{0.0, infinite}, volts{-infinite, infinite} {}

TerminalRegion::TerminalRegion() : kohm_{0.0, infinite} { build(); }

void TerminalRegion::cut(const MeterReading& reading) {
  const Extent x = reading.really();
  const double low = lowered(x.low), high = raised(x.high);
  const Line under = low >= 0.0 ? lowest_line(reading) : highest_line(reading);
  const Line over = high >= 0.0 ? highest_line(reading) : lowest_line(reading);
  slopes_.push_back({-low * under.q * ohm_per_kohm, 1.0, -low * under.p});
  slopes_.push_back({high * over.q * ohm_per_kohm, -1.0, high * over.p});
  build();
}

void TerminalRegion::cut_ohm(const Extent& ohm) {
  kohm_.low = std::max(kohm_.low, lowered(ohm.low) / ohm_per_kohm);
  kohm_.high = std::min(kohm_.high, raised(ohm.high) / ohm_per_kohm);
  build();
}

void TerminalRegion::cut_volts(const Extent& volts) {
  if (std::isfinite(volts.low)) slopes_.push_back({0.0, 1.0, -lowered(volts.low)});
  if (std::isfinite(volts.high)) slopes_.push_back({0.0, -1.0, raised(volts.high)});
  build();
}

void TerminalRegion::cut_amperes(const Extent& amperes) {
  if (std::isfinite(amperes.low)) slopes_.push_back({-lowered(amperes.low) * ohm_per_kohm, 1.0, 0.0});
  if (std::isfinite(amperes.high)) slopes_.push_back({raised(amperes.high) * ohm_per_kohm, -1.0, 0.0});
  build();
}

/// Cuts by R alone leave a strip, which has no corners: it is made with two points at 0 V to hold on to, which every
/// slope then moves.
void TerminalRegion::build() {
  const Ray right = std::isfinite(kohm_.high) ? Ray{kohm_.high, 0.0, 1.0} : Ray{1.0, 0.0, 0.0};
  rays_.clear();
  if (kohm_.low <= kohm_.high) rays_ = {{0.0, -1.0, 0.0}, right, {0.0, 1.0, 0.0}, {kohm_.low, 0.0, 1.0}};
  for (const HalfPlane& half : slopes_) clip(half);
  settle();
}

void TerminalRegion::clip(const HalfPlane& half) {
  std::vector<Ray> kept;
  for (std::size_t i = 0; i < rays_.size(); ++i) {
    const Ray& here = rays_[i];
    const Ray& next = rays_[(i + 1) % rays_.size()];
    const double inside = half.at(here), next_inside = half.at(next);
    if (inside >= 0.0) kept.push_back(here);
    if ((inside >= 0.0) == (next_inside >= 0.0)) continue;
    const double a = std::fabs(next_inside), b = std::fabs(inside);
    Ray border = {a * here.r + b * next.r, a * here.v + b * next.v, a * here.w + b * next.w};
    const double length = std::max({std::fabs(border.r), std::fabs(border.v), border.w});
    if (length == 0.0) continue;
    kept.push_back({border.r / length, border.v / length, border.w / length});
  }
  rays_ = std::move(kept);
}

void TerminalRegion::settle() {
  vertices_.clear();
  directions_.clear();
  for (const Ray& ray : rays_) {
    const double length = std::max(std::fabs(ray.r), std::fabs(ray.v));
    if (ray.w > at_infinity * length) {
      vertices_.push_back({ray.r / ray.w * ohm_per_kohm, ray.v / ray.w});
    } else {
      directions_.push_back({ray.r / length * ohm_per_kohm, ray.v / length});
    }
  }
  merge_neighbours(vertices_);
  merge_neighbours(directions_);
  if (vertices_.empty()) directions_.clear();
}

Extent TerminalRegion::ohm() const {
  Extent extent = nothing_yet();
  for (const TerminalPoint& point : vertices_) take(extent, point.ohm);
  for (const TerminalPoint& way : directions_) {
    if (way.ohm > 0.0) extent.high = infinite;
  }
  return extent;
}

Extent TerminalRegion::volts() const { return ratio(1.0, 0.0); }

/// Extremes of V / (p + q R), p or q positive.
Extent TerminalRegion::ratio(double p, double q) const {
  Extent extent = nothing_yet();
  for (const TerminalPoint& point : vertices_) {
    const double below = p + q * point.ohm;
    // No resistance at all, measured by a meter without any: a source without end, unless there is none.
    take(extent, below > 0.0 ? point.volts / below : point.volts == 0.0 ? 0.0 : std::copysign(infinite, point.volts));
  }
  for (const TerminalPoint& way : directions_) {
    const double below = q * way.ohm;
    if (below > 0.0) {
      take(extent, way.volts / below);
    } else if (way.volts != 0.0) {
      take(extent, std::copysign(infinite, way.volts));
    }
  }
  return extent;
}

Extent TerminalRegion::voltage_over(const Extent& load_S) const {
  const Extent a = ratio(1.0, load_S.low), b = ratio(1.0, load_S.high);
  return {std::min(a.low, b.low), std::max(a.high, b.high)};
}

Extent TerminalRegion::current_through(const Extent& burden_ohm, const Extent& load_S) const {
  const Extent a = ratio(burden_ohm.low, 1.0 + burden_ohm.low * load_S.low);
  const Extent b = ratio(burden_ohm.high, 1.0 + burden_ohm.high * load_S.high);
  return {std::min(a.low, b.low), std::max(a.high, b.high)};
}

TerminalModel terminal_model(const std::vector<MeterReading>& readings, bool same_source, const KnownSource& known) {
  TerminalModel model;
  model.same_source = same_source;
  for (TerminalRegion* region : {&model.mains, &model.battery}) cut_known(known, *region);
  for (const MeterReading& reading : readings) {
    if (same_source || reading.supply == ReadingSupply::mains) model.mains.cut(reading);
    if (same_source || reading.supply == ReadingSupply::battery) model.battery.cut(reading);
  }
  if (same_source || model.empty()) return model;
  const Extent on_mains = model.mains.ohm(), on_battery = model.battery.ohm();
  model.mains.cut_ohm(on_battery);
  model.battery.cut_ohm(on_mains);
  return model;
}

std::vector<std::size_t> against_the_others(const std::vector<MeterReading>& readings, bool same_source,
                                            const KnownSource& known) {
  std::vector<std::size_t> odd;
  if (!terminal_model(readings, same_source, known).empty()) return odd;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    std::vector<MeterReading> others = readings;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
    if (!terminal_model(others, same_source, known).empty()) odd.push_back(i);
  }
  return odd;
}

}  // namespace zoneproof::electric
