#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Cameras on the data network of which nobody says that all that they send is in the file. Each may send anything to
/// anywhere: what rests on the load of a link or the filling of a disk rests on these. Cost: cameras and data links.
std::vector<chain::Gap> undeclared_streams(const site::Site& site);

}  // namespace zoneproof::carriage
