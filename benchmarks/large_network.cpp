#include "large_network.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace zoneproof::large {

namespace {

using site::Ref;
using std::string;

constexpr std::uint64_t kOwnDraws = 0x6e6574776f726bU;  ///< another sequence than that of the wiring
constexpr const char* kNetwork = "n_video";
constexpr const char* kRouter = "router";
constexpr unsigned kMostAddresses = 65'534;  // of a /16, without its first and last
constexpr unsigned kMostZonesOfCamera = 4;
constexpr unsigned kCamerasPerDeliveredPassword = 40;

constexpr double kPort_Mbps = 100.0, kSwitch_Mbps = 1'000.0, kHall_Mbps = 10'000.0;
/// The clip of a zone is 15 s of half a megabit a second at the most: a megabit each second for it, whatever the number
/// of zones, and as much as everybody else takes.
constexpr double kUplinkOfZone_Mbps = 1.0, kOthers_Mbps = 20.0, kUplinkOfSite_Mbps = 40.0;

site::Clock clock_by(site::ClockSource source) { return {word(source), number(0.5)}; }

}  // namespace

Network::Network(site::Site& site, unsigned zones, std::uint64_t seed)
    : site_(site), draw_(seed ^ kOwnDraws), uplink_Mbps_(kUplinkOfSite_Mbps + kUplinkOfZone_Mbps * zones) {
  if (zones > kMostAddresses / 2) throw std::invalid_argument("a site of so many zones has too few addresses");
}

void Network::add_group(const GroupPlace& place) {
  if (site_.routers.empty()) add_way_out(place);
  if (place.group == 0) {
    rate_fps_ = draw_.between(6, 10);
    key_frame_kB_ = draw_.between(30, 45);
  }
  add_switch(place);
  set_unit(place);
  for (unsigned first = 1; first <= place.zones;) {
    const unsigned last = std::min(place.zones, first + draw_.below(kMostZonesOfCamera));
    add_camera(place, first == last ? "input " + std::to_string(first)
                                    : "inputs " + std::to_string(first) + " to " + std::to_string(last));
    for (unsigned input = first; input <= last; ++input) add_channel(place, input, numbered("c", cameras_));
    first = last + 1;
  }
}

/// In the equipment room of the first group, on its backup.
void Network::add_way_out(const GroupPlace& place) {
  site::Network& network = site_.networks[kNetwork];
  network.name = "Video";
  network.range = "10.60.0.0/16";
  network.vlan = count(60);
  network.has_pool = flag(false);
  network.addresses_complete = flag(true);
  const Ref backup = ref(id_in_group(place.hall, place.group, "backup"));
  site::Router& router = site_.routers[kRouter];
  router.name = "Router";
  router.part = part("router_plain");
  router.area = ref(id_in_hall(place.hall, "equipment"));
  router.powered_by = backup;
  router.forwarded_complete = flag(true);
  add_address(kRouter, "none");
  site::Uplink& uplink = site_.uplinks["uplink"];
  uplink.name = "Fibre";
  uplink.router = ref(kRouter);
  uplink.up_Mbps = number(uplink_Mbps_);
  uplink.others_Mbps = number(kOthers_Mbps);
  uplink.delay_s = number(0.03);
  uplink.powered_by = backup;
  uplink.power_W = number(12);
  uplink.carrier_hold_h = number(24);
  site::MonitoringPath& path = site_.monitoring_paths["to_station"];
  path.name = "Clips to the station";
  path.uplink = ref("uplink");
  path.category = word(site::PathCategory::sp5);
  path.reporting_s = number(75);
  path.shown_s = number(1);
  path.port = count(443);
  path.outbound_permitted = flag(true);
}

void Network::add_switch(const GroupPlace& place) {
  const string id = id_in_group(place.hall, place.group, "switch"), equipment = id_in_hall(place.hall, "equipment");
  site::MainsBackup& backup = site_.backups[id_in_group(place.hall, place.group, "backup")];
  backup.name = "Mains backup, " + place.words;
  backup.part = part("ups_1800w_5200wh");
  backup.area = ref(equipment);
  backup.loads_complete = flag(true);
  site::NetworkSwitch& made = site_.switches[id];
  made.name = "Switch, " + place.words;
  made.part = part("switch_24_poe_370w");
  made.area = ref(equipment);
  made.powered_by = ref(id_in_group(place.hall, place.group, "backup"));
  made.powers_complete = flag(true);
  const string up = id_in_group(place.hall, place.group, "l_up"), name = "Link upward, " + place.words;
  if (place.group > 0) {
    const string above = id_in_group(place.hall, (place.group - 1) / 2, "switch");
    const Ref cable = data_cable(id_in_group(place.hall, place.group, "n_up"), "Data cable upward, " + place.words,
                                 draw_.between(10, 50), {equipment, id_in_hall(place.hall, "hall")});
    return link(up, name, above, id, cable, kSwitch_Mbps);
  }
  if (place.hall == 1) return link(up, name, kRouter, id, ref("none"), kHall_Mbps);
  const unsigned other = place.hall / 2;
  const Ref cable = data_cable(id_in_hall(place.hall, "n_up"), "Data cable of hall " + std::to_string(place.hall),
                               draw_.between(20, 50), {equipment, id_in_hall(other, "equipment")});
  link(up, name, id_in_group(other, 0, "switch"), id, cable, kHall_Mbps);
}

