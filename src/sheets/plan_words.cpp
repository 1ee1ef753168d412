#include "sheets/plan_words.hpp"

#include "base/message.hpp"
#include "messages/plan.hpp"
#include "sight/words.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

std::string zone_words(const site::Site& site, const std::string& zone) {
  const auto found = site.zones.find(zone);
  if (found == site.zones.end() || !found->second.number.known()) return site::called(site.zones, zone);
  return text(say::plan_zone(*found->second.number.value));
}

std::string zone_heading(const site::Site& site, const std::string& zone) {
  const auto found = site.zones.find(zone);
  if (found == site.zones.end() || !found->second.number.known()) return site::called(site.zones, zone);
  return text(say::plan_zone_named(*found->second.number.value, found->second.name));
}

std::string seen_words(const sight::ZoneView& view) {
  const sight::Coverage& coverage = view.coverage;
  std::string words;
  if (coverage.area_m2 <= 0.0) {
    words = text(view.gaps.empty() ? say::plan_no_area() : say::plan_area_unknown());
    return words;
  }
  if (view.cameras.empty()) {
    words = text(say::plan_no_camera());
  } else if (coverage.patches.empty()) {
    words = text(say::plan_seen_whole());
  } else {
    constexpr int digits = 3;
    words = text(say::plan_seen_share({coverage.share_pct(), "pct", digits}));
  }
  if (!view.gaps.empty()) words = text(say::plan_not_sure(words));
  return words;
}

std::string blind_words(const site::Site& site, const sight::ZoneView& view, const sight::Patch& patch) {
  constexpr int digits = 2;
  const Measure area = {patch.area_m2, "m2", digits};
  const std::string causes = sight::causes_words(site, patch);
  if (!causes.empty()) return text(say::plan_blind(area, causes));
  return text(view.cameras.empty() ? say::plan_blind_without_camera(area) : say::plan_blind_bare(area));
}

}  // namespace zoneproof::sheets
