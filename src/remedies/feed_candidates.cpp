// What a thing that is fed can be given: more cores, a thicker cable, another output; and a wire between negatives.
#include <algorithm>
#include <memory>

#include "electric/consumer.hpp"
#include "electric/naming.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {

namespace {

using electric::thing_words;
using site::Feed;
using site::Site;

/// The feed of a thing of any collection; null where it has none.
Feed* feed_of(Site& site, const std::string& id) {
  const auto in = [&](auto& collection) -> Feed* {
    const auto found = collection.find(id);
    return found == collection.end() ? nullptr : &found->second.feed;
  };
  for (Feed* feed : {in(site.junctions), in(site.panels), in(site.detectors), in(site.loads), in(site.units)}) {
    if (feed != nullptr) return feed;
  }
  return nullptr;
}
const Feed* feed_of(const Site& site, const std::string& id) { return feed_of(const_cast<Site&>(site), id); }

/// The thing itself and the junctions on the way to its supply: whose feed cables carry its current.
std::vector<std::string> on_the_way(const Site& site, const std::string& id) {
  std::vector<std::string> ids = {id};
  const Feed* feed = feed_of(site, id);
  if (feed == nullptr) return {};
  for (std::string& junction : site::junctions_of(site, *feed)) ids.push_back(std::move(junction));
  return ids;
}

bool standard_kind(const Site& site, const std::string& cable) {
  const site::CableSpec* spec = site::spec_of(site, site.cables.at(cable).part, &site::Part::cable);
  return spec != nullptr && spec->resistance_ohm_per_km.known();
}

/// Sizes that are thicker than what is there.
std::vector<std::string> thicker_than(const Site& site, const std::string& cable, long long cores) {
  const site::CableSpec* now = site::spec_of(site, site.cables.at(cable).part, &site::Part::cable);
  std::vector<std::string> thicker;
  for (const std::string& id : shelf_cables()) {
    const site::CableSpec& spec = *site::parts_shelf().at(id).cable;
    const bool metric = spec.conductor_mm2.known() && !spec.conductor_awg.known();
    if (now->conductor_mm2.known() != metric) continue;  // what the trade of the place sells
    if (spec.resistance_ohm_per_km.high < now->resistance_ohm_per_km.high && spec.cores.value.value_or(0) >= cores)
      thicker.push_back(id);
  }
  return thicker;
}

/// The feed of `thing` over a cable of another part: in place of the old one where it has no other use, else beside it.
std::optional<Candidate> thicker(const Site& site, const std::string& thing, const std::string& part) {
  const std::string old = feed_of(site, thing)->cable.id;
  const site::Cable& cable = site.cables.at(old);
  if (!cable.length_m.known() || !cable.cores_in_parallel.known()) return std::nullopt;
  Candidate made{Kind::thicker_cable,
                 say::remedy_thicker(thing_words(site, thing), site::parts_shelf().at(part).name,
                                     Measure{cable.length_m.nominal, "m"}),
                 site,
                 {{{part, cable.length_m.nominal, true}}, {{"run_cable", cable.length_m.nominal}, {"terminate", 4.0}}}};
  if (!take_part(made.changed, part)) return std::nullopt;
  std::string id = old;
  if (used_cores(site, old) > 2) {
    id = fresh_id(site, old + "_feed");
    made.changed.cables[id] = cable;
    made.changed.cables[id].name = text(say::remedy_feed_cable(thing_words(site, thing)));
    feed_of(made.changed, thing)->cable.id = id;
  }
  made.changed.cables.at(id).part.id = part;
  made.changed.cables.at(id).cores_in_parallel.value = 1;
  return made;
}

std::optional<Candidate> more_cores(const Site& site, const std::string& thing, long long more) {
  const std::string id = feed_of(site, thing)->cable.id;
  const site::Cable& cable = site.cables.at(id);
  if (used_cores(site, id) != 2 || spare_cores(site, id).value_or(0) < 2 * more) return std::nullopt;
  const long long cores = *cable.cores_in_parallel.value + more;
  Candidate made{Kind::more_cores,
                 say::remedy_cores(thing_words(site, thing), cores),
                 site,
                 {{}, {{"open_joint"}, {"terminate", 4.0 * static_cast<double>(more)}}}};
  made.changed.cables.at(id).cores_in_parallel.value = cores;
  return made;
}

std::optional<Candidate> other_output(const Site& site, const std::string& thing, const std::string& output) {
  const auto supply = site.supplies.find(feed_of(site, thing)->from.id);
  const site::SupplySpec* spec = site::spec_of(site, supply->second.part, &site::Part::supply);
  const std::string& name = spec->outputs.at(output).name;
  Candidate made{
      Kind::other_output,
      say::remedy_output(thing_words(site, thing), site::name_or_id(name, output), thing_words(site, supply->first)),
      site,
      {{}, {{"move_wire", 1.0}}}};
  feed_of(made.changed, thing)->output = output;
  return made;
}

void other_outputs(const Site& site, const std::string& thing, std::vector<Ladder>& all) {
  const Feed* feed = feed_of(site, thing);
  if (feed == nullptr) return;
  const auto supply = site.supplies.find(feed->from.id);
  if (supply == site.supplies.end() || site.panels.count(thing) != 0) return;  // a panel's board stays where it is
  const site::SupplySpec* spec = site::spec_of(site, supply->second.part, &site::Part::supply);
  if (spec == nullptr) return;
  for (const auto& entry : spec->outputs) {
    const std::string output = entry.first;
    if (output == feed->output || output == kBoard) continue;
    all.push_back(one_size("output/" + thing + "/" + output,
                           [&site, thing, output] { return other_output(site, thing, output); }));
  }
}

/// A wire between the negatives of a unit and a panel, along the way of one of the unit's trigger wires there.
std::optional<Candidate> bond(const Site& site, const std::string& unit, const std::string& trigger,
                              const std::string& part) {
  const site::Trigger& way = site.triggers.at(trigger);
  const auto beside = site.cables.find(way.cable.id);
  if (beside == site.cables.end() || !beside->second.length_m.known()) return std::nullopt;
  const std::string panel = way.at_panel.id;
  const Measure length{beside->second.length_m.nominal, "m"};
  Candidate made{Kind::second_negative, {}, site, {}};
  std::string cable = beside->first;
  if (part.empty()) {
    if (spare_cores(site, cable).value_or(0) < *beside->second.cores_in_parallel.value) return std::nullopt;
    made.says = say::remedy_negative_core(thing_words(site, unit), thing_words(site, panel), thing_words(site, cable));
    made.bill.work = {{"terminate", 2.0}};
  } else {
    if (!take_part(made.changed, part)) return std::nullopt;
    cable = fresh_id(site, unit + "_negative_wire");
    site::Cable& wire = made.changed.cables[cable];
    wire = beside->second;
    wire.name = text(say::remedy_negative_cable(thing_words(site, unit)));
    wire.part.id = part;
    wire.cores_in_parallel.value = 1;
    wire.joint_ohm = {};  // joints of another size: the rulebook's envelope
    made.says = say::remedy_negative_wire(thing_words(site, unit), thing_words(site, panel),
                                          site::parts_shelf().at(part).name, length);
    made.bill = {{{part, length.value, true}}, {{"run_cable", length.value}, {"terminate", 2.0}}};
  }
  join_negatives(made.changed, unit, unit, panel, cable);
  return made;
}

}  // namespace

