#include "wiring/site_graphs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"
#include "wiring/pieces.hpp"

namespace zoneproof::wiring {

namespace {

/// A graph under construction: nodes are made when they are first named.
class GraphMaker {
 public:
  GraphMaker(const Context& context, bool small) : context_(context), small_(small) {}

  std::size_t node(const std::string& id) {
    const auto [at, fresh] = places_.emplace(id, graph.nodes.size());
    if (fresh) graph.nodes.push_back(made(id));
    return at->second;
  }
  bool has(const std::string& id) const { return places_.count(id) != 0; }

  void edge(const std::string& id, const std::string& a, const std::string& b, schematic::CableOf over,
            const std::string& label = {}) {
    GraphEdge made{id, node(a), 0, std::move(over), label, label};
    made.b = node(b);
    graph.edges.push_back(std::move(made));
  }

  Graph graph;

 private:
  template <class T>
  bool named(const site::Map<T>& collection, const std::string& id, GraphNode& node) const {
    const auto found = collection.find(id);
    if (found == collection.end()) return false;
    node.name = site::name_or_id(found->second.name, id);
    if (context_.marks(id) != id) node.name = marked(context_.marks, id, node.name);
    if constexpr (requires { found->second.part; }) node.notes = {part_name(context_.site, found->second.part)};
    if constexpr (requires { found->second.powered_by; }) add_power(found->second.powered_by, node);
    return true;
  }

  void add_power(const site::Ref& by, GraphNode& node) const {
    const site::Site& site = context_.site;
    if (by.none()) node.notes.push_back(text(say::wiring_mains()));
    if (!by.known()) return;
    if (site.data_links.count(by.id) != 0) return node.notes.push_back(text(say::wiring_powered_over_data()));
    std::string name = by.id;
    if (site.loads.count(by.id) != 0) name = site::called(site.loads, by.id);
    if (site.backups.count(by.id) != 0) name = site::called(site.backups, by.id);
    if (site.routers.count(by.id) != 0) name = site::called(site.routers, by.id);
    node.notes.push_back(text(say::wiring_powered_by(name)));
  }

  GraphNode made(const std::string& id) const {
    const site::Site& site = context_.site;
    GraphNode node;
    node.id = id;
    node.name = id;
    const bool leaf = named(site.cameras, id, node) || named(site.recorders, id, node) || named(site.units, id, node);
    if (!leaf)
      (void)(named(site.supplies, id, node) || named(site.panels, id, node) || named(site.switches, id, node) ||
             named(site.injectors, id, node) || named(site.routers, id, node) || named(site.uplinks, id, node));
    node.small = leaf && small_;
    return node;
  }

