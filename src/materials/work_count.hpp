#pragma once
#include <map>
#include <string>
#include <vector>

#include "materials/parts_count.hpp"

/// How often each task of the costs file is to be done for what is new on a site.
namespace zoneproof::materials {

/// By task; `fresh` are the pieces that were not there before, `cables` the rows of the site. Metres that are not known
/// are left out: the price says so.
std::map<std::string, double> work_for(const site::Site& site, const site::Site* before,
                                       const std::vector<Piece>& fresh, const std::vector<CableRow>& cables);

}  // namespace zoneproof::materials
