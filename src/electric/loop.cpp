// The pair of a zone: cable, contacts and end-of-line resistors in the order in which they stand.
// Topologies are drawn in docs/methods/loops.md; each is checked against a deck written by hand (tests/electric/decks).
#include "electric/loop.hpp"

#include <algorithm>
#include <cmath>

#include "chain/limit.hpp"
#include "circuit/worst_case.hpp"
#include "electric/element_name.hpp"
#include "electric/rail.hpp"
#include "electric/terminal.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

using circuit::Node;
using site::Arrangement;
using site::ContactRole;

/// What a contact does in `state`, seen from `zone` on the pair that stands in `owner`'s entry.
enum class Movement { rests, moves, may_move };

Movement movement(const std::string& id, const site::LoopContact& contact, const std::string& owner,
                  const std::string& zone, const ZoneState& state) {
  const bool is_alarm = contact.role.is(ContactRole::alarm);
  const bool own = (contact.zone.known() ? contact.zone.id : owner) == zone;
  bool concerned = false;
  switch (state.happening) {
    case Happening::alarm: concerned = is_alarm && own; break;
    case Happening::second_alarm: concerned = is_alarm && !own; break;
    case Happening::both_alarm:
      if (is_alarm && !own) return Movement::moves;
      concerned = is_alarm;
      break;
    case Happening::masked: concerned = contact.role.is(ContactRole::mask); break;
    case Happening::fault: concerned = contact.role.is(ContactRole::fault); break;
    case Happening::tamper_open: concerned = contact.role.is(ContactRole::tamper) && !state.contact.empty(); break;
    default: break;
  }
  if (!concerned) return Movement::rests;
  return id == state.contact ? Movement::moves : Movement::may_move;
}

/// Whether a detector takes no supply at all, so that switching it off changes nothing.
bool needs_no_supply(const site::Site& site, const site::Ref& detector) {
  const auto found = site.detectors.find(detector.id);
  if (found == site.detectors.end()) return false;
  const site::DetectorSpec* spec = site::spec_of(site, found->second.part, &site::Part::detector);
  return found->second.feed.from.none() || (spec != nullptr && spec->supply_min_V.none());
}

class LoopBuilder {
 public:
  /// `backbone`: null where everything is dead and the pair is off its screws.
  LoopBuilder(const site::Site& site, const std::string& zone, const std::string& owner, const ZoneState& state,
              const Backbone* backbone, Wiring& wiring)
      : site_(site),
        zone_(zone),
        owner_(owner),
        loop_(site.zones.at(owner).loop),
        state_(state),
        backbone_(backbone),
        wiring_(wiring) {}

  void build(const Terminal& terminal) {
    name_missing();
    const Node near = eol_at_panel() ? panel_eol(terminal.point) : terminal.point;
    const Node far = wiring_.network.node(part_name(owner_, "far"));
    const Node back = wiring_.network.node(part_name(owner_, "back"));
    if (eol_across_panel()) {
      wiring_.resistor(part_name(owner_, "eol"), terminal.point, terminal.common, resistor_ohm(loop_.eol_ohm));
    }
    cable(near, far, back, terminal);
    if (state_.happening == Happening::shorted) {  // what lies behind carries nothing, whatever it is
      wiring_.resistor(part_name(owner_, "short"), far, back, Tracked::fact(0.0));
      return;
    }
    inside(far, back);
  }

  /// The pair alone, from where its two wires were at the panel; `joined`: a bridge across its far end.
  void build_dead(Node red, Node black, bool joined) {
    Terminal ends;
    ends.point = red;
    ends.common = black;
    build(ends);
    if (!joined) return;
    const Node far = wiring_.network.node(part_name(owner_, "far"));
    wiring_.resistor(part_name(owner_, "bridge"), far, wiring_.network.node(part_name(owner_, "back")),
                     Tracked::fact(0.0));
  }

  /// Names everything but numbers that the loop cannot be built without.
  void name_missing() {
    for (const chain::Gap& missing : missing_contacts(site_, owner_)) gap(missing.pointer, missing.reason.c_str());
    const bool placed = series_eol() || loop_.arrangement.is(Arrangement::single_eol_open);
    if (placed && !loop_.eol_place.known()) gap(loop_.eol_place.pointer, "unknown");
    if (loop_.shared_return.unknown()) gap(loop_.shared_return.pointer, "unknown");
    for (const auto& [id, contact] : loop_.contacts) {
      if (!contact.shunt_ohm.known() && !contact.shunt_ohm.none()) gap(contact.shunt_ohm.pointer, "unknown");
    }
  }

