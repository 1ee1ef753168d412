// Any bytes as a data network: switches, routers, cameras, a recorder and a unit, with links between anything and
// anything, addresses, streams, clips and ways out, each number there, not there or "none". No crash; what is proven
// rests on nothing that is missing; and no clip of a storm comes later than its bound.
#include <algorithm>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>

#include "carriage/answers.hpp"
#include "carriage/storm.hpp"
#include "fuzz/held.hpp"
#include "timeline/answers.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;
using Json = nlohmann::ordered_json;

constexpr const char* kDevices[] = {"s1", "s2", "r1", "i1", "c1", "c2", "rec", "u"};
constexpr std::size_t kMostBytes = 320;

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}
  unsigned next() {
    if (left_ == 0) return 0;
    --left_;
    return *data_++;
  }
  bool yes() { return (next() & 1U) != 0; }
  std::string device() { return kDevices[next() % std::size(kDevices)]; }

  /// A number of the list, a range about it, unknown or "none".
  void number(Json& to, const char* key, std::initializer_list<double> from, bool may_be_none = false) {
    const unsigned kind = next();
    const double value = *(from.begin() + (kind >> 3U) % from.size());
    if ((kind & 7U) == 0) return;
    if ((kind & 7U) == 1 && may_be_none) {
      to[key] = "none";
    } else if ((kind & 7U) == 2) {
      to[key] = {{"value", value}, {"tolerance_pct", 20}};
    } else {
      to[key] = value;
    }
  }
  void word(Json& to, const char* key, std::initializer_list<const char*> from) {
    const unsigned kind = next();
    if (kind % 8 != 0) to[key] = *(from.begin() + (kind >> 3U) % from.size());
  }
  void flag(Json& to, const char* key) {
    const unsigned kind = next();
    if (kind % 4 != 0) to[key] = kind % 4 != 1;
  }

 private:
  const std::uint8_t* data_;
  std::size_t left_;
};

Json part(const char* kind) {
  return {{"kind", kind}, {"origin", "data_sheet"}, {"name", kind}, {"source", "made up"}, {kind, Json::object()}};
}

Json parts(Bytes& bytes) {
  Json all;
  Json& giver = (all["giver"] = part("network_switch"))["network_switch"];
  bytes.number(giver, "ports", {2, 8});
  bytes.number(giver, "poe_ports", {0, 4});
  bytes.number(giver, "poe_class", {0, 3, 4, 8});
  bytes.number(giver, "poe_min_V", {44, 50, 1}, true);
  bytes.number(giver, "poe_budget_W", {0, 15, 60}, true);
  bytes.number(giver, "power_W", {5, 0});
  bytes.number(giver, "efficiency_pct", {80, 100});
  bytes.number(giver, "delay_s", {0, 0.001, 1});
  bytes.number(giver, "forwarding_Mbps", {0.1, 1000}, true);
  Json& adder = (all["adder"] = part("injector"))["injector"];
  bytes.number(adder, "poe_class", {3, 8});
  bytes.number(adder, "poe_min_V", {44, 52});
  Json& eye = (all["eye"] = part("camera"))["camera"];
  bytes.number(eye, "poe_class", {0, 3, 8}, true);
  bytes.number(eye, "power_W", {6.5, 0, 71});
  bytes.number(eye, "delay_s", {0.3, 0});
  Json& gate = (all["gate"] = part("router"))["router"];
  bytes.number(gate, "delay_s", {0, 0.01});
  Json& keeper = (all["keeper"] = part("recorder"))["recorder"];
  bytes.number(keeper, "delay_s", {0, 2});
  bytes.number(keeper, "channels", {1, 8});
  all["box"] = part("unit");
  Json& ups = (all["ups"] = part("ups"))["ups"];
  bytes.number(ups, "energy_Wh", {1400, 1});
  bytes.number(ups, "rating_W", {900, 1});
  bytes.number(ups, "own_W", {15, 0});
  Json& pairs = (all["pairs"] = part("cable"))["cable"];
  bytes.number(pairs, "cores", {8, 2});
  bytes.number(pairs, "resistance_ohm_per_km", {90, 5000});
  return all;
}

