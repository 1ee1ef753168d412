#pragma once
#include <string>

#include "site/findings.hpp"
#include "site/model.hpp"

/// Rules between the fields of a part and of a rulebook, wherever they stand: in a site, on the shelf, in a person's
/// own file. `pointer`: where the part or rulebook stands.
namespace zoneproof::site {

/// The object of its kind and no other; windows of a zone terminal that mean different things do not overlap; what a
/// unit draws is said once; a foldback current only where the protection folds back.
void check_part(const Part& part, const std::string& pointer, Findings& findings);

/// Every entry has a value or a table of points, one of both, the points in order.
void check_entries(const Rulebook& book, const std::string& pointer, Findings& findings);

}  // namespace zoneproof::site