void Network::set_unit(const GroupPlace& place) {
  const string id = id_in_group(place.hall, place.group, "unit");
  site::Unit& unit = site_.units.at(id);
  unit.clip = {number(4), number(10), word(site::ClipSending::while_recording)};
  unit.clock = clock_by(site::ClockSource::station);
  unit.monitoring = ref("to_station");
  link(id_in_group(place.hall, place.group, "l_unit"), "Cord to the unit, " + place.words,
       id_in_group(place.hall, place.group, "switch"), id, ref("none"), kPort_Mbps);
  add_address(id, kRouter);
}

void Network::add_camera(const GroupPlace& place, const string& zones) {
  const unsigned n = ++cameras_;
  const string id = numbered("c", n);
  site::Camera& camera = site_.cameras[id];
  camera.name = "Camera " + std::to_string(n) + ", " + place.words + ", " + zones;
  camera.part = part("camera_2mp_2_8mm_ir20");
  camera.lens = ref("none");
  camera.focal_mm = number(2.8);
  camera.turn = word(site::PictureTurn::upright);
  camera.encoded_width_px = count(1920);
  camera.encoded_height_px = count(1080);
  camera.powered_by = ref(numbered("l", n));
  camera.clock = clock_by(site::ClockSource::time_server);
  set_stream(camera, id_in_group(place.hall, place.group, "unit"));
  camera.streams_complete = flag(true);
  const Ref cable = data_cable(numbered("n", n), "Data cable to camera " + std::to_string(n), draw_.between(8, 85),
                               {id_in_hall(place.hall, "equipment"), id_in_hall(place.hall, "hall")});
  link(numbered("l", n), "Link of camera " + std::to_string(n), id_in_group(place.hall, place.group, "switch"), id,
       cable, kPort_Mbps);
  site::Address& address = add_address(id, "none");
  address.own_password = flag(!draw_.one_in(kCamerasPerDeliveredPassword));
  address.services["setting_up"] = {word(site::Transport::tcp), count(443), flag(true),
                                    word(site::ReachedFrom::own_network)};
}

void Network::set_stream(site::Camera& camera, const string& unit) {
  site::Stream& stream = camera.streams["clip"];
  stream.to = ref(unit);
  stream.codec = word(site::Codec::h264);
  stream.rate_fps = number(rate_fps_);
  stream.rate_control = word(site::RateControl::capped);
  stream.rate_kbps = number(512);
  stream.key_frame_s = number(1);
  stream.key_frame_kB = number(key_frame_kB_);
  stream.frame_kB = number(10);
}

void Network::add_channel(const GroupPlace& place, unsigned number, const string& camera) {
  site::Channel& channel = site_.channels[id_in_group(place.hall, place.group, "ch" + std::to_string(number))];
  channel.unit = ref(id_in_group(place.hall, place.group, "unit"));
  channel.number = count(number);
  channel.camera = ref(camera);
  channel.recorder = ref("none");
  channel.live_only = flag(false);
  channel.stream = "clip";
}

Ref Network::data_cable(const string& id, const string& name, double length_m, const std::vector<string>& areas) {
  site::Cable& made = site_.cables[id];
  made.name = name;
  made.part = part("data_cat6");
  made.length_m = number(length_m);
  made.joints = count(2);
  for (const string& area : areas) made.areas.push_back(ref(area));
  return ref(id);
}

void Network::link(const string& id, const string& name, const string& a, const string& b, Ref cable,
                   double rate_Mbps) {
  site_.data_links[id] = {name, ref(a), ref(b), std::move(cable), number(rate_Mbps), none()};
}

site::Address& Network::add_address(const string& device, const char* gateway) {
  const unsigned n = ++addresses_;
  site::Address& address = site_.addresses["a_" + device];
  address.device = ref(device);
  address.network = ref(kNetwork);
  address.given_by = word(site::AddressBy::fixed);
  address.address = "10.60." + std::to_string(n / 256) + "." + std::to_string(n % 256);
  address.gateway = ref(gateway);
  address.own_password = flag(true);
  address.services_complete = flag(true);
  return address;
}

}  // namespace zoneproof::large