 private:
  void gap(const std::string& pointer, const char* reason) { wiring_.missing(pointer, reason); }

  bool dead() const { return backbone_ == nullptr; }
  bool cut() const { return state_.happening == Happening::tamper_open && state_.contact.empty(); }
  bool eol_at_panel() const { return loop_.eol_place.is(site::EolPlace::at_panel) && series_eol(); }
  bool eol_across_panel() const {
    return loop_.eol_place.is(site::EolPlace::at_panel) && loop_.arrangement.is(Arrangement::single_eol_open);
  }
  bool series_eol() const {
    return loop_.arrangement.is(Arrangement::single_eol_closed) || loop_.arrangement.is(Arrangement::double_eol) ||
           loop_.arrangement.is(Arrangement::triple_eol) || loop_.arrangement.is(Arrangement::doubled_series);
  }

  Node panel_eol(Node point) {
    const Node after = wiring_.network.node(part_name(owner_, "eol"));
    wiring_.resistor(part_name(owner_, "eol"), point, after, resistor_ohm(loop_.eol_ohm));
    return after;
  }

  // --- the cable ----------------------------------------------------------------------------------------------
  void cable(Node near, Node far, Node back, const Terminal& terminal) {
    const Node common = terminal.common;
    if (!loop_.cable.known()) {
      if (!loop_.cable.none()) gap(loop_.cable.pointer, "unknown");
      if (!cut()) wiring_.resistor(part_name(owner_, "go"), near, far, Tracked::fact(0.0));
      wiring_.resistor(part_name(owner_, "return"), back, common, Tracked::fact(0.0));
      return;
    }
    Tracked core = conductor_ohm(site_, loop_.cable.id);
    if (state_.happening == Happening::shorted) core.range.low = 0.0;  // the short may be anywhere along the run
    if (!cut()) wiring_.resistor(part_name(owner_, "go"), near, far, core);
    if (loop_.shared_return.known()) {
      shared_return(back, terminal);
    } else {
      wiring_.resistor(part_name(owner_, "return"), back, common, core);
    }
    const Tracked leak = leakage_ohm(site_, loop_.cable.id);
    if (leak.range.low == infinite) return;
    if (cut()) {
      wiring_.resistor(part_name(owner_, "leak_near"), near, back,
                       leak);  // what is left of the pair on the panel's side
    } else {
      wiring_.resistor(part_name(owner_, "leak"), far, back, leak);
    }
  }

  /// Where the shared way back really ends: at the zone's own panel its own common, at another one that one's negative.
  Node common_of(const site::SharedReturn& shared, Node own) {
    if (shared.panel.id == site_.zones.at(owner_).panel.id) return own;
    const auto there = backbone_->poles.find(shared.panel.id);
    if (there != backbone_->poles.end()) return there->second.minus;
    gap(shared.panel.pointer, "unknown");
    return own;
  }

  /// The way back shared with other loops: their currents flow through it too, each from nothing to its short current.
  void shared_return(Node back, const Terminal& terminal) {
    Node common = terminal.common;
    const auto shared = site_.shared_returns.find(loop_.shared_return.id);
    if (shared == site_.shared_returns.end() || site_.cables.count(shared->second.cable.id) == 0) {
      gap(loop_.shared_return.pointer, "unknown");
      wiring_.resistor(part_name(owner_, "return"), back, common, Tracked::fact(0.0));
      return;
    }
    if (!dead()) common = common_of(shared->second, common);
    Tracked core = conductor_ohm(site_, shared->second.cable.id);
    if (state_.happening == Happening::shorted) core.range.low = 0.0;  // the short may be at the panel
    wiring_.resistor(part_name(owner_, "return"), back, common, core);
    if (dead()) return;
    for (const auto& [id, zone] : site_.zones) {
      if (id == owner_ || zone.loop.shared_return.id != shared->first) continue;
      const site::ZoneTerminalSpec* spec = terminal_spec(site_, id);
      if (spec == nullptr) {
        gap(site::zone_terminal_of(site_, id).pointer, "unknown");
        continue;
      }
      // Loops below a positive common draw their current from the return instead of giving it.
      const bool gives = terminal.sign > 0.0;
      const Tracked most = spec->refers_to.is(site::TerminalReference::current_source)
                               ? tracked(spec->current_A, 0.0)
                               : open_volts(site_, *spec, zone.panel.id) / behind_ohm(*spec, zone.panel.id);
      wiring_.current(part_name(owner_, "beside", id), gives ? common : back, gives ? back : common,
                      spanning(most, Tracked::fact(0.0)));
    }
  }

