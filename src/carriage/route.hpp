#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Which data links a packet takes on the site.
namespace zoneproof::carriage {

/// One data link, passed in one direction.
struct Leg {
  std::string link;
  std::string from, to;  ///< the things at its ends
};

struct Route {
  std::vector<Leg> legs;         ///< from one end to the other, a link twice where a router sends it back the same way
  std::vector<chain::Gap> gaps;  ///< why the way is open: a link is missing, or there are two ways
  bool found() const { return gaps.empty(); }
};

/// The way along the data links between two devices, through switches, injectors and routers only. One way has to be
/// there and no other: of two, spanning trees (IEEE 802.1D) close one, and the file does not say which. Where there is
/// none, the gap names `/data_links`; where there are two, a link of which either may be closed. Cost: links times the
/// links of the way.
Route wired_way(const site::Site& site, const std::string& from, const std::string& to);

/// Addresses of a device, by id in the site.
std::vector<std::string> addresses_of(const site::Site& site, const std::string& device);

/// How one device reaches another by their addresses.
struct Reach {
  enum class How { same_network, by_router, no_way, open };
  How how = How::open;
  std::string router;            ///< by_router
  std::vector<chain::Gap> gaps;  ///< open
};

/// Devices of one network reach each other; else `from` has to have a gateway that is in a network of `to`.
Reach reach(const site::Site& site, const std::string& from, const std::string& to);

/// The way of a device's packets: wired straight, or to the router between their networks and from there on.
Route route(const site::Site& site, const std::string& from, const std::string& to);

}  // namespace zoneproof::carriage
