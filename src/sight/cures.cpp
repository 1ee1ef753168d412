#include "sight/cures.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "chain/channels.hpp"
#include "messages/sight.hpp"
#include "sight/answers.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::sight {

namespace {

/// Differences of shares below this are rounding of the overlay's grid.
constexpr double kSame_pct = 0.01;
constexpr double kFinestAngle_deg = 1.0, kFinestHeight_m = 0.1, kFinestZoom = 1.02;

/// A way to change a camera: sizes from small to large, in the order in which a technician would try them.
struct Ladder {
  CureKind kind;
  double sign;
  std::vector<double> sizes;  ///< of other_lens and focal: focal lengths
  double finest;              ///< how closely the smallest size is told; 0: only the sizes themselves
};

bool has_cause(const ZoneView& view, const std::string& camera, std::initializer_list<Why> whys) {
  for (const Patch& patch : view.coverage.patches)
    for (const Cause& cause : patch.causes)
      if (cause.camera == camera && std::find(whys.begin(), whys.end(), cause.why) != whys.end()) return true;
  return false;
}

class Trying {
 public:
  Trying(const Scene& scene, const ZoneView& view)
      : scene_(scene), site_(scene.site()), view_(view), limit_(scene.rules().whole_pct()) {
    for (const std::string& camera : view.cameras)
      if (scene.cameras().at(camera).watching) own_.push_back(*scene.cameras().at(camera).watching);
  }

  std::vector<Cure> all() {
    for (std::size_t i = 0; i < own_.size(); ++i) {
      find_neighbours(own_[i].camera);
      filmed_now_.clear();
      for (const auto& [id, area] : site_.privacy_areas) filmed_now_[id] = filmed_m2(scene_, own_[i], area);
      for (const Ladder& ladder : ladders_for(own_[i])) climb(i, ladder);
    }
    add_as_well();
    // By steps, so that being the same passes on: of three shares a little apart each order would else be a right one.
    const auto rank = [&](const Cure& cure) {
      return std::pair(whole(cure.share_pct), std::llround(cure.share_pct / kSame_pct));
    };
    std::stable_sort(found_.begin(), found_.end(), [&](const Cure& a, const Cure& b) { return rank(a) > rank(b); });
    return std::move(found_);
  }

 private:
  struct Neighbour {
    std::string zone;
    std::vector<Watching> cameras;
    std::size_t own;  ///< which of these is the one that changes
    double share_pct;
  };

  bool whole(double share) const { return share >= limit_; }

  std::vector<Watching> watching_of_zone(const std::string& zone) const {
    std::vector<chain::Gap> gaps;
    std::vector<Watching> cameras;
    for (const std::string& camera : chain::cameras_of_zone(site_, zone, gaps))
      if (scene_.cameras().at(camera).watching) cameras.push_back(*scene_.cameras().at(camera).watching);
    return cameras;
  }

  void find_neighbours(const std::string& camera) {
    neighbours_.clear();
    for (const auto& [zone, entry] : site_.zones) {
      if (zone == view_.zone || !site::has_chain(site_, zone)) continue;
      std::vector<Watching> cameras = watching_of_zone(zone);
      const auto own =
          std::find_if(cameras.begin(), cameras.end(), [&](const Watching& one) { return one.camera == camera; });
      if (own == cameras.end()) continue;
      const auto at = static_cast<std::size_t>(own - cameras.begin());
      const double share = scene_.coverage_by(zone, cameras).share_pct();
      neighbours_.push_back({zone, std::move(cameras), at, share});
    }
  }

  double share_with(std::size_t camera, const CameraModel& model) const {
    std::vector<Watching> cameras = own_;
    cameras[camera].model = model;
    return scene_.coverage_by(view_.zone, cameras).share_pct();
  }

  /// Nor may it film where nobody may be filmed, more than it does.
  bool films_more(std::size_t camera, const CameraModel& model) const {
    Watching changed = own_[camera];
    changed.model = model;
    return std::any_of(site_.privacy_areas.begin(), site_.privacy_areas.end(), [&](const auto& area) {
      return filmed_m2(scene_, changed, area.second) >
             filmed_now_.at(area.first) + filmed_limit_m2(scene_, area.second);
    });
  }

  bool nobody_loses(std::size_t camera, const CameraModel& model) const {
    if (films_more(camera, model)) return false;
    return std::all_of(neighbours_.begin(), neighbours_.end(), [&](const Neighbour& neighbour) {
      std::vector<Watching> cameras = neighbour.cameras;
      cameras[neighbour.own].model = model;
      return scene_.coverage_by(neighbour.zone, cameras).share_pct() >= neighbour.share_pct - kSame_pct;
    });
  }