  Tracked behind_ohm(const site::ZoneTerminalSpec& spec, const std::string& panel) const {
    const std::optional<MeasuredSource> measured = measured_source(site_, spec, panel);
    return measured ? measured->ohm : tracked(spec.pullup_ohm, 0.0);
  }

  // --- resistors and contacts ---------------------------------------------------------------------------------
  /// A resistor of the loop at its temperatures, with its own two terminations in series (the cable counts its own).
  Tracked resistor_ohm(const site::Value& value) {
    const Temperatures air = loop_.cable.known() ? temperatures_of(site_, site_.cables.at(loop_.cable.id).areas)
                                                 : temperatures_of(site_, {});
    return component_ohm(site_, value, 0.0, air) + terminations();
  }

  Tracked terminations() {
    const chain::Limit envelope = chain::limit_of(site_, "eol_contact_ohm");
    if (!envelope.value) {
      gap(envelope.pointer, "no_rule");
      return Tracked::fact(0.0);
    }
    Tracked ohm = tracked_or_envelope(site_, site::Value{}, "eol_contact_ohm", 0.0);
    for (Basis& basis : ohm.bases) basis.wide = false;  // each resistor has joints of its own: no datum is shared
    return ohm;
  }

  /// A contact in this state: at rest, certainly moved, or free between both (at rest where that is `idle`).
  Tracked contact_ohm(const std::string& id, const site::LoopContact& contact, bool idle = false) {
    const site::ContactSpec* spec = site::contact_spec(site_, contact.detector, contact.contact);
    if (spec == nullptr || !spec->at_rest.known()) {
      gap(spec == nullptr ? contact.detector.pointer : spec->at_rest.pointer, "unknown");
      return Tracked::fact(0.0);
    }
    const bool closed_at_rest = spec->at_rest.is(site::RestPosition::closed);
    const Tracked closed = tracked(spec->closed_ohm, 0.0);
    const Tracked open = tracked(spec->open_ohm, infinite);
    const Tracked& rest = closed_at_rest ? closed : open;
    const Tracked& moved = closed_at_rest ? open : closed;
    if (dead() && !idle) return closed_unpowered(contact, *spec) ? closed : open;
    switch (movement(id, contact, owner_, zone_, state_)) {
      case Movement::rests: return rest;
      case Movement::moves: return moved;
      default: return idle ? rest : spanning(rest, moved);
    }
  }

  /// Whether a contact is closed while its detector has no supply, as its sheet says.
  bool closed_unpowered(const site::LoopContact& contact, const site::ContactSpec& spec) {
    if (needs_no_supply(site_, contact.detector) || spec.without_supply.is(site::WithoutSupply::unaffected))
      return spec.at_rest.is(site::RestPosition::closed);
    if (!spec.without_supply.known()) gap(spec.without_supply.pointer, "unknown");
    return spec.without_supply.is(site::WithoutSupply::closed);
  }

  /// Contacts of `role` in series from `from`; those with a resistor of their own are shunted by it. Returns the end.
  template <class Wanted>
  Node series(Node from, Node to_if_last, const Wanted& wanted, bool ends_here) {
    std::vector<std::string> ids;
    for (const auto& [id, contact] : loop_.contacts) {
      if (wanted(contact)) ids.push_back(id);
    }
    const auto gap_in_it = std::find_if(ids.begin(), ids.end(), [&](const std::string& id) { return interrupts(id); });
    Node at = from;
    for (std::size_t i = 0; i < ids.size(); ++i) {
      const bool last = ends_here && i + 1 == ids.size();
      const Node next = last ? to_if_last : wiring_.network.node(part_name(owner_, "after", ids[i]));
      one_contact(ids[i], at, next, gap_in_it != ids.end() && (!dead() || *gap_in_it != ids[i]));
      at = next;
    }
    if (ids.empty() && ends_here)
      wiring_.resistor(part_name(owner_, "link", std::to_string(links_++)), from, to_if_last, Tracked::fact(0.0));
    return ids.empty() && ends_here ? to_if_last : at;
  }

