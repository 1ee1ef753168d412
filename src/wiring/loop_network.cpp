#include "wiring/loop_network.hpp"

#include <algorithm>
#include <functional>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"

namespace zoneproof::wiring {

using schematic::Branch;
using schematic::Symbol;
using site::Arrangement;
using site::ContactRole;
using site::LoopContact;

namespace {

using Wanted = std::function<bool(const LoopContact&)>;

bool alarm(const LoopContact& contact) { return contact.role.is(ContactRole::alarm); }

std::string role_words(ContactRole role) {
  switch (role) {
    case ContactRole::alarm: return text(say::wiring_role_alarm());
    case ContactRole::tamper: return text(say::wiring_role_tamper());
    case ContactRole::mask: return text(say::wiring_role_mask());
    case ContactRole::fault: break;
  }
  return text(say::wiring_role_fault());
}

class LoopNetwork {
 public:
  LoopNetwork(const site::Site& site, const std::string& owner, const Marks& marks)
      : site_(site), owner_(owner), marks_(marks), loop_(site.zones.at(owner).loop) {
    several_ = detectors_on_loop(loop_).size() > 1;
  }

  std::optional<Branch> run() {
    if (!loop_.arrangement.known()) return std::nullopt;
    add();
    if (parts_.empty()) return std::nullopt;
    return schematic::in_series(std::move(parts_));
  }

 private:
  void add() {
    const auto all = [](const LoopContact&) { return true; };
    const auto others = [](const LoopContact& contact) { return !alarm(contact); };
    switch (*loop_.arrangement.value) {
      case Arrangement::normally_closed: contacts(all); return;
      case Arrangement::single_eol_closed: contacts(all); return end_of_line();
      case Arrangement::normally_open:
      case Arrangement::single_eol_open: contacts(others); return across();
      case Arrangement::double_eol:
        tampers();
        group("alarm", loop_.alarm_ohm, alarm);
        return end_of_line();
      case Arrangement::triple_eol:
        tampers();
        group("alarm", loop_.alarm_ohm, alarm);
        group("mask", loop_.mask_ohm, [](const LoopContact& c) { return c.role.is(ContactRole::mask); });
        return end_of_line();
      case Arrangement::doubled_series:
        tampers();
        group("alarm", loop_.alarm_ohm, [this](const LoopContact& c) { return mine(c); });
        group("second", loop_.second_alarm_ohm, [this](const LoopContact& c) { return alarm(c) && !mine(c); });
        return end_of_line();
      case Arrangement::doubled_parallel: tampers(); return two_branches();
    }
  }

  bool mine(const LoopContact& contact) const {
    return alarm(contact) && (!contact.zone.known() || contact.zone.id == owner_);
  }

  Branch resistor(const std::string& what, const site::Value& value, const std::string& below) const {
    const std::string id = "resistor-" + owner_ + "-" + what;
    return schematic::element(Symbol::resistor, id, id, ohms(value), below);
  }

  /// A contact, under its own resistor where it has one.
  Branch contact(const std::string& id, const LoopContact& contact) const {
    const std::string role = contact.role.known() ? role_words(*contact.role.value) : text(say::wiring_unknown());
    const std::string says = several_ ? text(say::wiring_contact_of(marks_(contact.detector.id), role)) : role;
    Branch made = contact_element(site_, "contact-" + owner_ + "-" + id, contact.detector.id, contact.contact, says);
    if (!contact.shunt_ohm.known()) return made;
    return schematic::in_parallel({std::move(made), resistor(id + "-shunt", contact.shunt_ohm, {})});
  }

  void contacts(const Wanted& wanted) { append(parts_, wanted); }

  void append(std::vector<Branch>& to, const Wanted& wanted) const {
    for (const auto& [id, own] : loop_.contacts)
      if (wanted(own)) to.push_back(contact(id, own));
  }

  void tampers() {
    const bool masks_apart = loop_.arrangement.is(Arrangement::triple_eol);
    contacts([&](const LoopContact& c) { return !alarm(c) && !(masks_apart && c.role.is(ContactRole::mask)); });
  }

