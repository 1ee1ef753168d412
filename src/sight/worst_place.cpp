#include "sight/worst_place.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::sight {

namespace {

using plane::Point;

constexpr double kWorth = 0.99;       ///< a place that is worse by less is not looked for
constexpr double kSmallest_m = 0.02;  ///< nor a triangle halved whose sides are all shorter

double side(Point a, Point b) { return std::hypot(b.x - a.x, b.y - a.y); }

}  // namespace

WorstPlaceSearch::Corner WorstPlaceSearch::corner(Point at, const std::vector<bool>& seeing) const {
  Corner made{at, std::vector<double>(cameras_.size(), 0.0)};
  for (std::size_t camera = 0; camera < cameras_.size(); ++camera) {
    if (!seeing[camera]) continue;
    const CameraModel& model = cameras_[camera].model;
    made.px_per_m[camera] = std::min(model.pixels_per_metre({at.x, at.y, floor_m_ + demand_.from_m}),
                                     model.pixels_per_metre({at.x, at.y, floor_m_ + demand_.to_m}));
  }
  return made;
}

void WorstPlaceSearch::take(const Corner& corner) {
  std::size_t best = 0;
  for (std::size_t camera = 1; camera < corner.px_per_m.size(); ++camera)
    if (clearly_less(corner.px_per_m[best], corner.px_per_m[camera])) best = camera;
  if (corner.px_per_m.empty() || corner.px_per_m[best] <= 0.0) return;
  if (found_.px_per_m > 0.0 && !clearly_less(corner.px_per_m[best], found_.px_per_m)) return;
  found_ = {best, corner.at, corner.px_per_m[best]};
}

void WorstPlaceSearch::look_at(const std::array<Point, 3>& triangle, const std::vector<bool>& seeing) {
  for (const Point at : triangle) take(corner(at, seeing));
  if (std::count(seeing.begin(), seeing.end(), true) > 1) shared_.emplace_back(triangle, &seeing);
}

WorstPlaceSearch::Found WorstPlaceSearch::find() {
  for (const auto& [triangle, seeing] : shared_) halve(triangle, *seeing);
  return found_;
}

void WorstPlaceSearch::halve(const std::array<Point, 3>& triangle, const std::vector<bool>& seeing) {
  using Corners = std::array<Corner, 3>;
  std::vector<Corners> waiting;
  waiting.push_back({corner(triangle[0], seeing), corner(triangle[1], seeing), corner(triangle[2], seeing)});
  while (!waiting.empty()) {
    const Corners here = std::move(waiting.back());
    waiting.pop_back();
    double nowhere_less = 0.0;
    for (std::size_t camera = 0; camera < cameras_.size(); ++camera)
      nowhere_less = std::max(nowhere_less,
                              std::min({here[0].px_per_m[camera], here[1].px_per_m[camera], here[2].px_per_m[camera]}));
    std::size_t longest = 0;
    for (std::size_t i = 1; i < 3; ++i)
      if (side(here[i].at, here[(i + 1) % 3].at) > side(here[longest].at, here[(longest + 1) % 3].at)) longest = i;
    const Corner &a = here[longest], &b = here[(longest + 1) % 3], &c = here[(longest + 2) % 3];
    if (nowhere_less >= kWorth * found_.px_per_m || side(a.at, b.at) < kSmallest_m) continue;
    const Corner middle = corner({(a.at.x + b.at.x) / 2.0, (a.at.y + b.at.y) / 2.0}, seeing);
    take(middle);
    waiting.push_back({a, middle, c});
    waiting.push_back({middle, b, c});
  }
}

}  // namespace zoneproof::sight