  /// Whether nothing at all flows through a series that holds this contact.
  bool interrupts(const std::string& id) {
    const site::LoopContact& contact = loop_.contacts.at(id);
    const bool moves = dead() || movement(id, contact, owner_, zone_, state_) == Movement::moves;
    return moves && !contact.shunt_ohm.known() && contact_ohm(id, contact).range.low == infinite;
  }

  /// `cut_off`: another contact interrupts its series. Then it carries nothing in either position, and a free one is
  /// left at rest: open, it would only cut off a piece of wire, whose level nobody asks for and no bound can hold.
  void one_contact(const std::string& id, Node from, Node to, bool cut_off) {
    const site::LoopContact& contact = loop_.contacts.at(id);
    const bool idle = cut_off && !contact.shunt_ohm.known();
    wiring_.resistor(part_name(owner_, "contact", id), from, to, contact_ohm(id, contact, idle));
    if (contact.shunt_ohm.known()) {
      wiring_.resistor(part_name(part_name(owner_, "contact", id), "shunt"), from, to, resistor_ohm(contact.shunt_ohm));
    }
  }

  /// A group of contacts in series with one resistor across all that have none of their own.
  template <class Wanted>
  Node shunted_group(const char* name, Node from, const site::Value& shunt, const Wanted& wanted) {
    const auto bare = [&](const site::LoopContact& c) { return wanted(c) && !c.shunt_ohm.known(); };
    const auto own = [&](const site::LoopContact& c) { return wanted(c) && c.shunt_ohm.known(); };
    const Node after_own = series(from, from, own, false);
    const bool any_bare = std::any_of(loop_.contacts.begin(), loop_.contacts.end(),
                                      [&](const auto& entry) { return bare(entry.second); });
    if (!any_bare) return after_own;
    const Node after = wiring_.network.node(part_name(owner_, name));
    series(after_own, after, bare, true);
    wiring_.resistor(part_name(part_name(owner_, name), "shunt"), after_own, after, resistor_ohm(shunt));
    return after;
  }

  // --- arrangements -------------------------------------------------------------------------------------------
  static bool alarm(const site::LoopContact& c) { return c.role.is(ContactRole::alarm); }
  static bool not_alarm(const site::LoopContact& c) { return !c.role.is(ContactRole::alarm); }
  bool mine(const site::LoopContact& c) const { return alarm(c) && (!c.zone.known() || c.zone.id == owner_); }
  bool others(const site::LoopContact& c) const { return alarm(c) && !mine(c); }

  void end_of_line(Node from, Node back) {
    if (eol_at_panel()) {
      wiring_.resistor(part_name(owner_, "end"), from, back, Tracked::fact(0.0));
    } else {
      wiring_.resistor(part_name(owner_, "eol"), from, back, resistor_ohm(loop_.eol_ohm));
    }
  }

  void inside(Node far, Node back) {
    if (!loop_.arrangement.known()) return gap(loop_.arrangement.pointer, "unknown");
    const auto all = [](const site::LoopContact&) { return true; };
    switch (*loop_.arrangement.value) {
      case Arrangement::normally_closed: series(far, back, all, true); return;
      case Arrangement::normally_open: open_contacts(series(far, back, not_alarm, false), back); return;
      case Arrangement::single_eol_closed: end_of_line(series(far, back, all, false), back); return;
      case Arrangement::single_eol_open: {
        const Node at = series(far, back, not_alarm, false);
        open_contacts(at, back);
        if (!eol_across_panel()) wiring_.resistor(part_name(owner_, "eol"), at, back, resistor_ohm(loop_.eol_ohm));
        return;
      }
      case Arrangement::double_eol: end_of_line(shunted_alarm(tampers(far)), back); return;
      case Arrangement::triple_eol: end_of_line(shunted_mask(shunted_alarm(tampers(far))), back); return;
      case Arrangement::doubled_series: end_of_line(second_group(first_group(tampers(far))), back); return;
      case Arrangement::doubled_parallel: parallel_groups(tampers(far), back); return;
    }
  }

  Node tampers(Node from) {
    const bool masks_apart = loop_.arrangement.is(Arrangement::triple_eol);
    return series(
        from, from,
        [&](const site::LoopContact& c) { return not_alarm(c) && !(masks_apart && c.role.is(ContactRole::mask)); },
        false);
  }
  Node shunted_alarm(Node from) { return shunted_group("alarm", from, loop_.alarm_ohm, alarm); }
  Node shunted_mask(Node from) {
    return shunted_group("mask", from, loop_.mask_ohm,
                         [](const site::LoopContact& c) { return c.role.is(ContactRole::mask); });
  }
  Node first_group(Node from) {
    return shunted_group("first", from, loop_.alarm_ohm, [&](const site::LoopContact& c) { return mine(c); });
  }
  Node second_group(Node from) {
    return shunted_group("second", from, loop_.second_alarm_ohm, [&](const site::LoopContact& c) { return others(c); });
  }

