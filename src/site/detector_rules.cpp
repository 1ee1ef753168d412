#include "site/detector_rules.hpp"

#include "base/json_pointer.hpp"
#include "site/contradiction.hpp"
#include "site/inside_part.hpp"

namespace zoneproof::site {

void check_detector(const Site& site, const std::string& id, const Detector& detector, Findings& findings) {
  const DetectorSpec* spec = spec_of(site, detector.part, &Part::detector);
  if (spec == nullptr) return;
  const std::string pointer = pointer_child(pointer_child("/detectors", id), "programmed");
  for (const auto& [contact_id, program] : detector.programmed) {
    check_inside(spec->contacts, contact_id, detector.part, "detector/contacts", pointer_child(pointer, contact_id),
                 findings);
    const auto contact = spec->contacts.find(contact_id);
    if (contact == spec->contacts.end() || !contact->second.reports.known()) continue;
    const ContactReports reports = *contact->second.reports.value;
    const bool programmable = reports == ContactReports::programmable;
    const std::string other = "reports of contact " + contact_id;
    unless(programmable, program.reports, other, reports, findings);
    unless(programmable, program.zone, other, reports, findings);
  }
}

}  // namespace zoneproof::site
