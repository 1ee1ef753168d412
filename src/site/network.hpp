#pragma once
#include <string>

#include "site/value.hpp"

/// The data network of the site as the site file tells it: what carries the clips from the cameras to the operator, and
/// what keeps it powered. Plain data; the field definitions (definitions_network.cpp) say what each member means.
namespace zoneproof::site {

/// A supply of mains voltage with its own battery.
struct MainsBackup {
  std::string name;
  Ref part;  ///< of kind ups
  Ref area;
  Value hold_h;         ///< as it was measured with all its loads; unknown: computed from its part
  Flag loads_complete;  ///< all that hangs on it is in this file
};

struct NetworkSwitch {
  std::string name;
  Ref part;  ///< of kind network_switch
  Ref area;
  Ref powered_by;        ///< loads, backups; none: straight from the mains
  Flag powers_complete;  ///< all that takes power over its ports is in this file
};

/// Adds power to one data link; it is the far end of a link from the switch and the near end of one to its device.
struct Injector {
  std::string name;
  Ref part;  ///< of kind injector
  Ref area;
  Ref powered_by;  ///< loads, backups; none: straight from the mains
};

enum class Transport { tcp, udp };

/// A port that a router hands on from outside to a device: what this trade never needs.
struct Forwarding {
  Word<Transport> transport;
  Count outside_port, inside_port;
  Ref to;  ///< cameras, recorders, units
};

struct Router {
  std::string name;
  Ref part;  ///< of kind router
  Ref area;
  Ref powered_by;  ///< loads, backups; none: straight from the mains
  Map<Forwarding> forwarded;
  Flag forwarded_complete;
};

/// The way out of the site.
struct Uplink {
  std::string name;
  Ref router;
  Value up_Mbps;         ///< what goes up for sure: the least of the readings, at the busiest hour
  Value others_Mbps;     ///< the most that others on the site may send up at the same time; none: nobody else
  Value delay_s;         ///< one way to the station
  Ref powered_by;        ///< its modem: loads, backups, routers (built in); none: straight from the mains
  Value power_W;         ///< that its modem takes; none: it is built into what powers it
  Value carrier_hold_h;  ///< how long the carrier's side goes on when the mains of the quarter fail
};

/// One run of data cable between two ports.
struct DataLink {
  std::string name;
  Ref a, b;           ///< switches, injectors, routers, cameras, recorders, units
  Ref cable;          ///< none: a cord between neighbours
  Value rate_Mbps;    ///< as the two ends agreed on it
  Value others_Mbps;  ///< the most that anything else sends over it at the same time, either way; none: nothing else
};

/// One network in the sense of addresses.
struct Network {
  std::string name;
  std::string range;  ///< "192.168.10.0/24"
  Count vlan;         ///< 0: untagged
  std::string pool_first, pool_last;
  Flag has_pool;  ///< somebody gives out addresses in it
  Flag addresses_complete;
};

enum class AddressBy { fixed, reserved, pool };
/// From where a service can be reached, as it was tried.
enum class ReachedFrom { own_network, site, anywhere };

struct Service {
  Word<Transport> transport;
  Count port;
  Flag encrypted;
  Word<ReachedFrom> reached_from;
};

/// A device's address in a network.
struct Address {
  Ref device;  ///< cameras, recorders, units, switches, routers
  Ref network;
  Word<AddressBy> given_by;
  std::string address;  ///< of a device whose address the pool gives: left out
  Ref gateway;          ///< routers; none: it has no way out of its network
  Flag own_password;    ///< it no longer opens by what it was delivered with
  Map<Service> services;
  Flag services_complete;
};

/// EN 50136-1: how fast an alarm path reports that it is gone.
enum class PathCategory { sp1, sp2, sp3, sp4, sp5, sp6, dp1, dp2, dp3, dp4 };

/// How a unit's clips reach the operator.
struct MonitoringPath {
  std::string name;
  Ref uplink;
  Word<PathCategory> category;  ///< as agreed with the station
  Value reporting_s;            ///< as set up: longest time until the station shows that the path is gone
  Value shown_s;                ///< from the arrival of a picture at the station to the operator's screen
  Count port;                   ///< to which it goes out
  Flag outbound_permitted;      ///< the site's network lets it out, tried
};

enum class Codec { mjpeg, h264, h265 };
enum class RateControl { capped, free };

/// One stream that a camera sends all the time.
struct Stream {
  Ref to;  ///< units, recorders
  Word<Codec> codec;
  Value rate_fps;
  Word<RateControl> rate_control;
  Value rate_kbps;     ///< capped: the most over each key interval
  Value key_frame_s;   ///< between two key frames; none: every frame is one
  Value key_frame_kB;  ///< the largest
  Value frame_kB;      ///< the largest other; none: every frame is a key frame
};

enum class ClipSending { while_recording, when_complete };

/// What of a stream is kept and sent when a trigger comes.
struct Clip {
  Value pre_s, post_s;
  Word<ClipSending> sending;
};

enum class ClockSource { time_server, station, free_running };

struct Clock {
  Word<ClockSource> source;
  Value error_s;  ///< the most by which it is wrong, either way
};

}  // namespace zoneproof::site
