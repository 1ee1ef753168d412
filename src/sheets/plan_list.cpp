#include "sheets/plan_list.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_labels.hpp"
#include "sheets/plan_words.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Face;
using drawing::Group;
using drawing::Ink;
using drawing::Role;

namespace {

constexpr double kBesideNumber_mm = 1.6, kBetweenRows_mm = 1.4, kBetweenZones_mm = 3.0;

PlanRow text_row(const drawing::Ruler& ruler, const std::string& id, const std::string& says, Face face, double size_mm,
                 Ink ink, double width_mm) {
  const drawing::TextBlock block = drawing::broken(ruler, says, face, size_mm, width_mm);
  return {drawing::set(ruler, id, block, ink, {0.0, 0.0}), block.height_mm, kBetweenRows_mm, false};
}

PlanRow patch_row(const drawing::Ruler& ruler, const site::Site& site, const NumberedPatch& one, double indent_mm,
                  double width_mm) {
  const std::string id = fmt::format("row-{}", one.number);
  const PlanLabel number = patch_label(ruler, id + "-number", one.number);
  const drawing::TextBlock block = drawing::broken(ruler, blind_words(site, one), {Role::reading, false},
                                                   drawing::kLabel_mm, width_mm - indent_mm - kBesideNumber_mm);
  const double height = std::max(number.height_mm(), block.height_mm);
  PlanRow row{{}, height, kBetweenRows_mm, false};
  row.group.name.id = id;
  row.group.items.push_back({set_at(number, {indent_mm - number.width_mm() / 2, number.height_mm() / 2})});
  const double top = std::max(0.0, (number.height_mm() - block.height_mm) / 2);
  row.group.items.push_back({drawing::set(ruler, id + "-text", block, Ink::text, {indent_mm + kBesideNumber_mm, top})});
  return row;
}

bool is_of_level(const sight::Scene& scene, const sight::ZoneView& view, const std::string& level) {
  const auto& levels = view.coverage.area_levels;
  if (std::find(levels.begin(), levels.end(), level) != levels.end()) return true;
  const std::vector<std::string> detectors = site::detectors_of_zone(scene.site(), view.zone);
  return std::any_of(detectors.begin(), detectors.end(), [&](const std::string& id) {
    const auto detector = scene.site().detectors.find(id);
    return detector != scene.site().detectors.end() && detector->second.mount.level.id == level;
  });
}

}  // namespace

std::vector<PlanRow> plan_rows(const drawing::Ruler& ruler, const sight::Scene& scene,
                               const std::vector<sight::ZoneView>& views, const std::string& level,
                               const std::vector<std::string>& unknown, const PlaceWords& called, double width_mm) {
  std::vector<PlanRow> rows;
  const std::vector<NumberedPatch> patches = patches_on_level(scene.site(), views, level);
  rows.push_back(text_row(ruler, "list-heading", text(patches.empty() ? say::plan_list_empty() : say::plan_list()),
                          {Role::reading, true}, drawing::kReading_mm, Ink::text, width_mm));
  rows.back().with_next = true;
  double indent = 0.0;
  for (const NumberedPatch& one : patches) indent = std::max(indent, patch_label(ruler, "", one.number).width_mm());
  for (const sight::ZoneView* ordered : in_order_of_zones(scene.site(), views)) {
    const sight::ZoneView& view = *ordered;
    if (!is_of_level(scene, view, level)) continue;
    const std::string id = "zone-" + view.zone;
    rows.push_back(text_row(ruler, id, zone_heading(scene.site(), view.zone), {Role::reading, true}, drawing::kLabel_mm,
                            Ink::text, width_mm));
    rows.back().before_mm = kBetweenZones_mm;
    rows.back().with_next = true;
    rows.push_back(text_row(ruler, id + "-seen", seen_words(view, called), {Role::reading, false}, drawing::kLabel_mm,
                            Ink::quiet, width_mm));
    for (const NumberedPatch& one : patches) {
      if (one.view != &view) continue;
      rows.back().with_next = rows.back().group.name.id == id + "-seen";
      rows.push_back(patch_row(ruler, scene.site(), one, indent, width_mm));
    }
  }
  std::vector<std::string> places;
  for (const std::string& pointer : unknown) {
    std::string words = words_of(called, pointer);
    if (std::find(places.begin(), places.end(), words) == places.end()) places.push_back(std::move(words));
  }
  for (PlanRow& row : plan_notes(ruler, "unknown", text(say::plan_unknown()), places, width_mm))
    rows.push_back(std::move(row));
  return rows;
}

std::vector<PlanRow> plan_notes(const drawing::Ruler& ruler, const std::string& id, const std::string& heading,
                                const std::vector<std::string>& says, double width_mm) {
  if (says.empty()) return {};
  std::vector<PlanRow> rows = {
      text_row(ruler, id, heading, {Role::reading, true}, drawing::kLabel_mm, Ink::text, width_mm)};
  rows.back().before_mm = kBetweenZones_mm;
  rows.back().with_next = true;
  for (std::size_t i = 0; i < says.size(); ++i)
    rows.push_back(text_row(ruler, fmt::format("{}-row-{}", id, i + 1), says[i], {Role::reading, false},
                            drawing::kLabel_mm, Ink::text, width_mm));
  return rows;
}

std::size_t fill_column(Group& into, const std::vector<PlanRow>& rows, std::size_t first, const drawing::Box& column) {
  // How many fit, then less what may not be the last.
  double y = column.top;
  std::size_t end = first;
  while (end < rows.size()) {
    const double above = end == first ? 0.0 : rows[end].before_mm;
    if (y + above + rows[end].height_mm > column.bottom) break;
    y += above + rows[end].height_mm;
    ++end;
  }
  if (end < rows.size())
    while (end > first && rows[end - 1].with_next) --end;
  y = column.top;
  for (std::size_t i = first; i < end; ++i) {
    if (i > first) y += rows[i].before_mm;
    into.items.push_back(moved(drawing::Item{rows[i].group}, {column.left, y}));
    y += rows[i].height_mm;
  }
  return end;
}

}  // namespace zoneproof::sheets
