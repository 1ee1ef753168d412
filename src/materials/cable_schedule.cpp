#include <algorithm>

#include "materials/estimate.hpp"
#include "materials/parts_count.hpp"
#include "site/relations.hpp"

namespace zoneproof::materials {

namespace {

/// Cores in use, all of a data cable; nothing where it is not known how many make one conductor.
std::optional<long long> cores_used(const CableRow& row, const site::Cable& cable) {
  const bool data = std::any_of(row.uses.begin(), row.uses.end(),
                                [](const site::CableUse& use) { return use.kind == site::CableUse::Kind::data; });
  return data ? row.cores_there : site::cores_taken(cable, row.uses);
}

void find_length(CableRow& row, const site::Cable& cable, const CableEstimates& estimates) {
  if (cable.length_m.known()) {
    row.from = LengthFrom::site;
    row.length_m = cable.length_m.nominal;
    row.length_min_m = cable.length_m.low;
    row.length_max_m = cable.length_m.high;
    return;
  }
  row.length_lacks = cable.length_m.pointer;
  // Of several uses the one between the things that are furthest apart takes the whole cable.
  for (const site::CableUse& use : row.uses) {
    const std::optional<Estimate> estimate = estimates.between(use.from, use.to);
    if (!estimate || (row.length_m && *row.length_m >= estimate->metres)) continue;
    row.from = estimate->rough ? LengthFrom::rough : LengthFrom::estimate;
    row.length_m = estimate->metres;
  }
}

}  // namespace

std::vector<CableRow> cable_rows(const site::Site& site) {
  const auto uses = site::cable_uses(site);
  const CableEstimates estimates(site);
  std::vector<CableRow> rows;
  for (const auto& [id, cable] : site.cables) {
    CableRow row;
    row.id = id;
    row.name = site::name_or_id(cable.name, id);
    row.part = cable.part.id;
    if (const site::Part* part = site::part_of(site, cable.part))
      row.part_name = site::name_or_id(part->name, row.part);
    if (const auto found = uses.find(id); found != uses.end()) row.uses = found->second;
    for (const site::Ref& area : cable.areas) row.areas.push_back(area.id);
    row.cores_there = site::cores_there(site, cable);
    row.cores_used = cores_used(row, cable);
    find_length(row, cable, estimates);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string cable_called(const std::vector<CableRow>& cables, const std::string& id) {
  const auto row = std::find_if(cables.begin(), cables.end(), [&](const CableRow& one) { return one.id == id; });
  return row == cables.end() ? id : row->name;
}

}  // namespace zoneproof::materials
