#include "sheets/plan_words.hpp"

#include "base/message.hpp"
#include "messages/plan.hpp"
#include "sight/answers.hpp"
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

std::string seen_words(const sight::ZoneView& view, const PlaceWords& called) {
  const sight::Coverage& coverage = view.coverage;
  std::string words;
  if (coverage.area_m2 <= 0.0) {
    return text(view.gaps.empty() ? say::plan_no_area()
                                  : say::plan_area_unknown(words_of(called, view.gaps.front().pointer)));
  }
  if (view.cameras.empty()) {
    words = text(say::plan_no_camera());
  } else if (coverage.patches.empty()) {
    words = text(say::plan_seen_whole());
  } else {
    words = text(say::plan_seen_share(sight::percent(coverage.share_pct())));
  }
  if (!view.gaps.empty()) words = text(say::plan_not_sure(words));
  return words;
}

std::string blind_words(const site::Site& site, const NumberedPatch& one) {
  constexpr int digits = 2;
  const Measure area = {one.patch.area_m2, "m2", digits};
  std::string where = shown(area);
  if (!one.stair.empty()) where = text(say::plan_on_stair(area, site::called(site.stairs, one.stair)));
  const std::string causes = sight::causes_words(site, one.patch);
  if (!causes.empty()) return text(say::plan_blind(where, causes));
  return one.view->cameras.empty() ? text(say::plan_blind(where, text(say::plan_no_camera()))) : where;
}

}  // namespace zoneproof::sheets
