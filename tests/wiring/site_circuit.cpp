#include "wiring/site_circuit.hpp"

#include <algorithm>
#include <functional>
#include <numeric>

namespace zoneproof::wiring {

namespace {

using site::Arrangement;
using site::ContactRole;

/// Places by name; joining two makes them one.
class Places {
 public:
  std::string find(const std::string& place) {
    auto found = parent_.emplace(place, place).first;
    if (found->second == place) return place;
    return found->second = find(found->second);
  }
  void join(const std::string& a, const std::string& b) { parent_[find(a)] = find(b); }
  /// A terminal stands on the place of its own name.
  void terminal(const std::string& name) { things_.push_back({name, name}); }
  void symbol(const std::string& name, const std::string& a, const std::string& b) {
    things_.push_back({name, a});
    things_.push_back({name, b});
  }

  std::vector<Conductor> conductors() {
    std::map<std::string, Conductor> all;
    std::set<std::string> seen;
    for (const auto& [name, place] : things_) {
      const bool terminal = name == place;
      if (terminal && !seen.insert(name).second) continue;
      all[find(place)].insert(name);
    }
    std::vector<Conductor> found;
    for (auto& [place, conductor] : all) found.push_back(std::move(conductor));
    std::sort(found.begin(), found.end());
    return found;
  }

 private:
  std::map<std::string, std::string> parent_;
  std::vector<std::pair<std::string, std::string>> things_;
};

class Circuit {
 public:
  explicit Circuit(const site::Site& site) : site_(site) {}

  std::vector<Conductor> run() {
    for (const auto& [id, zone] : site_.zones)
      if (zone.loop.arrangement.known() && !zone.doubled_with.known()) loop(id, zone);
    for (const auto& [id, detector] : site_.detectors) feed(id, detector.feed);
    for (const auto& [id, panel] : site_.panels) feed(id, panel.feed);
    for (const auto& [id, load] : site_.loads) feed(id, load.feed);
    for (const auto& [id, junction] : site_.junctions) feed(id, junction.feed);
    for (const auto& [id, battery] : site_.batteries) cell(id, battery.supply.id);
    for (const auto& [id, bond] : site_.bonds) {
      places_.terminal(bond.a.id + "-minus");
      places_.terminal(bond.b.id + "-minus");
      places_.join(bond.a.id + "-minus", bond.b.id + "-minus");
    }
    for (const auto& [id, trigger] : site_.triggers) this->trigger(id, trigger);
    for (const auto& [id, unit] : site_.units) this->unit(id, unit);
    return places_.conductors();
  }

 private:
  using Wanted = std::function<bool(const site::LoopContact&)>;

  static std::string number(const site::Count& count) { return std::to_string(*count.value); }
  static bool alarm(const site::LoopContact& c) { return c.role.is(ContactRole::alarm); }
  std::string fresh() { return "." + std::to_string(++places_made_); }

  void pole(const std::string& terminal, const site::Feed& feed, const char* which) {
    const std::string at = feed.from.id + (feed.output.empty() ? "" : "-" + feed.output) + "-" + which;
    places_.terminal(terminal);
    places_.terminal(at);
    places_.join(terminal, at);
  }
  void feed(const std::string& id, const site::Feed& feed) {
    if (!feed.from.known()) return;
    pole(id + "-minus", feed, "minus");
    if (feed.fuse_A.none()) return pole(id + "-plus", feed, "plus");
    const std::string at = feed.from.id + (feed.output.empty() ? "" : "-" + feed.output) + "-plus";
    places_.terminal(id + "-plus");
    places_.terminal(at);
    places_.symbol("fuse-" + id, id + "-plus", at);
  }

  void cell(const std::string& id, const std::string& supply) {
    const std::string plus = supply + "-battery-plus", minus = supply + "-battery-minus";
    places_.terminal(plus);
    places_.terminal(minus);
    places_.symbol("cell-" + id, plus, minus);
  }

  // --- loops: "at" walks from the terminal to the common, as the drawings of loops.md do from left to right ---------
  void loop(const std::string& id, const site::Zone& zone) {
    owner_ = id;
    loop_ = &zone.loop;
    const std::string panel = zone.panel.id, in = panel + "-in" + number(zone.input);
    std::string common = panel + "-common" + number(zone.input);
    places_.terminal(in);
    if (zone.loop.shared_return.known()) {
      const std::string lead = leader(zone.loop.shared_return.id);
      const site::Zone& leading = site_.zones.at(lead);
      common = leading.panel.id + "-common" + number(leading.input);
    }
    places_.terminal(common);
    std::string at = in;
    const bool series_eol =
        zone.loop.arrangement.is(Arrangement::single_eol_closed) || zone.loop.arrangement.is(Arrangement::double_eol) ||
        zone.loop.arrangement.is(Arrangement::triple_eol) || zone.loop.arrangement.is(Arrangement::doubled_series);
    const bool near = zone.loop.eol_place.is(site::EolPlace::at_panel);
    if (series_eol && near) at = in_series("resistor-" + id + "-eol", at);
    at = middle(at, common);
    if (series_eol && !near) at = in_series("resistor-" + id + "-eol", at);
    places_.join(at, common);
  }

  std::string leader(const std::string& shared) const {
    std::string first;
    for (const auto& [id, zone] : site_.zones) {
      if (zone.loop.shared_return.id != shared) continue;
      if (zone.loop.cable.id == site_.shared_returns.at(shared).cable.id) return id;
      if (first.empty()) first = id;
    }
    return first;
  }

  std::string in_series(const std::string& symbol, const std::string& at) {
    const std::string next = fresh();
    places_.symbol(symbol, at, next);
    return next;
  }

