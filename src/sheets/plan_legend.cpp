#include "sheets/plan_legend.hpp"

#include "base/message.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_areas.hpp"
#include "sheets/plan_building.hpp"
#include "sheets/plan_density.hpp"
#include "sheets/plan_devices.hpp"
#include "sheets/plan_openings.hpp"

namespace zoneproof::sheets {

namespace {

Message meaning(PlanSign sign) {
  switch (sign) {
    case PlanSign::wall_full: return say::plan_sign_wall_full();
    case PlanSign::wall_low: return say::plan_sign_wall_low();
    case PlanSign::wall_hanging: return say::plan_sign_wall_hanging();
    case PlanSign::wall_glass: return say::plan_sign_wall_glass();
    case PlanSign::wall_mesh: return say::plan_sign_wall_mesh();
    case PlanSign::wall_unknown: return say::plan_sign_wall_unknown();
    case PlanSign::doorway: return say::plan_sign_doorway();
    case PlanSign::door: return say::plan_sign_door();
    case PlanSign::window: return say::plan_sign_window();
    case PlanSign::shutter: return say::plan_sign_shutter();
    case PlanSign::closed: return say::plan_sign_closed();
    case PlanSign::open: return say::plan_sign_open();
    case PlanSign::either: return say::plan_sign_either();
    case PlanSign::column: return say::plan_sign_column();
    case PlanSign::racking: return say::plan_sign_racking();
    case PlanSign::racking_open: return say::plan_sign_racking_open();
    case PlanSign::racking_either: return say::plan_sign_racking_either();
    case PlanSign::shelf: return say::plan_sign_shelf();
    case PlanSign::counter: return say::plan_sign_counter();
    case PlanSign::machine: return say::plan_sign_machine();
    case PlanSign::body: return say::plan_sign_body();
    case PlanSign::hanging: return say::plan_sign_hanging();
    case PlanSign::stair: return say::plan_sign_stair();
    case PlanSign::camera: return say::plan_sign_camera();
    case PlanSign::detector: return say::plan_sign_detector();
    case PlanSign::contact: return say::plan_sign_contact();
    case PlanSign::other_detector: return say::plan_sign_other_detector();
    case PlanSign::beam: return say::plan_sign_beam();
    case PlanSign::area: return say::plan_sign_area();
    case PlanSign::patch: return say::plan_sign_patch();
    case PlanSign::protected_place: return say::plan_sign_protected();
    case PlanSign::privacy: return say::plan_sign_privacy();
    case PlanSign::frame: return say::plan_sign_frame();
    case PlanSign::contour: break;
  }
  return say::plan_sign_contour();
}

}  // namespace

std::vector<drawing::LegendEntry> plan_legend(const std::set<PlanSign>& signs) {
  std::vector<drawing::LegendEntry> entries;
  for (const PlanSign sign : signs) {
    std::vector<drawing::Item> sample;
    for (const auto& source : {building_sample, opening_sample, device_sample, area_sample, density_sample}) {
      sample = source(sign);
      if (!sample.empty()) break;
    }
    entries.push_back({std::move(sample), text(meaning(sign))});
  }
  return entries;
}

}  // namespace zoneproof::sheets
