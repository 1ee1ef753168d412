#include "site/output_kind.hpp"

#include "site/relations.hpp"

namespace zoneproof::site {

std::optional<OutputKind> output_kind(const Site& site, const Output& output) {
  const OutputSpec* spec = spec_of(site, output.part, &Part::output);
  return spec != nullptr ? spec->kind.value : std::nullopt;
}

bool is_relay(const Site& site, const Output& output) { return output_kind(site, output) == OutputKind::relay; }

bool is_relay(const Site& site, const Ref& output) {
  const auto found = site.outputs.find(output.id);
  return found != site.outputs.end() && is_relay(site, found->second);
}

bool has_way_back(const Site& site, const Trigger& trigger) {
  return trigger.source.is(TriggerSource::spare_contact) || trigger.source.is(TriggerSource::receiver_relay) ||
         is_relay(site, trigger.output);
}

}  // namespace zoneproof::site
