// What a supply can be given: a new battery, a larger one, or less to feed, by a supply of its own for a unit.
#include <algorithm>
#include <map>
#include <memory>

#include "chain/limit.hpp"
#include "electric/battery_size.hpp"
#include "electric/naming.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {

namespace {

using electric::thing_words;
using site::Site;

/// The only battery of a supply.
std::string only_battery(const Site& site, const std::string& supply) {
  std::string only;
  for (const auto& [id, battery] : site.batteries) {
    if (battery.supply.id != supply) continue;
    if (!only.empty()) return {};
    only = id;
  }
  return only;
}

void renew(Site& site, const std::string& battery, const std::string& part, long long blocks) {
  site::Battery& own = site.batteries.at(battery);
  own.part.id = part;
  own.blocks_in_parallel.value = blocks;
  own.age_years.replace_with(site::Value::exactly(0.0, site::Origin::measured));
}

std::optional<Candidate> new_battery(const Site& site, const std::string& battery) {
  const site::Battery& own = site.batteries.at(battery);
  if (!own.part.known() || !own.blocks_in_parallel.known()) return std::nullopt;
  const auto blocks = static_cast<double>(*own.blocks_in_parallel.value);
  Candidate made{Kind::new_battery,
                 say::remedy_new_battery(thing_words(site, battery)),
                 site,
                 {{{own.part.id, blocks}}, {{"fit_battery", blocks}}}};
  renew(made.changed, battery, own.part.id, *own.blocks_in_parallel.value);
  return made;
}

/// One battery of the shelf, or several of it in parallel.
struct Sized {
  std::string part;
  long long blocks = 1;

  std::string words() const {
    const std::string& name = site::parts_shelf().at(part).name;
    return blocks == 1 ? name : text(say::remedy_blocks(blocks, name));
  }
  site::Bill bill() const {
    const auto count = static_cast<double>(blocks);
    return {{{part, count}}, {{"fit_battery", count}}};
  }
};

/// The smallest that lasts, with the rulebook's margin and the reserve of a new design: a single one, else a pair;
/// nothing where none does, or the rulebook does not say for how long. `supply` must have a battery.
std::optional<Sized> sized_battery(const Site& site, const std::string& supply) {
  const chain::Limit hours = chain::limit_of(site, "standby_h"), alarm = chain::limit_of(site, "alarm_duration_h"),
                     more = chain::limit_of(site, "autonomy_margin_pct");
  if (!hours.value || !alarm.value || !more.value) return std::nullopt;
  for (const long long blocks : {1LL, 2LL}) {
    std::map<double, std::string> sizes;
    std::vector<double> capacities;
    for (const std::string& id : shelf_batteries()) {
      const double one = site::parts_shelf().at(id).battery->capacity_Ah.nominal;
      capacities.push_back(one * static_cast<double>(blocks));
      sizes.emplace(capacities.back(), id);
    }
    const std::optional<double> capacity = electric::smallest_battery(
        site, supply, {*hours.value, *alarm.value}, *hours.value * (1.0 + *more.value / 100.0), std::move(capacities));
    if (capacity) return Sized{sizes.at(*capacity), blocks};
  }
  return std::nullopt;
}

/// In the place of the old battery.
bool put_in(Candidate& made, const std::string& battery, const Sized& sized) {
  if (!take_part(made.changed, sized.part)) return false;
  renew(made.changed, battery, sized.part, sized.blocks);
  return true;
}

std::optional<Candidate> larger_battery(const Site& site, const std::string& supply, const std::string& battery) {
  const std::optional<Sized> sized = sized_battery(site, supply);
  if (!sized) return std::nullopt;
  Candidate made{Kind::larger_battery, say::remedy_battery(thing_words(site, battery), sized->words()), site,
                 sized->bill()};
  if (!put_in(made, battery, *sized)) return std::nullopt;
  return made;
}

/// A battery for a supply that has none: first any, by which the supply can be asked how long it lasts.
std::optional<Sized> add_battery(Site& site, const std::string& supply, const std::string& id, std::string name) {
  site::Battery& battery = site.batteries[id];
  battery.name = std::move(name);
  battery.supply = to(supply);
  battery.area = site.supplies.at(supply).area;
  const std::string any = shelf_batteries().front();
  const bool had_it = site.parts.count(any) != 0;
  if (!take_part(site, any)) return std::nullopt;
  renew(site, id, any, 1);
  const std::optional<Sized> sized = sized_battery(site, supply);
  if (!sized || !take_part(site, sized->part)) return std::nullopt;
  if (!had_it && sized->part != any) site.parts.erase(any);
  renew(site, id, sized->part, sized->blocks);
  return sized;
}

std::optional<Candidate> first_battery(const Site& site, const std::string& supply) {
  Candidate made{Kind::larger_battery, {}, site, {}};
  const std::string name = text(say::remedy_battery_name(thing_words(site, supply)));
  const auto sized = add_battery(made.changed, supply, fresh_id(site, supply + "_battery"), name);
  if (!sized) return std::nullopt;
  made.says = say::remedy_first_battery(thing_words(site, supply), sized->words());
  made.bill = sized->bill();
  return made;
}

/// Supplies in a box of their own: those of a panel have an output for its board.
std::vector<std::string> boxed_supplies() {
  std::vector<std::pair<double, std::string>> found;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (!part.supply || part.origin != site::Origin::data_sheet || part.supply->outputs.count(kBoard) != 0) continue;
    if (part.supply->rating_A.known()) found.emplace_back(part.supply->rating_A.nominal, id);
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> ids;
  for (auto& entry : found) ids.push_back(std::move(entry.second));
  return ids;
}

class OwnSupply {
 public:
  OwnSupply(const Site& site, const std::string& unit, const std::string& part)
      : site_(site),
        unit_(unit),
        part_(part),
        supply_(fresh_id(site, unit + "_supply")),
        battery_(fresh_id(site, unit + "_battery")),
        made_{Kind::own_supply, {}, site, {}} {}

