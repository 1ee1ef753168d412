#include "site/inside_part.hpp"

namespace zoneproof::site {

void check_contact(const Site& site, const Ref& detector, const std::string& contact, const std::string& pointer,
                   Findings& findings) {
  const Detector* installed = find(site.detectors, detector);
  const Part* part = installed ? part_of(site, installed->part) : nullptr;
  if (part && part->detector) {
    check_inside(part->detector->contacts, contact, installed->part, "detector/contacts", pointer, findings);
  }
}

bool beyond(const Count& number, const Count& count) {
  return number.known() && count.known() && (*number.value < 1 || *number.value > *count.value);
}

void check_panel_input(const Site& site, const Ref& panel, const Count& input, std::optional<Medium> medium,
                       Findings& findings) {
  const Panel* installed = find(site.panels, panel);
  const PanelSpec* spec = panel_spec(site, panel.id);
  const bool wireless = medium && *medium != Medium::wired;  // its number is one of the panel, and of no terminal
  if (installed == nullptr || spec == nullptr || wireless || !beyond(input, spec->inputs)) return;
  const std::string& name = name_or_id(installed->name, panel.id);
  const std::string& part = installed->part.id;
  findings.add(medium ? say::site_no_such_panel_input(*input.value, name, part, *spec->inputs.value)
                      : say::site_panel_input_doubtful(*input.value, name, part, *spec->inputs.value),
               input.pointer);
}

}  // namespace zoneproof::site
