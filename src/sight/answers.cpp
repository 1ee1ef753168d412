#include "sight/answers.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>

#include "base/parallel_for.hpp"
#include "messages/sight.hpp"
#include "plane/ring_area.hpp"
#include "sight/words.hpp"
#include "site/outline.hpp"
#include "site/relations.hpp"

namespace zoneproof::sight {

namespace {

using chain::Evidence;
using chain::Link;
using chain::Verdict;

constexpr std::size_t kPatchesTold = 3;
constexpr double kPrivacyStep_m = 0.1;  ///< between the heights at which somebody may be filmed

Measure square_metres(double value) { return {value, "m2", 3}; }

bool unknown_among(const std::vector<chain::Gap>& gaps) {
  return std::any_of(gaps.begin(), gaps.end(), [](const chain::Gap& gap) { return chain::nothing_known(gap.reason); });
}

std::vector<std::string> cameras_called(const site::Site& site, const std::vector<std::string>& cameras) {
  std::vector<std::string> names;
  for (const std::string& camera : cameras) names.push_back(site::called(site.cameras, camera));
  return names;
}

Evidence share_of(Link link, const char* id, const std::string& subject, const chain::Limit& limit) {
  Evidence evidence;
  evidence.id = id;
  evidence.subject = subject;
  evidence.link = link;
  evidence.quantity = "witnessed_share";
  evidence.unit = "pct";
  evidence.limit = limit.value;
  evidence.limit_source = limit.source;
  evidence.limit_verified = limit.verified;
  return evidence;
}

void put_share(Evidence& evidence, double value, double bound) {
  evidence.value = value;
  evidence.bound = bound;
  evidence.nominal = value;
  if (evidence.limit) evidence.margin = bound - *evidence.limit;
  evidence.required_margin = 0.0;
}

/// Says of a protected place that something is not known.
Evidence place_open(Evidence evidence, const std::string& place, std::vector<chain::Gap> gaps) {
  evidence.verdict = Verdict::unanswered;
  evidence.gaps = std::move(gaps);
  evidence.says = say::sensed_open(place);
  return evidence;
}

class Sensing {
 public:
  Sensing(const Scene& scene, const std::string& zone)
      : scene_(scene),
        site_(scene.site()),
        zone_(zone),
        limit_(chain::limit_of(scene.site(), "sense_coverage_pct")),
        patch_(chain::limit_of(scene.site(), "sense_patch_m2")),
        area_(area_of_zone(scene.site(), scene.building(), scene.people(), zone, Extent::guaranteed)) {}

  std::vector<Evidence> all() const {
    std::vector<Evidence> answers;
    for (const auto& [id, place] : site_.protected_places)
      if (place.zone.id == zone_) answers.push_back(of_place(id, place));
    if (!answers.empty()) return answers;
    Evidence nothing = share_of(Link::sense, "coverage", zone_, limit_);
    nothing.gaps.push_back({"/protected_places", "unknown"});
    nothing.says = say::sensed_for_what();
    return {nothing};
  }

 private:
  Evidence of_place(const std::string& id, const site::ProtectedPlace& place) const {
    Evidence evidence = share_of(Link::sense, "coverage", zone_, limit_);
    evidence.quantity = "reached_share";
    evidence.condition = id;
    const std::string name = place.opening.known() ? site::called(site_.openings, place.opening.id)
                                                   : site::called(site_.protected_places, id);
    if (place.opening.known()) {
      for (const std::string& detector : site::alarming_detectors_of_zone(site_, zone_)) {
        if (!guards(detector, place.opening.id)) continue;
        put_share(evidence, 100.0, 100.0);
        evidence.verdict = Verdict::proven;
        evidence.says = say::sensed_guarded(site::called(site_.detectors, detector), name);
        return evidence;
      }
    }
    std::vector<chain::Gap> gaps = area_.gaps;
    for (const chain::Gap& gap : scene_.building().gaps) chain::add_gap(gaps, gap);
    for (const chain::Limit* limit : {&limit_, &patch_})
      if (!limit->value) chain::add_gap(gaps, {limit->pointer, "no_rule"});
    std::optional<Coverage> best;
    for (const auto& [level, outline] : outlines_of(id, place, gaps)) {
      Coverage here =
          reached(scene_.building(), area_.sources, outline, level, scene_.rules().demand, patch_.value.value_or(0.0));
      if (!best || here.share_pct() > best->share_pct()) best = std::move(here);
    }
    if (!best || best->area_m2 <= 0.0 || unknown_among(gaps)) return place_open(std::move(evidence), name, gaps);
    return judged(std::move(evidence), name, *best, std::move(gaps));
  }

