#include "materials/parts_count.hpp"

#include <cmath>

#include "electric/naming.hpp"
#include "messages/materials.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::materials {

namespace {

/// "5600" as a part of an id: "fuse_0_5_A".
std::string id_number(double value) {
  const std::optional<Decimal> decimal = decimal_of(value);
  std::string text = decimal ? materials::text(*decimal) : "x";
  for (char& letter : text) letter = letter == '.' ? '_' : letter;
  return text;
}

bool same_resistor(const site::Value& wanted, const site::Part& part) {
  if (!part.resistor || !part.resistor->resistance_ohm.known()) return false;
  const site::Value& ohm = part.resistor->resistance_ohm;
  const double close = 1e-9 * wanted.nominal;
  return std::fabs(ohm.nominal - wanted.nominal) <= close && std::fabs(ohm.low - wanted.low) <= close &&
         std::fabs(ohm.high - wanted.high) <= close;
}

class Counting {
 public:
  Counting(const site::Site& site, const std::vector<CableRow>& cables) : site_(site), cables_(cables) {}

  std::vector<Piece> run() {
    cables();
    things(site_.supplies, ItemKind::supply);
    things(site_.panels, ItemKind::panel);
    things(site_.units, ItemKind::unit);
    things(site_.detectors, ItemKind::detector);
    things(site_.loads, ItemKind::load);
    things(site_.cameras, ItemKind::camera);
    things(site_.switches, ItemKind::network);
    things(site_.injectors, ItemKind::network);
    things(site_.routers, ItemKind::network);
    things(site_.recorders, ItemKind::network);
    things(site_.backups, ItemKind::network);
    for (const auto& [id, camera] : site_.cameras) {
      if (camera.lens.known()) part(ItemKind::lens, camera.lens, id, 1.0);
    }
    batteries();
    loops();
    triggers();
    fuses();
    labels();
    return std::move(pieces_);
  }

 private:
  void add(ItemKind kind, std::string item, std::string name, std::string place, std::optional<double> count) {
    pieces_.push_back({kind, std::move(item), std::move(name), std::move(place), false, count, 0.0});
  }

  void part(ItemKind kind, const site::Ref& ref, const std::string& place, std::optional<double> count) {
    const site::Part* found = site::part_of(site_, ref);
    if (found == nullptr)
      return add(kind, "", electric::thing_words(site_, place), place,
                 count);  // one of a part that nobody named is fitted as well
    add(kind, ref.id, site::name_or_id(found->name, ref.id), place, count);
  }

  template <class Things>
  void things(const Things& all, ItemKind kind) {
    for (const auto& [id, thing] : all) part(kind, thing.part, id, 1.0);
  }

  void label(const std::string& place, double count) {
    add(ItemKind::label, "label", text(say::name_of_label()), place, count);
  }

  void cables() {
    for (const CableRow& row : cables_) {
      Piece piece{ItemKind::cable,
                  row.part_name.empty() ? "" : row.part,
                  row.part_name.empty() ? row.name : row.part_name,
                  row.id,
                  true,
                  row.length_m,
                  0.0};
      if (row.from != LengthFrom::site) piece.estimated = row.length_m.value_or(0.0);
      pieces_.push_back(std::move(piece));
    }
  }

  /// Those of the sheets of labels (src/handover/labels.hpp): both ends of what is wired anew, units and cameras.
  void labels() {
    constexpr double both_ends = 2.0;
    for (const auto& [id, trigger] : site_.triggers)
      if (site::has_wire(trigger)) label(id, both_ends);
    for (const auto& [id, unit] : site_.units) {
      label(id, 1.0);
      if (unit.arming.output.known()) label(id, both_ends);
      if (unit.feed.from.known()) label(id, both_ends);
    }
    for (const auto& [id, camera] : site_.cameras) label(id, 1.0);
  }

  void batteries() {
    for (const auto& [id, battery] : site_.batteries) {
      const auto& blocks = battery.blocks_in_parallel;
      part(ItemKind::battery, battery.part, id,
           blocks.known() ? std::optional(static_cast<double>(*blocks.value)) : std::nullopt);
    }
  }

