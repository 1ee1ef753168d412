#pragma once
#include <set>
#include <string>

#include "site/findings.hpp"
#include "site/model.hpp"
#include "site/site_record.hpp"

/// What a file must hold to beyond its single fields. What is unknown never breaks a rule; only contradictions do.
namespace zoneproof::site {

/// Ids unique across the collections of the site, every reference to something that is there, in the right collection
/// and of the right kind, no circle of feeds. `skipped`: pointers of collections that were not read; what refers to
/// them is not judged.
void check_references(const Site& site, const std::set<std::string>& skipped, Findings& findings);

/// Rules between the fields of a site: parts, loops, doubled zones, triggers, outputs, rulebook entries.
void check_rules(const Site& site, Findings& findings);

/// Rules between the fields of parts alone, and of a rulebook alone.
void check_parts(const PartsFile& file, Findings& findings);
void check_rulebook(const RulebookFile& file, Findings& findings);

}  // namespace zoneproof::site