  const Context& context_;
  bool small_;
  std::map<std::string, std::size_t> places_;
};

template <class T>
std::vector<std::string> ids_in_order(const site::Map<T>& collection) {
  std::vector<std::string> ids;
  for (const auto& [id, value] : collection) ids.push_back(id);
  std::sort(ids.begin(), ids.end(), before);
  return ids;
}

schematic::CableOf over(std::vector<std::string> says, bool slot) {
  schematic::CableOf spec;
  says.erase(std::remove(says.begin(), says.end(), std::string()), says.end());
  spec.says = std::move(says);
  spec.slot = slot;
  spec.most_mm = kCableWords_mm;
  return spec;
}

/// "W12, 8 m"
std::string short_cable(const Context& context, const std::string& id) {
  const auto cable = context.site.cables.find(id);
  if (cable == context.site.cables.end()) return {};
  if (!cable->second.length_m.known()) return context.marks(id);
  return text(say::wiring_cable_length(context.marks(id), {cable->second.length_m.nominal, "m"}));
}

void add_feeds(const Context& context, GraphMaker& maker) {
  const auto add = [&](const std::string& id, const site::Feed& feed) {
    const std::string supply = site::supply_of(context.site, feed);
    if (supply.empty() || context.site.supplies.count(supply) == 0) return;
    std::vector<std::string> says = {site::output_of(context.site, feed)};
    for (const std::string& junction : site::junctions_of(context.site, feed)) says.push_back(context.marks(junction));
    if (feed.cable.known()) says.push_back(short_cable(context, feed.cable.id));
    maker.edge("feed-" + id, supply, id, over(std::move(says), feed.cable.known()));
  };
  for (const std::string& id : ids_in_order(context.site.panels)) add(id, context.site.panels.at(id).feed);
  for (const std::string& id : ids_in_order(context.site.units)) add(id, context.site.units.at(id).feed);
}

/// From where a trigger's wire comes: the panel, if it is one.
std::string panel_of(const site::Site& site, const site::Trigger& trigger) {
  std::string id = site::source_of(site, trigger);
  return site.panels.count(id) == 0 ? std::string() : id;
}

void add_triggers(const Context& context, GraphMaker& maker) {
  const site::Site& site = context.site;
  for (const std::string& unit : ids_in_order(site.units)) {
    std::map<std::string, long long> counts;
    for (const std::string& id : site::triggers_of_unit(site, unit)) {
      const std::string panel = panel_of(site, site.triggers.at(id));
      if (!panel.empty()) ++counts[panel];
    }
    for (const auto& [panel, count] : counts)
      maker.edge(fmt::format("triggers-{}-{}", panel, unit), panel, unit,
                 over({text(say::wiring_triggers(count))}, false));
    const site::Ref& output = site.units.at(unit).arming.output;
    const std::string arms = site::panel_of_output(site, output);
    if (site.panels.count(arms) == 0) continue;
    maker.edge("arming-" + unit, arms, unit,
               over({text(say::wiring_arming_over(site::called(site.outputs, output.id)))}, false));
  }
}

std::vector<std::string> key(bool cables) {
  std::vector<std::string> says = {text(say::wiring_key())};
  if (cables) says.push_back(text(say::wiring_key_cable()));
  return says;
}

}  // namespace

GraphSet overview_graph(const Context& context) {
  const site::Site& site = context.site;
  GraphMaker maker(context, false);
  for (const std::string& id : ids_in_order(site.supplies)) maker.node(id);
  for (const std::string& id : ids_in_order(site.panels)) maker.node(id);
  for (const std::string& id : ids_in_order(site.units)) maker.node(id);
  add_feeds(context, maker);
  add_triggers(context, maker);
  for (GraphNode& node : maker.graph.nodes) {
    node.column = site.supplies.count(node.id) != 0 ? 0 : site.panels.count(node.id) != 0 ? 1 : 2;
    long long zones = 0;
    for (const auto& [id, zone] : site.zones) zones += zone.panel.id == node.id ? 1 : 0;
    if (zones > 0) node.notes.push_back(text(say::wiring_inputs(zones)));
    for (const char* kind : {"feeds:", "unit:"})
      if (const std::set<int> sheets = context.book.of(kind + node.id); !sheets.empty()) {
        node.name = text(say::wiring_on_sheets(node.name, SheetBook::shown(sheets)));
        node.link = context.book.link(*sheets.begin());
      }
  }
  return {"wiring-overview",
          text(say::wiring_title_overview()),
          text(say::wiring_heading_overview()),
          text(say::wiring_shows_overview()),
          key(true),
          std::move(maker.graph)};
}

GraphSet negatives_graph(const Context& context) {
  GraphMaker maker(context, false);
  for (const std::string& id : ids_in_order(context.site.bonds)) {
    const site::Bond& bond = context.site.bonds.at(id);
    if (!bond.a.known() || !bond.b.known()) continue;
    maker.edge("bond-" + id, bond.a.id, bond.b.id, bond_words(context, id), text(say::wiring_minus()));
  }
  std::vector<std::size_t> roots;
  for (const auto& [id, panel] : context.site.panels) {
    const std::string supply = site::supply_of(context.site, panel.feed);
    if (roots.empty() && maker.has(supply)) roots.push_back(maker.node(supply));
  }
  if (roots.empty() && !maker.graph.nodes.empty()) roots.push_back(0);
  set_columns(maker.graph, roots);
  return {"wiring-negatives",
          text(say::wiring_title_negatives()),
          text(say::wiring_heading_negatives()),
          text(say::wiring_shows_negatives()),
          key(true),
          std::move(maker.graph)};
}

GraphSet network_graph(const Context& context) {
  const site::Site& site = context.site;
  GraphMaker maker(context, true);
  std::vector<std::size_t> roots;
  for (const std::string& id : ids_in_order(site.uplinks)) {
    roots.push_back(maker.node(id));
    const site::Ref& router = site.uplinks.at(id).router;
    if (router.known()) maker.edge("uplink-" + id, id, router.id, over({}, false));
  }
  for (const std::string& id : ids_in_order(site.data_links)) {
    const site::DataLink& link = site.data_links.at(id);
    if (!link.a.known() || !link.b.known()) continue;
    maker.edge("link-" + id, link.a.id, link.b.id,
               over({link.cable.known() ? short_cable(context, link.cable.id) : std::string()}, link.cable.known()));
  }
  for (const std::string& id : ids_in_order(site.routers))
    if (roots.empty()) roots.push_back(maker.node(id));
  if (roots.empty() && !maker.graph.nodes.empty()) roots.push_back(0);
  set_columns(maker.graph, roots);
  return {"wiring-network",
          text(say::wiring_title_network()),
          text(say::wiring_heading_network()),
          text(say::wiring_shows_network()),
          key(true),
          std::move(maker.graph)};
}

}  // namespace zoneproof::wiring