  /// `what` it is at the thing `id`: a word for the place, and one for people.
  void resistor(const site::Value& ohm, const std::string& id, const std::string& what, const Message& role) {
    const std::string place = id + "/" + what;
    constexpr double count = 1.0;
    if (ohm.none()) return;
    if (!ohm.known())
      return add(ItemKind::resistor, "", text(say::name_of_resistor_of(text(role), electric::thing_words(site_, id))),
                 place, std::nullopt);
    for (const auto* shelf : {&site_.parts, &site::parts_shelf()}) {
      for (const auto& [part, one] : *shelf) {
        if (same_resistor(ohm, one))
          return add(ItemKind::resistor, part, site::name_or_id(one.name, part), place, count);
      }
    }
    std::string item = "resistor_" + id_number(ohm.nominal) + "_ohm";
    if (ohm.spread != site::Spread::tolerance_pct)
      return add(ItemKind::resistor, item, text(say::name_of_plain_resistor(Measure{ohm.nominal, "ohm"})), place,
                 count);
    item += "_" + id_number(ohm.stated_plus) + "_pct";
    add(ItemKind::resistor, item,
        text(say::name_of_resistor(Measure{ohm.nominal, "ohm"}, Measure{ohm.stated_plus, "%"})), place, count);
  }

  void loops() {
    using site::Arrangement;
    for (const auto& [id, zone] : site_.zones) {
      const site::Loop& loop = zone.loop;
      if (!loop.arrangement.known()) continue;
      const bool plain =
          loop.arrangement.is(Arrangement::normally_closed) || loop.arrangement.is(Arrangement::normally_open);
      if (!plain && !loop.arrangement.is(Arrangement::doubled_parallel))
        resistor(loop.eol_ohm, id, "eol", say::resistor_role_eol());
      const bool doubled =
          loop.arrangement.is(Arrangement::doubled_series) || loop.arrangement.is(Arrangement::doubled_parallel);
      const bool triple = loop.arrangement.is(Arrangement::triple_eol);
      if (doubled || triple || loop.arrangement.is(Arrangement::double_eol)) group(id, loop);
      if (triple) resistor(loop.mask_ohm, id, "mask", say::resistor_role_mask());
      if (doubled) resistor(loop.second_alarm_ohm, id, "second_alarm", say::resistor_role_second_alarm());
      for (const auto& [contact, entry] : loop.contacts) {
        if (entry.shunt_ohm.known()) resistor(entry.shunt_ohm, id, contact, say::resistor_role_of_contact(contact));
      }
    }
  }

  /// One resistor stands across all alarm contacts that have none of their own; where each has one there is none.
  void group(const std::string& id, const site::Loop& loop) {
    bool any = loop.contacts.empty() || loop.arrangement.is(site::Arrangement::doubled_parallel);
    for (const auto& [contact, entry] : loop.contacts)
      any = any || (entry.role.is(site::ContactRole::alarm) && !entry.shunt_ohm.known());
    if (any) resistor(loop.alarm_ohm, id, "alarm", say::resistor_role_alarm());
  }

  void triggers() {
    for (const auto& [id, trigger] : site_.triggers) {
      if (!site::has_wire(trigger)) continue;
      resistor(trigger.series_ohm, id, "series", say::resistor_role_series());
      resistor(trigger.pulldown_ohm, id, "pulldown", say::resistor_role_pulldown());
      resistor(trigger.pullup_ohm, id, "pullup", say::resistor_role_pullup());
    }
    for (const auto& [id, unit] : site_.units) {
      if (unit.arming.output.known()) resistor(unit.arming.pullup_ohm, id, "arming", say::resistor_role_arming());
    }
  }

  template <class Fed>
  void fuses_of(const site::Map<Fed>& all) {
    for (const auto& [id, thing] : all) {
      const site::Value& fuse = thing.feed.fuse_A;
      if (fuse.none() || thing.feed.from.none()) continue;
      if (!fuse.known()) {  // whether there is one is not known either: counted by whoever looks
        if (thing.feed.from.known())
          add(ItemKind::fuse, "", text(say::name_of_fuse_of(electric::thing_words(site_, id))), id + "/fuse",
              std::nullopt);
        continue;
      }
      add(ItemKind::fuse, "fuse_" + id_number(fuse.nominal) + "_A", text(say::name_of_fuse(Measure{fuse.nominal, "A"})),
          id + "/fuse", 1.0);
    }
  }

  void fuses() {
    fuses_of(site_.junctions);
    fuses_of(site_.panels);
    fuses_of(site_.detectors);
    fuses_of(site_.loads);
    fuses_of(site_.units);
  }

  const site::Site& site_;
  const std::vector<CableRow>& cables_;
  std::vector<Piece> pieces_;
};

}  // namespace

std::vector<Piece> pieces_of(const site::Site& site, const std::vector<CableRow>& cables) {
  return Counting(site, cables).run();
}

}  // namespace zoneproof::materials
