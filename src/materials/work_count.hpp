#pragma once
#include <map>
#include <string>
#include <vector>

#include "materials/parts_count.hpp"

/// How often each task of the costs file is to be done for what is new on a site.
namespace zoneproof::materials {

/// How often, as far as it is known, and what is missing.
struct Times {
  double known = 0.0;
  std::vector<Message> lacks;
};

/// By task; `fresh` are the pieces that were not there before, `cables` the rows of the site.
std::map<std::string, Times> work_for(const site::Site& site, const site::Site* before, const std::vector<Piece>& fresh,
                                      const std::vector<CableRow>& cables);

}  // namespace zoneproof::materials