  Evidence judged(Evidence evidence, const std::string& name, const Coverage& found,
                  std::vector<chain::Gap> gaps) const {
    put_share(evidence, found.share_pct(), found.share_pct());
    evidence.verdict = evidence.margin ? chain::judge(*evidence.margin, 0.0) : Verdict::unanswered;
    evidence.gaps = std::move(gaps);
    if (evidence.verdict == Verdict::proven && !evidence.gaps.empty()) evidence.verdict = Verdict::unanswered;
    evidence.says = evidence.verdict == Verdict::broken
                        ? say::sensed_part(name, percent(found.share_pct()), percent(evidence.limit.value_or(0.0)),
                                           patches_words(site_, found.patches, kPatchesTold))
                    : evidence.verdict == Verdict::proven ? say::sensed_whole(name)
                                                          : say::sensed_open(name);
    return evidence;
  }

  /// By its contact, or because it hears the pane for sure. What it hears by what is only assumed is judged like other
  /// areas, with its gaps.
  bool guards(const std::string& id, const std::string& opening) const {
    const auto detector = site_.detectors.find(id);
    if (detector == site_.detectors.end()) return false;
    if (detector->second.opening.id == opening) return true;
    const auto& panes = detector->second.panes;
    if (std::none_of(panes.begin(), panes.end(), [&](const site::Ref& pane) { return pane.id == opening; }))
      return false;
    std::vector<chain::Gap> gaps = scene_.building().gaps;
    return hears(site_, scene_.building(), id, opening, gaps) && gaps.empty();
  }

  /// The area, or the approaches of the opening: who comes in passes both, so one that is reached is enough.
  std::vector<std::pair<std::string, Outlines>> outlines_of(const std::string& id, const site::ProtectedPlace& place,
                                                            std::vector<chain::Gap>& gaps) const {
    if (place.opening.known()) {
      std::vector<std::pair<std::string, Outlines>> sides;
      for (const AreaSource& side : approaches(site_, scene_.building(), scene_.people(), place.opening.id, gaps))
        sides.emplace_back(side.level, side.outlines);
      return sides;
    }
    const auto ring = site::points_of(place.outline);
    if (!ring || ring->size() < 3) {
      chain::add_gap(gaps, {"/protected_places/" + id + "/outline", "unknown"});
      return {};
    }
    if (scene_.building().floor(place.level.id) == nullptr) chain::add_gap(gaps, {place.level.pointer, "unknown"});
    return {{place.level.id, {*ring}}};
  }

