#include "materials/work_count.hpp"

#include <set>

#include "messages/materials.hpp"
#include "site/relations.hpp"
#include "site/walk.hpp"

namespace zoneproof::materials {

namespace {

/// The task of fitting one piece; empty: none of its own.
std::string fitting(ItemKind kind) {
  switch (kind) {
    case ItemKind::cable: return "run_cable";
    case ItemKind::resistor: return "fit_resistor";
    case ItemKind::battery: return "fit_battery";
    case ItemKind::label: return "fit_label";
    case ItemKind::supply: return "fit_supply";
    case ItemKind::unit: return "fit_unit";
    case ItemKind::detector: return "fit_detector";
    case ItemKind::camera: return "fit_camera";
    case ItemKind::panel:
    case ItemKind::load:
    case ItemKind::network: return "fit_device";
    default: return "";
  }
}

/// The task of fitting a supply has its battery in it.
bool comes_with_supply(const site::Site& site, const Piece& piece, const std::set<std::string>& new_supplies) {
  const auto battery = site.batteries.find(piece.place);
  return piece.kind == ItemKind::battery && battery != site.batteries.end() &&
         new_supplies.count(battery->second.supply.id) != 0;
}

/// Whether something stands in `before` just as it stands now.
template <class Things>
bool unchanged(const Things& before, const std::string& id, const typename Things::mapped_type& now) {
  const auto then = before.find(id);
  return then != before.end() && site::same(then->second, now);
}

}  // namespace

std::map<std::string, Times> work_for(const site::Site& site, const site::Site* before, const std::vector<Piece>& fresh,
                                      const std::vector<CableRow>& cables) {
  std::map<std::string, Times> work;
  const auto count = [&](const std::string& task, double times) {
    if (!task.empty() && times > 0.0) work[task].known += times;
  };
  const auto lacks = [&](const std::string& task, Message what) {
    if (!task.empty()) work[task].lacks.push_back(std::move(what));
  };
  std::set<std::string> new_supplies;
  for (const Piece& piece : fresh)
    if (piece.kind == ItemKind::supply) new_supplies.insert(piece.place);
  for (const Piece& piece : fresh) {
    if (comes_with_supply(site, piece, new_supplies)) continue;
    if (piece.count)
      count(fitting(piece.kind), *piece.count);
    else
      lacks(fitting(piece.kind),
            piece.metres ? say::lacks_length(cable_called(cables, piece.place)) : say::lacks_pieces(piece.place));
    if (piece.kind == ItemKind::supply) count("connect_mains", 1.0);
  }
  constexpr double both_ends = 2.0;
  for (const CableRow& row : cables) {
    if (!row.new_here) continue;
    if (row.cores_used)
      count("terminate", both_ends * static_cast<double>(*row.cores_used));
    else
      lacks("terminate", say::lacks_cores(row.name));
  }
  static const site::Site nothing;
  const site::Site& then = before != nullptr ? *before : nothing;
  for (const auto& [id, trigger] : site.triggers) {
    if (!unchanged(then.triggers, id, trigger)) count("choose_setting", 1.0);
  }
  for (const auto& [id, unit] : site.units) {
    if (unit.arming.output.known() && !unchanged(then.units, id, unit)) count("choose_setting", 1.0);
  }
  for (const auto& [id, output] : site.outputs) {
    if (!unchanged(then.outputs, id, output)) count("choose_setting_panel", 1.0);
  }
  for (const auto& entry : site.zones) {
    if (site::has_chain(site, entry.first)) count("test_zone", 1.0);
  }
  return work;
}

}  // namespace zoneproof::materials
