#pragma once
#include "site/findings.hpp"
#include "site/model.hpp"

namespace zoneproof::site {

/// Rules between the fields of the data network: links between two things, power over a link that ends at the camera
/// and begins at something that gives power, streams that are there, addresses and rates as their words say. Whether
/// the network works is no question of the file: src/carriage judges that. Cost: linear.
void check_network(const Site& site, Findings& findings);

}  // namespace zoneproof::site
