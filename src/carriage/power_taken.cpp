#include "carriage/power_taken.hpp"

#include "carriage/poe_link.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

using electric::Tracked;

namespace {

Tracked spec_power(const site::Ref& part, const site::Value* power_W) {
  return power_W != nullptr ? electric::tracked(*power_W, 0.0) : anything(part.pointer);
}

class Taken {
 public:
  Taken(const site::Site& site, const std::string& giver) : site_(site), giver_(giver) {}

  std::vector<Term> all() {
    simple(site_.cameras, &site::Part::camera);
    simple(site_.recorders, &site::Part::recorder);
    simple(site_.routers, &site::Part::router);
    for (const auto& entry : site_.uplinks) modem(entry.second);
    for (const auto& [id, own] : site_.switches)
      if (own.powered_by.id == giver_) of_switch(id, own);
    for (const auto& [id, injector] : site_.injectors)
      if (injector.powered_by.id == giver_)
        through(id, injector.part, site::spec_of(site_, injector.part, &site::Part::injector));
    return terms_;
  }

 private:
  void add(Tracked watt) { terms_.push_back({std::move(watt), true, "W"}); }

  template <class Device, class Spec>
  void simple(const site::Map<Device>& devices, std::optional<Spec> site::Part::*kind) {
    for (const auto& [id, device] : devices) {
      if (device.powered_by.id != giver_) continue;
      const Spec* spec = site::spec_of(site_, device.part, kind);
      add(spec_power(device.part, spec != nullptr ? &spec->power_W : nullptr));
    }
  }

  /// One of its own takes its power from the giver or from a router that hangs on it, as one at its socket does; only
  /// one that is built into a router takes none beside it.
  void modem(const site::Uplink& uplink) {
    const auto router = site_.routers.find(uplink.powered_by.id);
    if (router != site_.routers.end() && router->second.powered_by.id == giver_)
      add(electric::tracked(uplink.power_W, 0.0));
    if (uplink.powered_by.id != giver_) return;
    const bool built_in = uplink.power_W.none();
    add(built_in ? anything(uplink.power_W.pointer, "undecided") : electric::tracked(uplink.power_W, 0.0));
  }

  void of_switch(const std::string& id, const site::NetworkSwitch& own) {
    const site::SwitchSpec* spec = site::spec_of(site_, own.part, &site::Part::network_switch);
    through(id, own.part, spec);
    const bool gives_none = spec != nullptr && spec->poe_ports.value == 0;
    if (!gives_none && !own.powers_complete.yes()) add(anything(own.powers_complete.pointer, "incomplete_list"));
  }

  /// A box with what its ports give.
  template <class Spec>
  void through(const std::string& id, const site::Ref& part, const Spec* spec) {
    add(spec_power(part, spec != nullptr ? &spec->power_W : nullptr));
    if (spec == nullptr) return;
    for (const PoweredCamera& camera : powered_by_giver(site_, id))
      add(power_at_port(site_, camera) / scaled(electric::tracked(spec->efficiency_pct, 100.0), 0.01));
  }

  const site::Site& site_;
  const std::string& giver_;
  std::vector<Term> terms_;
};

template <class Device>
const site::Ref* powered_in(const site::Map<Device>& devices, const std::string& id) {
  const auto found = devices.find(id);
  return found == devices.end() ? nullptr : &found->second.powered_by;
}

}  // namespace

const site::Ref* powered_by(const site::Site& site, const std::string& device) {
  for (const site::Ref* own :
       {powered_in(site.cameras, device), powered_in(site.recorders, device), powered_in(site.switches, device),
        powered_in(site.injectors, device), powered_in(site.routers, device), powered_in(site.uplinks, device)})
    if (own != nullptr) return own;
  return nullptr;
}

std::vector<Term> power_taken_from(const site::Site& site, const std::string& giver) {
  return Taken(site, giver).all();
}

}  // namespace zoneproof::carriage