  const Scene& scene_;
  const site::Site& site_;
  const std::string& zone_;
  chain::Limit limit_, patch_;
  ZoneArea area_;
};

/// Whether the sheet's pattern holds for the height at which a detector hangs; nothing where it has no such heights.
std::optional<Evidence> mount_height(const site::Site& site, const std::string& id) {
  const site::Detector& detector = site.detectors.at(id);
  const site::DetectorSpec* spec = site::spec_of(site, detector.part, &site::Part::detector);
  if (spec == nullptr || !spec->pattern || !detector.watched.empty()) return std::nullopt;
  const site::Value &low = spec->pattern->mount_min_m, &high = spec->pattern->mount_max_m, &z = detector.mount.z_m;
  if (!low.known() || !high.known()) return std::nullopt;
  Evidence evidence;
  evidence.id = "mount_height";
  evidence.subject = id;
  evidence.link = Link::sense;
  evidence.quantity = "mounting_height";
  evidence.unit = "m";
  evidence.required_margin = 0.0;
  if (!z.known()) {
    chain::add_gap(evidence.gaps, {"/detectors/" + id + "/mount/z_m", "unknown"});
    evidence.says = say::mounted_not_known(site::called(site.detectors, id));
    return evidence;
  }
  const bool too_high = high.nominal - z.high < z.low - low.nominal;
  evidence.value = evidence.bound = too_high ? z.high : z.low;
  evidence.nominal = z.nominal;
  evidence.limit = too_high ? high.nominal : low.nominal;
  evidence.margin = too_high ? high.nominal - z.high : z.low - low.nominal;
  evidence.limit_source = site::part_of(site, detector.part)->source;
  chain::add_if_weak(evidence.gaps, z);
  evidence.verdict = chain::judge(*evidence.margin, 0.0);
  if (evidence.verdict == Verdict::proven && !evidence.gaps.empty()) evidence.verdict = Verdict::unanswered;
  const Measure height = {*evidence.value, "m", 3}, limit = {*evidence.limit, "m", 3};
  evidence.says = *evidence.margin >= 0.0 ? say::mounted_as_sheet(height)
                  : too_high              ? say::mounted_too_high(height, limit)
                                          : say::mounted_too_low(height, limit);
  return evidence;
}

/// What has to be known for it: where the camera looks, how tall people are, which patch counts, what stands between.
std::vector<chain::Gap> privacy_gaps(const Scene& scene, const std::string& camera, const std::string& id) {
  const site::PrivacyArea& area = scene.site().privacy_areas.at(id);
  std::vector<chain::Gap> gaps = camera_model_of(scene.site(), camera).gaps;
  if (!site::points_of(area.outline)) chain::add_gap(gaps, {"/privacy_areas/" + id + "/outline", "unknown"});
  if (scene.building().floor(area.level.id) == nullptr)
    chain::add_gap(gaps, {"/privacy_areas/" + id + "/level", "unknown"});
  for (const char* rule : {"person_m", "view_patch_m2"}) {
    const chain::Limit limit = chain::limit_of(scene.site(), rule);
    if (!limit.value) chain::add_gap(gaps, {limit.pointer, "no_rule"});
  }
  for (const chain::Gap& gap : scene.building().gaps) chain::add_gap(gaps, gap);
  return gaps;
}

Evidence privacy_of(const Scene& scene, const std::string& camera, const std::string& id) {
  const site::Site& site = scene.site();
  const WatchingFound& found = scene.cameras().at(camera);
  Evidence evidence;
  evidence.id = "privacy";
  evidence.subject = camera;
  evidence.link = Link::view;
  evidence.condition = id;
  evidence.quantity = "filmed_area";
  evidence.unit = "m2";
  evidence.gaps = privacy_gaps(scene, camera, id);
  const std::string name = site::called(site.privacy_areas, id);
  evidence.says = say::privacy_open(name);
  if (!found.watching || unknown_among(evidence.gaps)) return evidence;
  const double filmed = filmed_m2(scene, *found.watching, site.privacy_areas.at(id));
  evidence.value = evidence.bound = evidence.nominal = filmed;
  evidence.limit = filmed_limit_m2(scene, site.privacy_areas.at(id));
  evidence.limit_source = chain::limit_of(site, "view_patch_m2").source;
  evidence.margin = *evidence.limit - filmed;
  evidence.required_margin = 0.0;
  if (*evidence.margin < 0.0) {
    evidence.verdict = Verdict::broken;
    evidence.says = say::privacy_filmed(name, square_metres(filmed));
  } else if (evidence.gaps.empty()) {
    evidence.verdict = Verdict::proven;
    evidence.says = say::privacy_kept(name);
  }
  return evidence;
}

/// The building with every door that may stand open, and every rack that may be empty.
Building opened(Building building) {
  for (Prism& prism : building.prisms) {
    if (!prism.either || prism.clear_otherwise <= prism.clear) continue;
    prism.either = false;
    prism.surface = site::Surface::mesh;
    prism.clear = prism.clear_otherwise;
  }
  return building;
}

}  // namespace

double filmed_m2(const Scene& scene, const Watching& watching, const site::PrivacyArea& area) {
  const auto ring = site::points_of(area.outline);
  const std::optional<double> tall = scene.people().tall_m;
  if (!ring || !tall) return 0.0;
  const AreaSource outline = {"", "", area.level.id, {*ring}, {}, "", 0, {}};
  Watching looking = watching;
  looking.px_per_m = looking.height_pct = 0.0;
  looking.near_m = 0.0;       // nor need it be sharp
  looking.own_light = false;  // by day it films all the same
  const Building building = opened(scene.building());
  Demand demand = scene.rules().demand;
  demand.clear_pct = 0.0;
  std::vector<Watching> heights;
  const int steps = static_cast<int>(std::ceil(*tall / kPrivacyStep_m));
  for (int i = 0; i <= steps; ++i) {
    heights.push_back(looking);
    heights.back().only_height_m = *tall * i / steps;
  }
  return coverage(building, {outline}, heights, demand, 0.0).shown_m2;
}

double filmed_limit_m2(const Scene& scene, const site::PrivacyArea& area) {
  const auto ring = site::points_of(area.outline);
  const double patch = scene.rules().least_patch_m2;
  return ring && std::abs(plane::twice_area_of(*ring)) / 2.0 >= patch ? patch : 0.0;
}

Evidence witnessed(const Scene& scene, const ZoneView& view) {
  const site::Site& site = scene.site();
  Evidence evidence = share_of(Link::view, "witnessed", view.zone, scene.rules().coverage_pct);
  evidence.gaps = view.gaps;
  const bool unknown = unknown_among(view.gaps);
  if (view.cameras.empty() || view.coverage.area_m2 <= 0.0 || unknown || !evidence.limit) {
    const bool open = unknown || !evidence.limit || (view.coverage.area_m2 <= 0.0 && !view.gaps.empty());
    evidence.verdict = open ? Verdict::unanswered : Verdict::broken;
    evidence.says = evidence.verdict == Verdict::unanswered ? say::witnessed_open()
                    : view.cameras.empty()                  ? say::witnessed_by_nobody()
                                                            : say::witnessed_nowhere();
    if (view.coverage.area_m2 > 0.0) evidence.value = evidence.nominal = view.coverage.share_pct();
    return evidence;
  }
  const Coverage& coverage = view.coverage;
  put_share(evidence, coverage.share_pct(), view.worst_pct);
  const std::vector<std::string> cameras = cameras_called(site, view.cameras);
  const Measure limit = percent(*evidence.limit);
  if (coverage.share_pct() < *evidence.limit) {
    evidence.verdict = Verdict::broken;
    evidence.says = say::witnessed_part(cameras, percent(coverage.share_pct()), square_metres(coverage.area_m2), limit,
                                        patches_words(site, coverage.patches, kPatchesTold));
  } else if (!view.gaps.empty()) {
    evidence.verdict = Verdict::unanswered;
    evidence.says = say::witnessed_so_far(cameras, percent(coverage.share_pct()));
  } else if (view.worst_pct < *evidence.limit) {
    evidence.verdict = Verdict::thin;
    evidence.corner.push_back({view.worst_pointer, view.worst_value, ""});
    evidence.says = say::witnessed_thin(cameras, limit, percent(view.worst_pct));
  } else {
    evidence.verdict = Verdict::proven;
    const double density = coverage.worst ? coverage.worst->px_per_m : 0.0;
    evidence.says = say::witnessed_whole(cameras, square_metres(coverage.area_m2), Measure{density, "px_per_m", 3});
  }
  return evidence;
}

std::vector<Evidence> sensed(const Scene& scene, const std::string& zone) { return Sensing(scene, zone).all(); }

std::vector<Evidence> sight_answers(const site::Site& site, const std::string& zone,
                                    const std::function<void(std::size_t, std::size_t)>& progress, KeptViews* kept) {
  const Scene scene(site, kept);
  std::vector<std::string> zones;
  for (const auto& [id, entry] : site.zones)
    if ((zone.empty() || id == zone) && site::has_chain(site, id)) zones.push_back(id);
  std::vector<std::vector<Evidence>> of_zone(zones.size());
  std::atomic<std::size_t> done = 0;
  parallel_for(zones.size(), [&](std::size_t i) {
    of_zone[i] = sensed(scene, zones[i]);
    of_zone[i].push_back(witnessed(scene, scene.view(zones[i], true)));
    if (progress) progress(++done, zones.size());
  });
  std::vector<Evidence> all;
  for (std::vector<Evidence>& one : of_zone) chain::append(all, std::move(one));
  for (const auto& [id, detector] : site.detectors)
    if (auto height = mount_height(site, id)) all.push_back(std::move(*height));
  for (const auto& [camera, entry] : site.cameras)
    for (const auto& [id, area] : site.privacy_areas) all.push_back(privacy_of(scene, camera, id));
  return all;
}

Measure percent(double value) {
  // 99.96 is not 100: what is missing has to show.
  return {value < 100.0 ? std::min(value, 99.9) : value, "pct", value > 99.0 && value < 100.0 ? 3 : 2};
}

}  // namespace zoneproof::sight