  void parallel_groups(Node from, Node back) {
    branch("first", from, back, loop_.alarm_ohm, [&](const site::LoopContact& c) { return mine(c); });
    branch("second", from, back, loop_.second_alarm_ohm, [&](const site::LoopContact& c) { return others(c); });
  }

  template <class Wanted>
  void branch(const char* name, Node from, Node to, const site::Value& own_ohm, const Wanted& wanted) {
    const Node middle = wiring_.network.node(part_name(owner_, name));
    wiring_.resistor(part_name(owner_, name), from, middle, resistor_ohm(own_ohm));
    series(middle, to, wanted, true);
  }

  void open_contacts(Node at, Node back) {
    for (const auto& [id, contact] : loop_.contacts) {
      if (alarm(contact)) one_contact(id, at, back, false);
    }
  }

  const site::Site& site_;
  const std::string& zone_;
  const std::string& owner_;
  const site::Loop& loop_;
  const ZoneState& state_;
  const Backbone* backbone_;
  Wiring& wiring_;
  int links_ = 0;
};

/// Whether contacts of another zone stand in the loop too.
bool two_zones(const site::Loop& loop, const std::string& owner) {
  return std::any_of(loop.contacts.begin(), loop.contacts.end(),
                     [&](const auto& entry) { return entry.second.zone.known() && entry.second.zone.id != owner; });
}

/// Whether the terminal's source is a part of the raw rail, or switched from it, not the rail itself.
bool takes_share(const site::ZoneTerminalSpec& spec) {
  return spec.source.is(site::TerminalSource::raw_rail) &&
         (pulsed(spec) || !(spec.source_pct.known() && spec.source_pct.low == 100.0 && spec.source_pct.high == 100.0));
}

/// The rail where the panel has it, with all drops before it, in the condition that `wiring` stands in. Where the
/// network has no answer, what the supply alone could give.
circuit::Range rail_at_panel(const Wiring& wiring, Poles panel, const circuit::Range& at_supply) {
  const std::vector<circuit::WorstCase> rail =
      circuit::worst_case(wiring.network, {circuit::Quantity::voltage(panel.plus, panel.minus)});
  const circuit::WorstCase& worst = rail.front();
  if (!std::isfinite(worst.low.bound) || !std::isfinite(worst.high.bound) || std::isnan(worst.nominal))
    return at_supply;
  return {worst.nominal, std::max(0.0, worst.low.bound), std::max(0.0, worst.high.bound)};
}

const Poles* panel_poles(const site::Site& site, const std::string& zone, const Backbone& backbone) {
  const auto poles = backbone.poles.find(site.zones.at(zone).panel.id);
  return poles == backbone.poles.end() ? nullptr : &poles->second;
}

}  // namespace

const site::ZoneTerminalSpec* terminal_spec(const site::Site& site, const std::string& zone) {
  return site::spec_of(site, site::zone_terminal_of(site, zone), &site::Part::zone_terminal);
}

std::vector<ZoneState> reachable_states(const site::Site& site, const std::string& zone) {
  const std::string owner = site::loop_owner(site, zone);
  std::vector<ZoneState> states = {{Happening::rest, ""}};
  if (owner.empty()) return states;
  const site::Word<site::Medium>& medium = site.zones.at(zone).medium;
  if (medium.known() && !medium.is(site::Medium::wired)) {  // no pair: nothing to cut or short
    states.push_back({Happening::alarm, ""});
    return states;
  }
  const site::Loop& loop = site.zones.at(owner).loop;
  for (Happening happening : {Happening::alarm, Happening::second_alarm, Happening::both_alarm, Happening::masked,
                              Happening::fault, Happening::tamper_open}) {
    if (happening == Happening::both_alarm && !two_zones(loop, owner)) continue;
    for (const auto& [id, contact] : loop.contacts) {
      const ZoneState state{happening, id};
      const bool own = happening != Happening::both_alarm || (contact.zone.known() ? contact.zone.id : owner) == zone;
      if (own && movement(id, contact, owner, zone, state) == Movement::moves) states.push_back(state);
    }
  }
  states.push_back({Happening::tamper_open, ""});
  states.push_back({Happening::shorted, ""});
  return states;
}

