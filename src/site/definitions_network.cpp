// Every field of what carries the clips: key (the member's name), plausible range, meaning, references. See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

namespace {

constexpr double kMostMbps = 400'000.0;  // the fastest port of the trade, and more
constexpr double kMostKilobytes = 1e6;   // one picture
constexpr double kMostPicturesPerSecond = 1'000.0;
constexpr double kLongestHold = 10'000.0;  // hours
constexpr double kMostWatts = 1e6;
constexpr double kLastPort = 65'535.0;
const char* const kPoweredBy =
    "What it takes its power from: an entry of loads, where a supply of the alarm system feeds it, or a backup; none "
    "where it hangs straight on the mains.";

}  // namespace

template <>
const Record& record_of<MainsBackup>() {
  using Here = MainsBackup;
  static const Record record = {
      "MainsBackup",
      "A supply of mains voltage with its own battery.",
      {FIELD(name).means("What people call it."),
       FIELD(part).to_part({PartKind::ups}).means("The kind of backup, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."),
       FIELD(hold_h)
           .range(0, kLongestHold)
           .means(
               "How long it kept all that hangs on it running when that was tried; left out, it is computed from its "
               "part."),
       FIELD(loads_complete).means("Whether everything that hangs on it is in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<NetworkSwitch>() {
  using Here = NetworkSwitch;
  static const Record record = {
      "NetworkSwitch",
      "A network switch.",
      {FIELD(name).means("What people call it."),
       FIELD(part).to_part({PartKind::network_switch}).means("The kind of switch, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."),
       FIELD(powered_by).to({"loads", "backups"}).or_none().means(kPoweredBy),
       FIELD(powers_complete).means("Whether everything that takes power over its ports is in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Injector>() {
  using Here = Injector;
  static const Record record = {
      "Injector",
      "A box that adds power to one data link.",
      {FIELD(name).means("What people call it."),
       FIELD(part).to_part({PartKind::injector}).means("The kind of injector, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."),
       FIELD(powered_by).to({"loads", "backups"}).or_none().means(kPoweredBy)},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Forwarding>() {
  using Here = Forwarding;
  static const Record record = {
      "Forwarding",
      "A port that a router hands on from outside to a device of the site.",
      {FIELD(transport).means("Which kind of traffic."),
       FIELD(outside_port).range(1, kLastPort).means("The port that is open to the outside."),
       FIELD(inside_port).range(1, kLastPort).means("The port of the device that it leads to."),
       FIELD(to).to({"cameras", "recorders", "units"}).means("The device that it leads to.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Router>() {
  using Here = Router;
  static const Record record = {
      "Router",
      "What joins the networks of the site, and them with the outside.",
      {FIELD(name).means("What people call it."),
       FIELD(part).to_part({PartKind::router}).means("The kind of router, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."),
       FIELD(powered_by).to({"loads", "backups"}).or_none().means(kPoweredBy),
       FIELD(forwarded)
           .at_most(kMostServices)
           .means("Ports that it hands on from outside, as they were found. None is ever needed for clips."),
       FIELD(forwarded_complete).means("Whether somebody looked, and all of them are in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Uplink>() {
  using Here = Uplink;
  static const Record record = {
      "Uplink",
      "The way out of the site.",
      {FIELD(name).means("What people call it."), FIELD(router).to({"routers"}).means("The router that it hangs on."),
       FIELD(up_Mbps)
           .range(0, kMostMbps)
           .means("What goes up for sure: the least of several readings, at the busiest hour."),
       FIELD(others_Mbps)
           .range(0, kMostMbps)
           .or_none()
           .means(
               "The most that everybody else on the site may send up at the same time; none where it is for the alarm "
               "system alone."),
       FIELD(delay_s).range(0, kMostSeconds).means("Time that a packet takes to the station."),
       FIELD(powered_by)
           .to({"loads", "backups", "routers"})
           .or_none()
           .means("What its modem takes its power from; the router, where it is built into that; none where it hangs "
                  "straight on the mains."),
       FIELD(power_W)
           .range(0, kMostWatts)
           .or_none()
           .means("Power that its modem takes at the most; none where it is built into the router."),
       FIELD(carrier_hold_h)
           .range(0, kLongestHold)
           .means("How long the carrier's side goes on working when the mains around the site fail.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<DataLink>() {
  using Here = DataLink;
  static const std::vector<std::string_view> ends = {"switches", "injectors", "routers",
                                                     "cameras",  "recorders", "units"};
  static const Record record = {
      "DataLink",
      "A run of data cable between two ports.",
      {FIELD(name).means("What people call it, e.g. its label."),
       FIELD(a).to(ends).means("What one end is plugged into."),
       FIELD(b).to(ends).means("What the other end is plugged into."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable; none where a cord joins two things that stand side by side."),
       FIELD(rate_Mbps).range(0.1, kMostMbps).means("The rate that both ends agreed on."),
       FIELD(others_Mbps)
           .range(0, kMostMbps)
           .or_none()
           .means("The most that anything but the streams and clips of this file sends over it "
                  "at the same time, either way; none where nothing else does.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Network>() {
  using Here = Network;
  static const Record record = {
      "Network",
      "One network in the sense of addresses.",
      {FIELD(name).means("What people call it."),
       FIELD(range).as(TextForm::ip_network, 50).means("All its addresses, as first address and prefix length."),
       FIELD(vlan).range(0, 4094).means("Its VLAN number; 0 where it goes untagged."),
       FIELD(has_pool).means("Whether a server gives out addresses in it by DHCP."),
       FIELD(pool_first).as(TextForm::ip_address, 50).means("The first address that is given out."),
       FIELD(pool_last).as(TextForm::ip_address, 50).means("The last address that is given out."),
       FIELD(addresses_complete).means("Whether every device in it that has an address of its own is in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Service>() {
  using Here = Service;
  static const Record record = {
      "Service",
      "A port on which a device answers.",
      {FIELD(transport).means("Which kind of traffic."), FIELD(port).range(1, kLastPort).means("The port's number."),
       FIELD(encrypted).means("Whether what passes there is encrypted."),
       FIELD(reached_from)
           .means(
               "From where it can be reached, as it was tried: from its own network alone, from the whole site, from "
               "anywhere.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Address>() {
  using Here = Address;
  static const Record record = {
      "Address",
      "A device's address in a network.",
      {FIELD(device).to({"cameras", "recorders", "units", "switches", "routers"}).means("The device that has it."),
       FIELD(network).to({"networks"}).means("The network that it is in."),
       FIELD(given_by).means(
           "fixed: typed into the device; reserved: by DHCP, always the same; pool: by DHCP, whatever is free."),
       FIELD(address).as(TextForm::ip_address, 50).means("The address; left out where it comes from the pool."),
       FIELD(gateway)
           .to({"routers"})
           .or_none()
           .means("The router that it sends to what lies outside of its network; none where it has none."),
       FIELD(own_password)
           .means(
               "Whether it opens by a password of its own, not by the one it was delivered with. The password itself "
               "never stands in this file."),
       FIELD(services).at_most(kMostServices).means("Ports on which it answers, as they were found."),
       FIELD(services_complete).means("Whether somebody looked, and all of them are in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<MonitoringPath>() {
  using Here = MonitoringPath;
  static const Record record = {
      "MonitoringPath",
      "The way by which alarms and clips of a unit reach the operator.",
      {FIELD(name).means("What people call it."), FIELD(uplink).to({"uplinks"}).means("The uplink that it takes."),
       FIELD(category).means("The category of EN 50136-1 that was agreed with the station."),
       FIELD(reporting_s)
           .range(0, kLongestPoll)
           .means("As it is set up: longest time until the station shows that the path is gone."),
       FIELD(shown_s)
           .range(0, kMostSeconds)
           .means("Longest time from the arrival of a picture at the station to the operator's screen."),
       FIELD(port).range(1, kLastPort).means("The port at the station to which it goes out."),
       FIELD(outbound_permitted)
           .means("Whether the site's network lets it out to that port: agreed with whoever runs it, and tried.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Stream>() {
  using Here = Stream;
  static const Record record = {
      "Stream",
      "One stream that a camera sends all the time, as set in the camera.",
      {FIELD(to).to({"units", "recorders"}).means("Where it is sent to."), FIELD(codec).means("How it is encoded."),
       FIELD(rate_fps).range(0.01, kMostPicturesPerSecond).means("Pictures per second."),
       FIELD(rate_control).means("Whether the camera keeps to a highest bit rate or lets it run free."),
       FIELD(rate_kbps).range(0.1, 1e6).or_none().means(
           "The highest bit rate over a key interval; none where it runs free."),
       FIELD(key_frame_s)
           .range(0.001, kMostSeconds)
           .or_none()
           .means("Time between two key frames; none where every picture is one."),
       FIELD(key_frame_kB).range(0.01, kMostKilobytes).means("The largest key frame, as seen on a busy picture."),
       FIELD(frame_kB)
           .range(0.01, kMostKilobytes)
           .or_none()
           .means("The largest picture between key frames; none where every picture is a key frame.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Clip>() {
  using Here = Clip;
  static const Record record = {
      "Clip",
      "What is kept and sent when a trigger comes.",
      {FIELD(pre_s).range(0, kMostSeconds).means("How much of what was before the trigger is asked for."),
       FIELD(post_s).range(0, kMostSeconds).means("How long it goes on after the trigger."),
       FIELD(sending).means("Whether it is sent while it is recorded, or when it is complete.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Clock>() {
  using Here = Clock;
  static const Record record = {"Clock",
                                "How a device knows the time.",
                                {FIELD(source).means("Where it takes the time from."),
                                 FIELD(error_s).range(0, 1e8).means("The most by which it may be wrong, either way.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<SwitchSpec>() {
  using Here = SwitchSpec;
  static const Record record = {
      "SwitchSpec",
      "A kind of network switch.",
      {FIELD(ports).range(1, 1000).means("Number of its ports."),
       FIELD(poe_ports).range(0, 1000).means("Number of ports that give power."),
       FIELD(poe_class).range(0, 8).means("Highest class of IEEE 802.3 that one port gives power for."),
       FIELD(poe_min_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Lowest voltage at a port under load; none where no port gives power."),
       FIELD(poe_budget_W)
           .range(0, kMostWatts)
           .or_none()
           .means("Power that all ports together give; none where no port gives power."),
       FIELD(power_W).range(0, kMostWatts).means("Power that it takes itself, without what its ports give."),
       FIELD(efficiency_pct).range(1, 100).means("Share of the power taken for its ports that comes out of them."),
       FIELD(boot_s).range(0, kMostSeconds).means("Time from power to the first packet that it hands on."),
       FIELD(delay_s).range(0, 1).means("Longest time that it holds a packet when nothing else waits."),
       FIELD(forwarding_Mbps)
           .range(0.1, kMostMbps * 100)
           .or_none()
           .means("What it hands on in all; none where that is as much as its ports take.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<InjectorSpec>() {
  using Here = InjectorSpec;
  static const Record record = {
      "InjectorSpec",
      "A kind of box that adds power to one data link.",
      {FIELD(poe_class).range(0, 8).means("Highest class of IEEE 802.3 that it gives power for."),
       FIELD(poe_min_V).range(0, kMostVolts).means("Lowest voltage at its port under load."),
       FIELD(power_W).range(0, kMostWatts).means("Power that it takes itself, without what its port gives."),
       FIELD(efficiency_pct).range(1, 100).means("Share of the power taken for its port that comes out of it."),
       FIELD(boot_s).range(0, kMostSeconds).means("Time from power to power at its port.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<RouterSpec>() {
  using Here = RouterSpec;
  static const Record record = {
      "RouterSpec",
      "A kind of router.",
      {FIELD(power_W).range(0, kMostWatts).means("Power that it takes at the most."),
       FIELD(boot_s).range(0, kMostSeconds).means("Time from power to the first packet that it hands on."),
       FIELD(delay_s).range(0, 1).means("Longest time that it holds a packet when nothing else waits.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<RecorderSpec>() {
  using Here = RecorderSpec;
  static const Record record = {
      "RecorderSpec",
      "A kind of recorder.",
      {FIELD(channels).range(1, 10000).means("Number of cameras that it takes."),
       FIELD(power_W).range(0, kMostWatts).means("Power that it takes at the most."),
       FIELD(boot_s).range(0, kMostSeconds).means("Time from power to the first picture that it keeps."),
       FIELD(delay_s).range(0, kMostSeconds).means("Longest time by which a picture leaves it later than it came in.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<UpsSpec>() {
  using Here = UpsSpec;
  static const Record record = {
      "UpsSpec",
      "A kind of mains supply with its own battery.",
      {FIELD(energy_Wh).range(0, 1e7).means("Energy that it gives out from full when new."),
       FIELD(rating_W).range(0, kMostWatts).means("Power that it gives at the most."),
       FIELD(own_W).range(0, kMostWatts).means("Power that it takes from its battery for itself.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