  std::string contact(const std::string& id, const site::LoopContact& own, const std::string& at) {
    const std::string next = in_series("contact-" + owner_ + "-" + id, at);
    if (own.shunt_ohm.known()) places_.symbol("resistor-" + owner_ + "-" + id + "-shunt", at, next);
    return next;
  }

  std::string all(std::string at, const Wanted& wanted) {
    for (const auto& [id, own] : loop_->contacts)
      if (wanted(own)) at = contact(id, own, at);
    return at;
  }

  std::string group(const std::string& name, std::string at, const Wanted& wanted) {
    at = all(at, [&](const site::LoopContact& c) { return wanted(c) && c.shunt_ohm.known(); });
    const std::string end = all(at, [&](const site::LoopContact& c) { return wanted(c) && !c.shunt_ohm.known(); });
    if (end != at) places_.symbol("resistor-" + owner_ + "-" + name, at, end);
    return end;
  }

  void across(const std::string& at, const std::string& common) {
    for (const auto& [id, own] : loop_->contacts) {
      if (!alarm(own)) continue;
      const std::string end = contact(id, own, at);
      places_.join(end, common);
    }
  }

  std::string middle(std::string at, const std::string& common) {
    const auto other = [](const site::LoopContact& c) { return !alarm(c); };
    const auto mine = [this](const site::LoopContact& c) {
      return alarm(c) && (!c.zone.known() || c.zone.id == owner_);
    };
    const auto second = [mine](const site::LoopContact& c) { return alarm(c) && !mine(c); };
    const auto mask = [](const site::LoopContact& c) { return c.role.is(ContactRole::mask); };
    switch (*loop_->arrangement.value) {
      case Arrangement::normally_closed:
      case Arrangement::single_eol_closed: return all(at, [](const site::LoopContact&) { return true; });
      case Arrangement::double_eol: return group("alarm", all(at, other), alarm);
      case Arrangement::triple_eol:
        return group("mask", group("alarm", all(at, [&](const auto& c) { return other(c) && !mask(c); }), alarm), mask);
      case Arrangement::doubled_series: return group("second", group("alarm", all(at, other), mine), second);
      case Arrangement::normally_open:
        at = all(at, other);
        across(at, common);
        return common;
      case Arrangement::single_eol_open: {
        const std::string start = at;
        at = all(at, other);
        across(at, common);
        const bool near = loop_->eol_place.is(site::EolPlace::at_panel);
        places_.symbol("resistor-" + owner_ + "-eol", near ? start : at, common);
        return common;
      }
      case Arrangement::doubled_parallel:
        at = all(at, other);
        places_.join(all(in_series("resistor-" + owner_ + "-alarm", at), mine), common);
        places_.join(all(in_series("resistor-" + owner_ + "-second", at), second), common);
        return common;
    }
    return at;
  }

  // --- triggers and arming ----------------------------------------------------------------------------------------
  void fitted(const std::string& id, const std::string& unit, const std::string& input, const site::Value& up,
              const site::Value& down) {
    if (up.known()) places_.symbol("resistor-" + id + "-pullup", input, unit + "-plus");
    if (down.known()) places_.symbol("resistor-" + id + "-pulldown", input, unit + "-minus");
  }

  void trigger(const std::string& id, const site::Trigger& trigger) {
    using site::TriggerSource;
    if (!trigger.source.known() || trigger.source.is(TriggerSource::camera_analytics) ||
        trigger.source.is(TriggerSource::live_view))
      return;
    const std::string unit = trigger.unit.id, input = unit + "-in" + number(trigger.input);
    places_.terminal(input);
    std::string at = fresh();
    if (trigger.series_ohm.known())
      places_.symbol("resistor-trigger-" + id + "-series", at, input);
    else
      places_.join(at, input);
    fitted("trigger-" + id, unit, input, trigger.pullup_ohm, trigger.pulldown_ohm);
    const std::string pole = unit + (trigger.contact_to.is(site::Level::high) ? "-plus" : "-minus");
    if (trigger.source.is(TriggerSource::loop_tap)) {
      const std::string tap = trigger.at_panel.id + "-in" + number(trigger.at_input);
      places_.terminal(tap);
      places_.join(at, tap);
    } else if (trigger.source.is(TriggerSource::following_output)) {
      output(trigger.output.id, at, pole);
    } else {
      places_.symbol("contact-" + id, at, pole);
      places_.terminal(pole);
    }
  }

  /// A transistor has its other side inside the panel; of a relay somebody wires it to `pole`.
  void output(const std::string& id, const std::string& at, const std::string& pole) {
    places_.terminal(id + "-out");
    places_.join(at, id + "-out");
    const site::Part& part = site_.parts.at(site_.outputs.at(id).part.id);
    if (!part.output->kind.is(site::OutputKind::relay)) return;
    places_.terminal(id + "-other");
    places_.terminal(pole);
    places_.join(id + "-other", pole);
  }

  void unit(const std::string& id, const site::Unit& unit) {
    feed(id, unit.feed);
    const site::Arming& arming = unit.arming;
    if (!arming.output.known()) return;
    const std::string input = id + "-arming";
    places_.terminal(input);
    const bool up = arming.pullup_to.is(site::Level::high);
    fitted("arming-" + id, id, input, up ? arming.pullup_ohm : site::Value{}, up ? site::Value{} : arming.pullup_ohm);
    const std::string panel = site_.outputs.at(arming.output.id).panel.id;
    output(arming.output.id, input, panel + (up ? "-minus" : "-plus"));
  }

  const site::Site& site_;
  Places places_;
  int places_made_ = 0;
  std::string owner_;
  const site::Loop* loop_ = nullptr;
};

}  // namespace

std::vector<Conductor> conductors_of(const site::Site& site) { return Circuit(site).run(); }

}  // namespace zoneproof::wiring