  /// With its negative joined to the old supply's over the pair that fed the unit.
  std::optional<Candidate> make() {
    const site::Feed& feed = site_.units.at(unit_).feed;
    if (site_.supplies.count(feed.from.id) == 0 || site_.cables.count(feed.cable.id) == 0) return std::nullopt;
    if (!take_part(made_.changed, part_)) return std::nullopt;
    add_supply();
    feed_from_it();
    const std::string name = text(say::remedy_battery_name(thing_words(site_, unit_)));
    const auto sized = add_battery(made_.changed, supply_, battery_, name);
    if (!sized) return std::nullopt;
    join_negatives(made_.changed, unit_, supply_, feed.from.id, feed.cable.id);
    made_.says = say::remedy_own_supply(thing_words(site_, unit_), site::parts_shelf().at(part_).name, sized->words());
    made_.bill = sized->bill();
    made_.bill.parts.push_back({part_});
    for (const site::WorkNeed& work : {site::WorkNeed{"fit_supply"}, {"connect_mains"}, {"terminate", 4.0}})
      made_.bill.work.push_back(work);
    return std::move(made_);
  }

 private:
  void add_supply() {
    site::Supply& supply = made_.changed.supplies[supply_];
    supply.name = text(say::remedy_supply_name(thing_words(site_, unit_)));
    supply.part = to(part_);
    supply.area = site_.units.at(unit_).area;
    supply.loads_complete.value = supply.batteries_complete.value = true;
  }

  void feed_from_it() {
    site::Feed& feed = made_.changed.units.at(unit_).feed;
    feed.from.id = supply_;
    feed.output = site::parts_shelf().at(part_).supply->outputs.begin()->first;
    feed.cable.id = "none";
    feed.fuse_A.replace_with(site::Value::absent());  // the output's own protection
  }

  const Site& site_;
  std::string unit_, part_, supply_, battery_;
  Candidate made_;
};

/// The unit on its own supply, and, `with_battery`, the old one's battery in the size that it then needs.
std::optional<Candidate> own_supply(const Site& site, const std::string& unit, const std::string& part,
                                    const std::string& old_supply, bool with_battery) {
  std::optional<Candidate> made = OwnSupply(site, unit, part).make();
  if (!made || !with_battery) return made;
  const std::string battery = only_battery(site, old_supply);
  if (battery.empty()) return std::nullopt;
  const std::optional<Sized> sized = sized_battery(made->changed, old_supply);
  if (!sized || !put_in(*made, battery, *sized)) return std::nullopt;
  site::add(made->bill, sized->bill());
  made->says = say::remedy_supply_and_battery(text(made->says), thing_words(site, battery), sized->words());
  return made;
}

void own_supplies(const Site& site, const std::string& unit, const std::string& of_supply, bool last_resort,
                  std::vector<Ladder>& all) {
  const auto supplies = std::make_shared<const std::vector<std::string>>(boxed_supplies());
  for (const bool with_battery : {false, true}) {
    all.push_back({(with_battery ? "supply_and_battery/" : "supply/") + unit, supplies->size(),
                   [&site, unit, supplies, of_supply, with_battery](std::size_t size) {
                     return own_supply(site, unit, (*supplies)[size], of_supply, with_battery);
                   },
                   Works::somewhere, last_resort, true});
  }
}

}  // namespace

void supply_ladders(const Site& site, const Problem& problem, std::vector<Ladder>& all) {
  const std::string thing = problem.subject;
  if (site.units.count(thing) != 0) {
    if (fails(problem, "supply_voltage") || fails(problem, "negative_shift"))
      own_supplies(site, thing, site::supply_of(site, site.units.at(thing).feed), true, all);
    return;
  }
  const auto own = site.batteries.find(thing);
  const std::string supply = own != site.batteries.end() ? own->second.supply.id : thing;
  if (site.supplies.count(supply) == 0) return;
  const std::string battery = only_battery(site, supply);
  const bool stored = fails(problem, "autonomy") || fails(problem, "battery_age") || fails(problem, "recharge");
  if (stored && !battery.empty()) {
    all.push_back(one_size("new_battery/" + battery, [&site, battery] { return new_battery(site, battery); }));
    all.push_back(one_size("larger_battery/" + battery,
                           [&site, supply, battery] { return larger_battery(site, supply, battery); }));
  }
  if (stored && !site::has_battery(site, supply) && !site::other_battery_possible(site, supply))
    all.push_back(one_size("first_battery/" + supply, [&site, supply] { return first_battery(site, supply); }));
  for (const auto& [id, unit] : site.units) {
    if (site::supply_of(site, unit.feed) == supply) own_supplies(site, id, supply, false, all);
  }
}

}  // namespace zoneproof::remedies
