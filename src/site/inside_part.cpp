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

}  // namespace zoneproof::site