Json streams(Bytes& bytes) {
  Json stream;
  bytes.word(stream, "to", {"u", "rec"});
  bytes.word(stream, "codec", {"h264", "mjpeg"});
  bytes.number(stream, "rate_fps", {10, 0.01, 60});
  bytes.word(stream, "rate_control", {"capped", "free"});
  if (stream.value("rate_control", "") != "free") bytes.number(stream, "rate_kbps", {400, 100'000, 0.1});
  bytes.number(stream, "key_frame_s", {1, 0.001, 40}, true);
  bytes.number(stream, "key_frame_kB", {30, 0.01, 5'000});
  if (stream.contains("key_frame_s") && stream["key_frame_s"] != "none") bytes.number(stream, "frame_kB", {8, 0.01});
  return {{"clip", stream}};
}

void add_devices(Bytes& bytes, Json& file) {
  for (const char* id : {"s1", "s2"})
    file["switches"][id] = {{"name", id}, {"part", "giver"}, {"powered_by", bytes.yes() ? "ups1" : "none"}};
  bytes.flag(file["switches"]["s1"], "powers_complete");
  file["routers"]["r1"] = {{"name", "r1"}, {"part", "gate"}, {"powered_by", "none"}};
  bytes.flag(file["routers"]["r1"], "forwarded_complete");
  file["injectors"]["i1"] = {{"name", "i1"}, {"part", "adder"}, {"powered_by", "ups1"}};
  file["backups"]["ups1"] = {{"name", "ups1"}, {"part", "ups"}};
  bytes.flag(file["backups"]["ups1"], "loads_complete");
  file["recorders"]["rec"] = {{"name", "rec"}, {"part", "keeper"}, {"powered_by", "none"}};
  Json& recorder = file["recorders"]["rec"];
  bytes.number(recorder, "disk_GB", {3'000, 1});
  bytes.number(recorder, "keep_d", {30, 3'000}, true);
  Json& unit = file["units"]["u"] = {{"name", "u"}, {"part", "box"}, {"monitoring", "path"}};
  for (Json* keeps : {&recorder, &unit}) {
    bytes.number((*keeps)["clip"], "pre_s", {0, 5, 100});
    bytes.number((*keeps)["clip"], "post_s", {0, 10});
    bytes.word((*keeps)["clip"], "sending", {"while_recording", "when_complete"});
    bytes.word((*keeps)["clock"], "source", {"station", "free_running"});
    bytes.number((*keeps)["clock"], "error_s", {0.5, 100});
  }
  for (const char* id : {"c1", "c2"}) {
    Json camera = {{"name", id}, {"part", "eye"}};
    if (bytes.yes()) camera["powered_by"] = bytes.yes() ? std::string("l_") + id : "none";
    camera["streams"] = streams(bytes);
    bytes.flag(camera, "streams_complete");
    file["cameras"][id] = camera;
  }
}

void add_ways(Bytes& bytes, Json& file) {
  for (const char* camera : {"c1", "c2"}) {
    Json link = {{"name", "l"}, {"a", bytes.yes() ? "s1" : "i1"}, {"b", camera}, {"cable", bytes.yes() ? "k" : "none"}};
    bytes.number(link, "rate_Mbps", {100, 0.1, 10'000});
    bytes.number(link, "others_Mbps", {0, 99}, true);
    file["data_links"][std::string("l_") + camera] = link;
  }
  const unsigned links = bytes.next() % 10;
  for (unsigned i = 0; i < links; ++i) {
    Json link = {{"name", "l"}, {"a", bytes.device()}, {"b", bytes.device()}, {"cable", "none"}};
    if (link["a"] == link["b"]) continue;
    if (bytes.yes()) link["cable"] = "k";
    bytes.number(link, "rate_Mbps", {100, 0.1, 10'000});
    bytes.number(link, "others_Mbps", {0, 99}, true);
    file["data_links"]["l" + std::to_string(i)] = link;
  }
  file["cables"]["k"] = {{"name", "k"}, {"part", "pairs"}};
  bytes.number(file["cables"]["k"], "length_m", {50, 0, 120});
  Json line = {{"name", "line"}, {"router", "r1"}};
  bytes.number(line, "up_Mbps", {2, 0, 100});
  bytes.number(line, "others_Mbps", {0.5, 3}, true);
  bytes.number(line, "delay_s", {0.05, 10});
  bytes.number(line, "carrier_hold_h", {0, 24});
  file["uplinks"]["line"] = line;
  Json path = {{"name", "path"}, {"uplink", "line"}};
  bytes.word(path, "category", {"sp1", "sp5", "dp4"});
  bytes.number(path, "reporting_s", {75, 1e6});
  bytes.number(path, "shown_s", {1, 100});
  bytes.flag(path, "outbound_permitted");
  file["monitoring_paths"]["path"] = path;
}

void add_addresses(Bytes& bytes, Json& file) {
  constexpr const char* ranges[] = {"192.168.20.0/24", "192.168.20.128/25", "2001:db8::/64", "10.0.0.0/31"};
  constexpr const char* addresses[] = {"192.168.20.10", "192.168.20.200", "2001:db8::10", "10.0.0.1", "8.8.8.8"};
  for (const char* id : {"n1", "n2"}) {
    Json network = {{"name", id}, {"range", ranges[bytes.next() % 4]}, {"vlan", 0}};
    bytes.flag(network, "addresses_complete");
    file["networks"][id] = network;
  }
  const unsigned count = bytes.next() % 10;
  for (unsigned i = 0; i < count; ++i) {
    Json address = {{"device", bytes.device()}, {"network", bytes.yes() ? "n1" : "n2"}};
    if (address["device"] == "i1") continue;  // it has none
    bytes.word(address, "given_by", {"fixed", "reserved", "pool"});
    if (address.value("given_by", "") != "pool" && bytes.yes()) address["address"] = addresses[bytes.next() % 5];
    if (bytes.yes()) address["gateway"] = bytes.yes() ? "r1" : "none";
    bytes.flag(address, "own_password");
    bytes.flag(address, "services_complete");
    file["addresses"]["a" + std::to_string(i)] = address;
  }
}

Json composed(Bytes& bytes) {
  Json file = {{"format", "zoneproof-site"}, {"version", 3}, {"name", "Any network"}, {"origin", "measured"}};
  file["parts"] = parts(bytes);
  add_devices(bytes, file);
  add_ways(bytes, file);
  add_addresses(bytes, file);
  file["zones"]["z"] = {{"number", 1}, {"name", "z"}, {"type", "intruder"}};
  file["triggers"]["t"] = {{"zone", "z"}, {"source", "camera_analytics"}, {"unit", "u"}, {"channel", 1}};
  for (const int number : {1, 2}) {
    Json channel = {{"unit", "u"}, {"number", number}, {"camera", bytes.yes() ? "c1" : "c2"}, {"stream", "clip"}};
    if (bytes.yes()) channel["recorder"] = bytes.yes() ? "rec" : "none";
    bytes.flag(channel, "live_only");
    file["channels"]["ch" + std::to_string(number)] = channel;
  }
  return file;
}

void hold_evidence(const std::vector<chain::Evidence>& all) {
  for (const chain::Evidence& one : all) {
    hold(one.says.has_value() && !text(*one.says).empty(), "evidence has words");
    if (one.verdict == chain::Verdict::proven || one.verdict == chain::Verdict::thin)
      hold(one.gaps.empty(), "nothing is proven on what is missing");
    if (one.verdict == chain::Verdict::unanswered) hold(!one.gaps.empty(), "what is open says what is missing");
    for (const auto& number : {one.value, one.bound, one.limit, one.margin})
      hold(!number || *number == *number, "a number is one");
  }
}

void hold_storm(const carriage::SiteStorm& storm) {
  const std::vector<carriage::ClipBound> bounds = carriage::clip_bounds(storm);
  hold(bounds.size() == storm.clips.size(), "every clip has its bound");
  const carriage::Outcome played = carriage::simulate(storm.storm);
  const double second = static_cast<double>(carriage::kNanosecondsPerSecond);
  for (std::size_t i = 0; i < bounds.size(); ++i) {
    const carriage::ClipBound& bound = bounds[i];
    if (!bound.complete_s) hold(bound.swamped || !bound.gaps.empty(), "what is open says why");
    if (!bound.complete_s || !storm.clips[i].flow) continue;
    const carriage::Delivery& came = played.flows[*storm.clips[i].flow];
    hold(static_cast<double>(came.complete) / second <= *bound.complete_s, "no clip comes after its bound");
    hold(static_cast<double>(came.first_picture) / second <= *bound.first_picture_s, "nor does its first picture");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 16 || size > kMostBytes) return 0;
  Bytes bytes(data, size);
  const std::string written = composed(bytes).dump();
  const site::ReadResult read = site::read_site(written, "any.site.json");
  if (!read.site) {
    fuzz::hold_refusal(read.messages, "any.site.json");
    return 0;
  }
  fuzz::hold_site(*read.site);
  const carriage::SiteStorm storm = carriage::storm_of(*read.site);
  hold_evidence(carriage::carriage_answers(*read.site, storm));
  hold_storm(storm);
  return 0;
}
