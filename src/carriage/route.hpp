#pragma once
#include <cstddef>
#include <map>
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

/// How one device reaches another by their addresses.
struct Reach {
  enum class How { same_network, by_router, no_way, open };
  How how = How::open;
  std::string router;            ///< by_router
  std::vector<chain::Gap> gaps;  ///< open
};

/// The ways of a site, for all who ask for many of them: links and addresses are put in order once. The site has to
/// stay as it is. Cost of making one: links and addresses, times the logarithm of them.
class Routes {
 public:
  explicit Routes(const site::Site& site);

  /// The way along the data links between two devices, through switches, injectors and routers only. One way has to be
  /// there and no other: of two, spanning trees (IEEE 802.1D) close one, and the file does not say which. Where there
  /// is none, the gap names `/data_links`; where there are two, a link of which either may be closed. Cost: links
  /// between switches, injectors and routers, times the links of the way.
  Route wired_way(const std::string& from, const std::string& to) const;

  /// Addresses of a device, by id in the site; of one without an id, those that do not name their device.
  const std::vector<std::string>& addresses_of(const std::string& device) const;

  /// Devices of one network reach each other; else `from` has to have a gateway that is in a network of `to`.
  Reach reach(const std::string& from, const std::string& to) const;

  /// The way of a device's packets: wired straight, or to the router between their networks and from there on.
  Route route(const std::string& from, const std::string& to) const;

 private:
  using Link = site::Map<site::DataLink>::const_iterator;
  /// A link as it leaves a thing.
  struct Way {
    Link link;
    std::size_t to;
  };
  struct Thing {
    std::string id;
    std::vector<Way> leaving;  ///< to all that is linked, in the order of the links' ids
    std::vector<Way> onward;   ///< those to what passes on
  };

  std::size_t number_of(const std::string& id);
  std::vector<Way> shortest(std::size_t from, std::size_t to, Link without) const;

  const site::Site& site_;
  std::map<std::string, std::size_t> numbers_;
  std::vector<Thing> things_;  ///< first those that pass on what comes over one of their links
  std::size_t passing_ = 0;    ///< how many those are
  std::map<std::string, std::vector<std::string>> addresses_;  ///< by device
};

}  // namespace zoneproof::carriage
