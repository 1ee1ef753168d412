#include "handover/network_chapter.hpp"

#include <algorithm>

#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/cells.hpp"
#include "handover/set_words.hpp"
#include "messages/handover_chapters.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using paper::Blank;
using paper::Cell;
using paper::said;
using paper::Table;

namespace {

constexpr double kMega = 1e6, kPercent = 100.0;
constexpr auto kRight = drawing::Align::right;

Cell name_cell(const site::Site& site, const site::Ref& ref) {
  if (ref.none()) return said(text(say::paper_none()));
  return ref.known() ? said(electric::thing_words(site, ref.id)) : Cell{Blank{}};
}

Table addresses(const site::Site& site) {
  Table table{"addresses", text(say::paper_addresses()), {}, {{}}, {}, {}, text(say::paper_no_addresses())};
  table.columns = {{"device", text(say::paper_column_device()), {}, {}, 2.0, 36.0},
                   {"network", text(say::paper_column_network()), {}, {}, 1.0, 30.0},
                   {"address", text(say::paper_column_address()), {}, {}, 0.0, 28.0, false},
                   {"given", text(say::paper_column_given()), {}, {}, 1.0, 22.0},
                   {"gateway", text(say::paper_column_gateway()), {}, {}, 1.0, 22.0}};
  for (const auto& [id, address] : site.addresses) {
    const bool by_pool = address.given_by.is(site::AddressBy::pool);
    table.groups.front().rows.push_back(
        {{name_cell(site, address.device), name_cell(site, address.network),
          by_pool && address.address.empty() ? said("") : paper::said_or_blank(address.address),
          paper::said_or_blank(words(address.given_by)), name_cell(site, address.gateway)}});
  }
  return table;
}

/// The busier direction of each link.
const carriage::HopLoad* load_of(const Findings& findings, const std::string& link) {
  const carriage::HopLoad* most = nullptr;
  for (const carriage::HopLoad& load : findings.network.loads) {
    const auto carried = [](const carriage::HopLoad& one) { return one.live_bps + one.alarm_bps; };
    if (load.hop.thing == link && (most == nullptr || carried(load) > carried(*most))) most = &load;
  }
  return most;
}

Table links(const Findings& findings) {
  const site::Site& site = findings.site;
  Table table{"data-links", text(say::paper_data_links()), {}, {{}}, {}, {}, text(say::paper_no_data_links())};
  table.columns = {{"link", text(say::paper_column_data_link()), {}, {}, 1.0, 34.0},
                   {"a", text(say::paper_column_from()), {}, {}, 1.0, 26.0},
                   {"b", text(say::paper_column_to()), {}, {}, 1.0, 26.0},
                   {"cable", text(say::paper_column_cable()), {}, {}, 1.0, 30.0},
                   {"rate", text(say::paper_column_rate()), {}, kRight, 0.0, 16.0, false},
                   {"load", text(say::paper_column_load_share()), {}, kRight, 0.0, 16.0, false}};
  for (const auto& [id, link] : site.data_links) {
    const carriage::HopLoad* load = load_of(findings, id);
    const bool known = load != nullptr && load->gaps.empty() && load->rate_bps > 0.0;
    table.groups.front().rows.push_back(
        {{said(electric::thing_words(site, id)), name_cell(site, link.a), name_cell(site, link.b),
          name_cell(site, link.cable), value_cell(link.rate_Mbps, "Mbps"),
          known ? said(shown({kPercent * (load->live_bps + load->alarm_bps) / load->rate_bps, "pct", 2}))
                : Cell{Blank{}}}});
  }
  return table;
}

Table ways_out(const site::Site& site) {
  Table table{"ways-out", text(say::paper_ways_out()), {}, {{}}, {}, {}, text(say::paper_no_way_out())};
  table.columns = {{"unit", text(say::paper_column_unit()), {}, {}, 1.0, 30.0},
                   {"path", text(say::paper_column_path()), {}, {}, 1.0, 30.0},
                   {"uplink", text(say::paper_column_uplink()), {}, {}, 1.0, 30.0},
                   {"up", text(say::paper_column_up()), {}, kRight, 0.0, 18.0, false},
                   {"port", text(say::paper_column_port()), {}, kRight, 0.0, 12.0, false},
                   {"reports", text(say::paper_column_reports()), {}, kRight, 0.0, 18.0, false}};
  for (const auto& [id, unit] : site.units) {
    const auto path = site.monitoring_paths.find(unit.monitoring.id);
    if (path == site.monitoring_paths.end()) continue;
    const auto uplink = site.uplinks.find(path->second.uplink.id);
    table.groups.front().rows.push_back(
        {{said(electric::thing_words(site, id)), said(electric::thing_words(site, path->first)),
          name_cell(site, path->second.uplink),
          uplink == site.uplinks.end() ? Cell{Blank{}} : value_cell(uplink->second.up_Mbps, "Mbps"),
          path->second.port.known() ? said(std::to_string(*path->second.port.value)) : Cell{Blank{}},
          value_cell(path->second.reporting_s, "s")}});
  }
  return table;
}

Table open_checks(const Findings& findings) {
  Table table{"network-checks",
              text(say::paper_network_not_proven()),
              {},
              {},
              text(say::paper_column_device()),
              {},
              text(say::paper_network_proven())};
  table.columns = {{"verdict", text(say::paper_column_verdict()), {}, {}, 0.0, 0.0, false},
                   {"says", text(say::paper_column_says()), {}, {}, 4.0, 70.0},
                   {"cure", text(say::paper_column_cure()), {}, {}, 2.0, 40.0}};
  for (const results::ThingTold& thing : findings.network.things) {
    paper::Group group{electric::thing_words(findings.site, thing.thing), {}};
    for (const chain::Evidence& evidence : thing.evidence) {
      if (evidence.verdict == chain::Verdict::proven) continue;
      std::string cure;
      for (const Message& remedy : evidence.remedies) cure += (cure.empty() ? "" : " ") + text(remedy);
      group.rows.push_back(
          {{verdict_cell(evidence.verdict), said(evidence.says ? text(*evidence.says) : evidence.id), said(cure)}});
    }
    if (!group.rows.empty()) table.groups.push_back(std::move(group));
  }
  return table;
}

}  // namespace

paper::Chapter network_chapter(const Findings& findings) {
  paper::Chapter chapter{"network", text(say::paper_network_chapter()), {}};
  chapter.blocks = {paper::Paragraph{text(say::paper_network_how())}, addresses(findings.site), links(findings),
                    ways_out(findings.site), open_checks(findings)};
  return chapter;
}

}  // namespace zoneproof::handover