std::vector<chain::Gap> missing_contacts(const site::Site& site, const std::string& zone) {
  const std::string owner = site::loop_owner(site, zone);
  if (owner.empty()) return {{"/zones/" + zone + "/loop", "unknown"}};
  const site::Loop& loop = site.zones.at(owner).loop;
  std::vector<chain::Gap> gaps;
  if (!loop.contacts_complete.yes()) gaps.push_back({loop.contacts_complete.pointer, "incomplete_list"});
  for (const auto& [id, contact] : loop.contacts) {
    if (!contact.role.known()) gaps.push_back({contact.role.pointer, "unknown"});
  }
  return gaps;
}

std::optional<Terminal> build_loop(const site::Site& site, const std::string& zone, const ZoneState& state,
                                   const Backbone& backbone, Wiring& wiring, std::optional<DrivePart> part) {
  const std::string owner = site::loop_owner(site, zone);
  const site::ZoneTerminalSpec* spec = terminal_spec(site, zone);
  const Poles* panel = panel_poles(site, zone, backbone);
  if (owner.empty() || spec == nullptr || panel == nullptr) {
    wiring.missing(spec == nullptr ? site::zone_terminal_of(site, zone).pointer : site.zones.at(zone).panel.pointer,
                   "unknown");
    if (!owner.empty()) LoopBuilder(site, zone, owner, state, &backbone, wiring).name_missing();
    return std::nullopt;
  }
  const std::string& panel_id = site.zones.at(zone).panel.id;
  const Temperatures air = temperatures_of(site, {site.panels.at(panel_id).area});
  TerminalSurroundings around{rail_volts(site, panel_id), component_ohm(site, spec->pullup_ohm, 0.0, air),
                              measured_source(site, *spec, panel_id), part};
  if (takes_share(*spec)) around.rail_V.range = rail_at_panel(wiring, *panel, around.rail_V.range);
  const Terminal terminal = build_terminal(*spec, owner, *panel, around, wiring);
  LoopBuilder(site, zone, owner, state, &backbone, wiring).build(terminal);
  return terminal;
}

void build_dead_loop(const site::Site& site, const std::string& zone, FarEnd end, circuit::Node red,
                     circuit::Node black, Wiring& wiring) {
  const std::string owner = site::loop_owner(site, zone);
  if (owner.empty()) return wiring.missing("/zones/" + zone + "/loop", "unknown");
  const ZoneState rest;
  LoopBuilder(site, owner, owner, rest, nullptr, wiring).build_dead(red, black, end == FarEnd::joined);
}

std::optional<Terminal> build_loop_bystander(const site::Site& site, const std::string& zone, const Backbone& backbone,
                                             Wiring& wiring) {
  const site::ZoneTerminalSpec* spec = terminal_spec(site, zone);
  const Poles* panel = panel_poles(site, zone, backbone);
  if (spec == nullptr || panel == nullptr) {
    wiring.missing(site::zone_terminal_of(site, zone).pointer, "unknown");
    return std::nullopt;
  }
  Terminal terminal;
  terminal.spec = spec;
  terminal.point = wiring.network.node(part_name(zone, "t"));
  const Node open = wiring.network.node(part_name(zone, "open"));
  const Tracked volts = open_volts(site, *spec, site.zones.at(zone).panel.id);
  const bool below = spec->refers_to.is(site::TerminalReference::positive);
  wiring.voltage(part_name(zone, "open"), below ? open : panel->minus, below ? panel->plus : open,
                 spanning(volts, Tracked::fact(0.0)));
  const std::string& panel_id = site.zones.at(zone).panel.id;
  const std::optional<MeasuredSource> measured = measured_source(site, *spec, panel_id);
  const Tracked pullup =
      measured ? measured->ohm
               : component_ohm(site, spec->pullup_ohm, 0.0, temperatures_of(site, {site.panels.at(panel_id).area}));
  Tracked behind = spanning(pullup, Tracked::fact(0.0));
  // A current source and a dark LED hold nothing: behind them may be any resistance.
  if (spec->refers_to.is(site::TerminalReference::current_source) ||
      spec->refers_to.is(site::TerminalReference::optocoupled)) {
    behind.range.high = infinite;
  }
  wiring.resistor(part_name(zone, "behind"), open, terminal.point, behind);
  return terminal;
}

}  // namespace zoneproof::electric
