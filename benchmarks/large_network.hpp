#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "large_values.hpp"
#include "site/model.hpp"

/// The data network of a large site: what carries the clips of its units, and what keeps that powered.
///
/// Each group (a panel or expander with its unit) has a switch of 24 ports with power, on a mains backup of its own; on
/// it hang the unit and a camera for each one to four zones, which streams to the unit. The switches make a tree, so
/// that there is one way and no other: two more below each in its hall, and the first of each hall below that of
/// another; the first of all is at the router. All addresses are in one network. The uplink grows with the zones. One
/// camera in 40 still opens by the password that it was delivered with, so that not everything is proven.
///
/// There is no plan: cameras are mounted nowhere, and what they see stays unanswered.
namespace zoneproof::large {

/// A unit and where it stands; its zones are on its inputs from 1 on.
struct GroupPlace {
  unsigned hall = 1, group = 0;  ///< as in id_in_group
  unsigned zones = 1;
  std::string words;
};

class Network {
 public:
  /// Draws of its own, so that the wiring of a seed does not hang on it. Throws std::invalid_argument where `zones` are
  /// more than its addresses last for.
  Network(site::Site& site, unsigned zones, std::uint64_t seed);

  /// A group whose unit the site holds; halls and groups in their order, from hall 1 and group 0 on.
  void add_group(const GroupPlace& place);

 private:
  void add_way_out(const GroupPlace& place);
  void add_switch(const GroupPlace& place);
  void set_unit(const GroupPlace& place);
  void add_camera(const GroupPlace& place, const std::string& zones);
  void set_stream(site::Camera& camera, const std::string& unit);
  void add_channel(const GroupPlace& place, unsigned number, const std::string& camera);

  site::Ref part(const char* id) { return part_of_shelf(site_, id); }
  site::Ref data_cable(const std::string& id, const std::string& name, double length_m,
                       const std::vector<std::string>& areas);
  void link(const std::string& id, const std::string& name, const std::string& a, const std::string& b, site::Ref cable,
            double rate_Mbps);
  site::Address& add_address(const std::string& device, const char* gateway);

  site::Site& site_;
  Draw draw_;
  double uplink_Mbps_;
  unsigned rate_fps_ = 0, key_frame_kB_ = 0;  ///< of all cameras of a hall: one hand has set them
  unsigned cameras_ = 0, addresses_ = 0;
};

}  // namespace zoneproof::large