  static CameraModel changed(const CameraModel& model, const Ladder& ladder, double size) {
    CameraChange change;
    const double by = ladder.sign * size;
    switch (ladder.kind) {
      case CureKind::pan: change.pan_deg = by; break;
      case CureKind::tilt: change.tilt_deg = by; break;
      case CureKind::raise: change.raise_m = by; break;
      case CureKind::focal:
      case CureKind::other_lens: change.focal_mm = size; break;
      case CureKind::as_well: break;
    }
    return model.with(change);
  }

  /// Looks at the sizes up to the first that shows all and harms nobody, then between it and the one before.
  void climb(std::size_t camera, const Ladder& ladder) {
    const CameraModel& model = own_[camera].model;
    std::optional<Cure> best;
    double before = 0.0;
    for (const double size : ladder.sizes) {
      const CameraModel other = changed(model, ladder, size);
      const double share = share_with(camera, other);
      const bool better = share > view_.coverage.share_pct() + kSame_pct &&
                          (!best || whole(share) || share > best->share_pct + kSame_pct);
      if (better && nobody_loses(camera, other))
        best = Cure{ladder.kind, own_[camera].camera, ladder.sign * size, share, model.setup().focal_mm};
      if (best && whole(best->share_pct)) {
        refine(camera, ladder, before, *best);
        break;
      }
      before = size;
    }
    if (best) found_.push_back(*best);
  }

  void refine(std::size_t camera, const Ladder& ladder, double too_small, Cure& cure) const {
    if (ladder.finest <= 0.0) return;
    double large = std::abs(cure.size);
    while (large - too_small > 1.5 * ladder.finest) {
      const double steps = std::floor((large - too_small) / 2.0 / ladder.finest + 0.5);
      const double middle = too_small + std::max(1.0, steps) * ladder.finest;
      if (middle >= large) break;
      const CameraModel other = changed(own_[camera].model, ladder, middle);
      const double share = share_with(camera, other);
      if (whole(share) && nobody_loses(camera, other)) {
        large = middle;
        cure.size = ladder.sign * middle;
        cure.share_pct = share;
      } else {
        too_small = middle;
      }
    }
  }

  std::vector<Ladder> ladders_for(const Watching& watching) const {
    const std::string& camera = watching.camera;
    std::vector<Ladder> ladders;
    const std::vector<double> angles = {1, 2, 3, 5, 7, 10, 14, 20, 28, 40};
    std::vector<double> all_round = angles;
    all_round.insert(all_round.end(), {60, 90, 130, 180});
    const auto both = [&](CureKind kind, const std::vector<double>& sizes, double finest) {
      ladders.push_back({kind, -1.0, sizes, finest});
      ladders.push_back({kind, 1.0, sizes, finest});
    };
    // What is behind a camera that looks down is below its picture.
    if (has_cause(view_, camera, {Why::left, Why::right, Why::above, Why::below, Why::behind, Why::masked}))
      both(CureKind::pan, all_round, kFinestAngle_deg);
    if (has_cause(view_, camera, {Why::above, Why::below, Why::behind, Why::masked}))
      both(CureKind::tilt, angles, kFinestAngle_deg);
    if (has_cause(view_, camera, {Why::hidden, Why::above, Why::below, Why::behind})) {
      for (const double sign : {-1.0, 1.0})
        ladders.push_back({CureKind::raise, sign, heights(watching, sign), kFinestHeight_m});
    }
    if (has_cause(view_, camera, {Why::left, Why::right, Why::above, Why::below, Why::too_far, Why::too_near}))
      add_lenses(watching, ladders);
    return ladders;
  }

  /// Down to the floor, up to the ceiling; outdoors up to twice the height.
  std::vector<double> heights(const Watching& watching, double sign) const {
    const Floor* floor = scene_.building().floor(watching.level);
    std::vector<double> sizes;
    if (floor == nullptr) return sizes;
    const double below = watching.model.eye().z - floor->height_m;
    const double above = std::isfinite(floor->ceiling_m) ? floor->ceiling_m - watching.model.eye().z : below;
    for (const double size : {0.2, 0.4, 0.6, 0.8, 1.0, 1.5, 2.0, 3.0})
      if (size < (sign < 0.0 ? below : above)) sizes.push_back(size);
    return sizes;
  }

