#include <functional>

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/cable_uses.hpp"
#include "site/checks.hpp"
#include "site/contradiction.hpp"
#include "site/detector_rules.hpp"
#include "site/inside_part.hpp"
#include "site/network_rules.hpp"
#include "site/part_rules.hpp"
#include "site/relations.hpp"
#include "site/scene_rules.hpp"
#include "site/trigger_rules.hpp"
#include "site/walk.hpp"
#include "site/zone_rules.hpp"

namespace zoneproof::site {

namespace {

using std::string;

/// The key of the upper end of a pair: "max_V" of "min_V", "supply_max_V" of "supply_min_V"; empty for other keys.
string upper_key(std::string_view key) {
  const std::size_t at = key.substr(0, 4) == "min_" ? 0 : key.find("_min_");
  if (at == std::string_view::npos) return "";
  string upper(key);
  return upper.replace(upper.find("min", at), 3, "max");
}

void check_min_max(const Record& record, const void* object, Findings& findings) {
  for (const Field& field : record.fields) {
    if (field.shape != Shape::number) continue;
    const string upper = upper_key(field.key);
    const Field* partner = upper.empty() ? nullptr : record.find(upper);
    if (partner == nullptr) continue;
    check_ends(*static_cast<const Value*>(field.member_of(object)),
               *static_cast<const Value*>(partner->member_of(object)), field.key, partner->key, findings);
  }
}

void check_feed(const Site& site, const Feed& feed, const string& pointer, Findings& findings) {
  if (feed.from.none()) {
    for (const string& at :
         {feed.output.empty() ? "" : pointer_child(pointer, "output"), feed.cable.known() ? feed.cable.pointer : "",
          feed.fuse_A.known() ? feed.fuse_A.pointer : ""}) {
      if (!at.empty()) findings.add(say::site_contradiction(last_token(at), "from", "none"), at);
    }
    return;
  }
  if (feed.output.empty()) return;
  const string at = pointer_child(pointer, "output");
  if (site.junctions.count(feed.from.id) != 0) {
    findings.add(say::site_contradiction("output", "from", feed.from.id), at);
    return;
  }
  const Supply* supply = find(site.supplies, feed.from);
  const Part* part = supply ? part_of(site, supply->part) : nullptr;
  if (part && part->supply)
    check_inside(part->supply->outputs, feed.output, supply->part, "supply/outputs", at, findings);
}

void check_arming(const Arming& arming, Findings& findings) {
  if (arming.pullup_ohm.none() && arming.pullup_to.known()) {
    findings.add(say::site_contradiction("pullup_to", "pullup_ohm", "none"), arming.pullup_to.pointer);
  }
}

void check_unit(const Unit& unit, Findings& findings) {
  check_arming(unit.arming, findings);
  if (!unit.missed_by.known()) return;
  const MissedBy by = *unit.missed_by.value;
  unless(by == MissedBy::station, unit.poll_s, "missed_by", by, findings);
  unless(by == MissedBy::zone, unit.missed_zone, "missed_by", by, findings);
}

void check_panel(const Site& site, const string& id, const Panel& panel, Findings& findings) {
  const PanelSpec* spec = panel_spec(site, id);
  if (spec == nullptr) return;
  const string at = pointer_child(pointer_child("/panels", id), "outputs_found");
  const bool expander = part_of(site, panel.part)->expander.has_value();
  for (const auto& entry : panel.outputs_found)
    check_inside(spec->outputs, entry.first, panel.part, expander ? "expander/outputs" : "panel/outputs",
                 pointer_child(at, entry.first), findings);
}

void check_bond(const Bond& bond, Findings& findings) {
  if (bond.a.known() && bond.a.id == bond.b.id) findings.add(say::site_same_ends(bond.a.id), bond.b.pointer);
}

/// Rules that hold for every struct of a kind, wherever it stands.
void check_everywhere(const Record& root, const void* object, Findings& findings,
                      const std::function<void(const Feed&, const string&)>& feed) {
  walk(root, object, "", [&](const Record& record, const void* inside, const string& pointer) {
    check_min_max(record, inside, findings);
    if (&record == &record_of<Feed>()) feed(*static_cast<const Feed*>(inside), pointer);
  });
}

}  // namespace

void check_rules(const Site& site, Findings& findings) {
  check_everywhere(record_of<Site>(), &site, findings,
                   [&](const Feed& feed, const string& pointer) { check_feed(site, feed, pointer, findings); });
  for (const auto& [id, part] : site.parts) check_part(part, pointer_child("/parts", id), findings);
  for (const auto& [id, book] : site.rulebooks) check_entries(book, pointer_child("/rulebooks", id), findings);
  for (const auto& [id, detector] : site.detectors) check_detector(site, id, detector, findings);
  for (const auto& [id, zone] : site.zones) check_zone(site, id, zone, findings);
  check_numbers_of_zones(site, findings);
  check_inputs_of_zones(site, findings);
  check_names_of_zones(site, findings);
  for (const auto& [id, panel] : site.panels) check_panel(site, id, panel, findings);
  for (const auto& [id, output] : site.outputs) check_output(site, id, output, findings);
  for (const auto& entry : site.units) check_unit(entry.second, findings);
  for (const auto& [id, trigger] : site.triggers) check_trigger(site, id, trigger, findings);
  check_unit_inputs(site, findings);
  check_cores(site, findings);
  for (const auto& entry : site.bonds) check_bond(entry.second, findings);
  check_scene(site, findings);
  check_network(site, findings);
}

void check_parts(const PartsFile& file, Findings& findings) {
  check_everywhere(record_of<PartsFile>(), &file, findings, [](const Feed&, const string&) {});
  for (const auto& [id, part] : file.parts) check_part(part, pointer_child("/parts", id), findings);
}

void check_rulebook(const RulebookFile& file, Findings& findings) {
  check_everywhere(record_of<RulebookFile>(), &file, findings, [](const Feed&, const string&) {});
  check_entries(file.rulebook, "/rulebook", findings);
}

}  // namespace zoneproof::site