void feed_ladders(const Site& site, const Problem& problem, std::vector<Ladder>& all) {
  const std::string thing = problem.subject;
  const bool volts = fails(problem, "supply_voltage") || fails(problem, "negative_shift");
  if (volts) {
    for (const std::string& on_way : on_the_way(site, thing)) {
      const std::string cable = feed_of(site, on_way)->cable.id;
      if (site.cables.count(cable) == 0 || !standard_kind(site, cable)) continue;
      const long long most = spare_cores(site, cable).value_or(0) / 2;
      all.push_back(
          {"cores/" + on_way, static_cast<std::size_t>(std::max(1LL, most)),
           [&site, on_way](std::size_t size) { return more_cores(site, on_way, static_cast<long long>(size) + 1); },
           Works::from_some_size_up});
      const long long cores = std::min(2LL, used_cores(site, cable));
      const auto sizes = std::make_shared<const std::vector<std::string>>(thicker_than(site, cable, cores));
      if (sizes->empty()) continue;
      all.push_back({"cable/" + on_way, sizes->size(),
                     [&site, on_way, sizes](std::size_t size) { return thicker(site, on_way, (*sizes)[size]); },
                     Works::from_some_size_up});
    }
  }
  const bool amperes = fails(problem, "output_current") || fails(problem, "starts");
  if (volts) other_outputs(site, thing, all);
  if (!amperes || site.supplies.count(thing) == 0) return;
  for (const electric::Consumer& consumer : electric::consumers(site)) {
    if (consumer.feed->from.id == thing) other_outputs(site, consumer.id, all);
  }
}

void negative_ladders(const Site& site, const Problem& problem, std::vector<Ladder>& all) {
  if (site.units.count(problem.subject) == 0 || !fails(problem, "negative_shift")) return;
  const std::string unit = problem.subject;
  std::string panels;
  for (const std::string& id : site::triggers_of_unit(site, unit)) {
    const site::Trigger& trigger = site.triggers.at(id);
    const auto cable = site.cables.find(trigger.cable.id);
    if (!trigger.at_panel.known() || cable == site.cables.end()) continue;
    if (!cable->second.cores_in_parallel.known() || panels.find("/" + trigger.at_panel.id + "/") != std::string::npos)
      continue;
    panels += "/" + trigger.at_panel.id + "/";  // one way to each panel
    all.push_back(one_size("negative_core/" + id, [&site, unit, id] { return bond(site, unit, id, ""); }));
    if (!standard_kind(site, cable->first)) continue;
    const site::CableSpec* now = site::spec_of(site, cable->second.part, &site::Part::cable);
    const auto sizes = std::make_shared<std::vector<std::string>>();
    for (const std::string& part : shelf_cables()) {
      const site::CableSpec& spec = *site::parts_shelf().at(part).cable;
      if (now->conductor_mm2.known() == !spec.conductor_awg.known() && spec.cores.value.value_or(0) == 2)
        sizes->push_back(part);
    }
    all.push_back({"negative_wire/" + id, sizes->size(),
                   [&site, unit, id, sizes](std::size_t size) { return bond(site, unit, id, (*sizes)[size]); },
                   Works::from_some_size_up});
  }
}

}  // namespace zoneproof::remedies