  /// Contacts with a resistor of their own stand apart; one resistor lies across all others.
  void group(const std::string& name, const site::Value& ohm, const Wanted& wanted) {
    contacts([&](const LoopContact& c) { return wanted(c) && c.shunt_ohm.known(); });
    std::vector<Branch> bare;
    append(bare, [&](const LoopContact& c) { return wanted(c) && !c.shunt_ohm.known(); });
    if (bare.empty()) return;
    Branch line = schematic::in_series(std::move(bare));
    if (ohm.none()) return parts_.push_back(std::move(line));
    parts_.push_back(schematic::in_parallel({std::move(line), resistor(name, ohm, {})}));
  }

  void end_of_line() {
    if (loop_.eol_ohm.none() || eol_at_panel(loop_) == EolAtPanel::in_series) return;
    parts_.push_back(resistor("eol", loop_.eol_ohm, text(say::wiring_eol())));
  }

  /// Open contacts, and the end-of-line resistor, between the two wires.
  void across() {
    std::vector<Branch> branches;
    append(branches, alarm);
    const bool eol = loop_.arrangement.is(Arrangement::single_eol_open) && !loop_.eol_ohm.none();
    if (eol && eol_at_panel(loop_) == EolAtPanel::no)
      branches.push_back(resistor("eol", loop_.eol_ohm, text(say::wiring_eol())));
    if (!branches.empty()) parts_.push_back(schematic::in_parallel(std::move(branches)));
  }

  void two_branches() {
    std::vector<Branch> first, second;
    if (!loop_.alarm_ohm.none()) first.push_back(resistor("alarm", loop_.alarm_ohm, {}));
    append(first, [this](const LoopContact& c) { return mine(c); });
    if (!loop_.second_alarm_ohm.none()) second.push_back(resistor("second", loop_.second_alarm_ohm, {}));
    append(second, [this](const LoopContact& c) { return alarm(c) && !mine(c); });
    std::vector<Branch> branches;
    for (std::vector<Branch>* parts : {&first, &second})
      if (!parts->empty()) branches.push_back(schematic::in_series(std::move(*parts)));
    if (!branches.empty()) parts_.push_back(schematic::in_parallel(std::move(branches)));
  }

  const site::Site& site_;
  const std::string& owner_;
  const Marks& marks_;
  const site::Loop& loop_;
  bool several_ = false;
  std::vector<Branch> parts_;
};

}  // namespace

std::vector<std::string> detectors_on_loop(const site::Loop& loop) {
  std::vector<std::string> ids;
  for (const auto& [id, contact] : loop.contacts)
    if (contact.detector.known()) ids.push_back(contact.detector.id);
  std::sort(ids.begin(), ids.end(), before);
  ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
  return ids;
}

EolAtPanel eol_at_panel(const site::Loop& loop) {
  if (!loop.eol_place.is(site::EolPlace::at_panel) || loop.eol_ohm.none() || !loop.arrangement.known())
    return EolAtPanel::no;
  switch (*loop.arrangement.value) {
    case Arrangement::single_eol_closed:
    case Arrangement::double_eol:
    case Arrangement::triple_eol:
    case Arrangement::doubled_series: return EolAtPanel::in_series;
    case Arrangement::single_eol_open: return EolAtPanel::across;
    default: return EolAtPanel::no;
  }
}

schematic::Branch contact_element(const site::Site& site, std::string id, const std::string& detector,
                                  const std::string& contact, const std::string& says) {
  const site::ContactSpec* spec = site::contact_spec(site, {detector, {}}, contact);
  const bool known = spec != nullptr && spec->at_rest.known();
  const bool closed = known && spec->at_rest.is(site::RestPosition::closed);
  const Symbol symbol = !known ? Symbol::contact : closed ? Symbol::break_contact : Symbol::make_contact;
  const std::string rest = text(!known ? say::wiring_unknown() : closed ? say::wiring_closed() : say::wiring_open());
  std::string title = site::called(site.detectors, detector) + ", " + contact;
  return schematic::element(symbol, std::move(id), std::move(title), {}, text(say::wiring_contact(says, rest)));
}

std::optional<schematic::Branch> network_of_loop(const site::Site& site, const std::string& owner, const Marks& marks) {
  return LoopNetwork(site, owner, marks).run();
}

}  // namespace zoneproof::wiring