  /// Settings of the lens that is there, else focal lengths that lenses of the shelf have; nearest first.
  void add_lenses(const Watching& watching, std::vector<Ladder>& ladders) const {
    const site::LensSpec* lens = site::lens_of(site_, site_.cameras.at(watching.camera));
    const double now = watching.model.setup().focal_mm;
    const bool bends = !watching.model.is_flat();
    if (lens == nullptr || bends) return;  // the terms of another focal length are not known
    const bool zooms = lens->focal_min_mm.known() && lens->focal_max_mm.known() &&
                       lens->focal_max_mm.nominal > lens->focal_min_mm.nominal;
    std::vector<double> shorter, longer;
    if (zooms) {
      double focal = now / kFinestZoom;
      while (focal >= lens->focal_min_mm.nominal) shorter.push_back(focal), focal /= kFinestZoom * kFinestZoom;
      focal = now * kFinestZoom;
      while (focal <= lens->focal_max_mm.nominal) longer.push_back(focal), focal *= kFinestZoom * kFinestZoom;
    } else {
      std::set<double> known;
      for (const auto& [id, part] : site::parts_shelf())
        if (part.lens && part.lens->focal_min_mm.known() && part.lens->projection.is(site::Projection::pinhole))
          known.insert(part.lens->focal_min_mm.nominal);
      for (const double focal : known) (focal < now ? shorter : longer).push_back(focal);
      std::reverse(shorter.begin(), shorter.end());
      longer.erase(std::remove(longer.begin(), longer.end(), now), longer.end());
    }
    const CureKind kind = zooms ? CureKind::focal : CureKind::other_lens;
    ladders.push_back({kind, 1.0, shorter, 0.0});
    ladders.push_back({kind, 1.0, longer, 0.0});
  }

  /// A clip of one more camera of the site. Its picture is there already: no other zone can lose.
  void add_as_well() {
    for (const auto& [camera, found] : scene_.cameras()) {
      const bool own = std::find(view_.cameras.begin(), view_.cameras.end(), camera) != view_.cameras.end();
      if (own || !found.watching) continue;
      std::vector<Watching> cameras = own_;
      cameras.push_back(*found.watching);
      const double share = scene_.coverage_by(view_.zone, cameras).share_pct();
      if (share > view_.coverage.share_pct() + kSame_pct)
        found_.push_back({CureKind::as_well, camera, 0.0, share, 0.0});
    }
  }

  const Scene& scene_;
  const site::Site& site_;
  const ZoneView& view_;
  double limit_;
  std::vector<Watching> own_;
  std::vector<Neighbour> neighbours_;
  std::map<std::string, double> filmed_now_;  ///< by the camera that is being changed, as it stands
  std::vector<Cure> found_;
};

Message change_words(const site::Site& site, const Cure& cure) {
  const std::string camera = site::called(site.cameras, cure.camera);
  const Measure size = {std::abs(cure.size), cure.kind == CureKind::raise ? "m" : "deg", 2};
  switch (cure.kind) {
    case CureKind::pan: return cure.size < 0.0 ? say::cure_pan_left(camera, size) : say::cure_pan_right(camera, size);
    case CureKind::tilt: return cure.size < 0.0 ? say::cure_tilt_down(camera, size) : say::cure_tilt_up(camera, size);
    case CureKind::raise: return cure.size < 0.0 ? say::cure_lower(camera, size) : say::cure_raise(camera, size);
    case CureKind::focal: return say::cure_focal(camera, Measure{cure.size, "mm", 2}, Measure{cure.before, "mm", 2});
    case CureKind::other_lens:
      return say::cure_other_lens(camera, Measure{cure.size, "mm", 2}, Measure{cure.before, "mm", 2});
    case CureKind::as_well: break;
  }
  return say::cure_as_well(camera);
}

}  // namespace

const char* word(CureKind kind) {
  switch (kind) {
    case CureKind::pan: return "pan";
    case CureKind::tilt: return "tilt";
    case CureKind::raise: return "raise";
    case CureKind::focal: return "focal";
    case CureKind::other_lens: return "other_lens";
    case CureKind::as_well: break;
  }
  return "as_well";
}

std::vector<Cure> cures_of(const Scene& scene, const ZoneView& view) {
  if (view.coverage.area_m2 <= 0.0 || view.coverage.patches.empty()) return {};
  return Trying(scene, view).all();
}

Message cure_words(const site::Site& site, const Cure& cure, double limit_pct) {
  const std::string change = text(change_words(site, cure));
  return cure.share_pct >= limit_pct ? say::cure_shows_whole(change)
                                     : say::cure_shows_more(change, Measure{std::min(cure.share_pct, 99.9), "pct", 3});
}

}  // namespace zoneproof::sight
