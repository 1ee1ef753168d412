#include "timeline/lane.hpp"

#include <gtest/gtest.h>

#include <fstream>

#include "base/json_patch.hpp"
#include "site/file.hpp"

namespace zoneproof::timeline {

namespace {

constexpr const char* kLane = R"json({
  "format": "zoneproof-site", "version": 3, "name": "Lane", "origin": "measured",
  "parts": {
    "eye": {"kind": "camera", "origin": "data_sheet", "camera": {"boot_s": 40, "delay_s": {"value": 0.2, "min": 0.1, "max": 0.3}, "poe_class": 2, "analytics_s": 2}},
    "pir": {"kind": "detector", "origin": "data_sheet", "detector": {"technology": "passive_infrared", "response_s": {"value": 0.8, "min": 0.5, "max": 1},
      "contacts": {"alarm": {"reports": "alarm"}}}},
    "old": {"kind": "panel", "origin": "data_sheet", "panel": {"boot_s": 10}},
    "screw": {"kind": "zone_terminal", "origin": "data_sheet", "zone_terminal": {"source": "regulated", "source_V": 5, "scan_s": 0.1, "debounce_s": 0.2, "filter_s": "none"}},
    "box": {"kind": "unit", "origin": "data_sheet", "unit": {"boot_s": 60, "reaction_s": {"value": 0.15, "min": 0.1, "max": 0.2},
      "input": {"sampling_s": 0.05, "debounce_s": 0.1, "filter_s": "none", "damage_min_V": -1, "damage_max_V": 30}}},
    "eight": {"kind": "network_switch", "origin": "data_sheet", "network_switch": {"boot_s": 20, "delay_s": 0, "forwarding_Mbps": "none"}},
    "way_out": {"kind": "router", "origin": "data_sheet", "router": {"boot_s": 30, "delay_s": 0}}},
  "partitions": {"house": {"number": 1, "entry_s": 30, "exit_s": 45}},
  "panels": {"panel": {"part": "old", "zone_terminal": "screw"}},
  "detectors": {"d": {"name": "Lane detector", "part": "pir"}},
  "zones": {"z": {"number": 1, "name": "Lane", "type": "intruder", "partition": "house", "medium": "wired", "panel": "panel", "input": 1,
    "loop": {"contacts": {"a": {"detector": "d", "contact": "alarm", "role": "alarm"}}}}},
  "outputs": {"armed": {"panel": "panel", "follows": "armed", "partitions": ["house"], "moment": "exit_end", "mode": "level"}},
  "units": {"unit": {"name": "Unit", "part": "box", "arming": {"output": "armed"}, "clip": {"pre_s": 5, "post_s": 10, "sending": "while_recording"},
    "clock": {"source": "station", "error_s": 0.5}, "monitoring": "path"}},
  "triggers": {"t": {"zone": "z", "source": "loop_tap", "unit": "unit", "input": 1, "channel": 1}},
  "cameras": {"c": {"name": "Lane camera", "part": "eye", "powered_by": "l_c",
    "streams": {"clip": {"to": "unit", "codec": "h264", "rate_fps": 10, "rate_control": "capped", "rate_kbps": 400, "key_frame_s": 1, "key_frame_kB": 30, "frame_kB": 8}}, "streams_complete": true}},
  "channels": {"ch": {"unit": "unit", "number": 1, "camera": "c", "recorder": "none", "live_only": false, "stream": "clip"}},
  "switches": {"switch": {"name": "Switch", "part": "eight", "powered_by": "none"}},
  "routers": {"router": {"name": "Router", "part": "way_out", "powered_by": "none"}},
  "uplinks": {"line": {"name": "Line", "router": "router", "up_Mbps": 2, "others_Mbps": "none", "delay_s": 0.05, "powered_by": "router", "carrier_hold_h": 24}},
  "networks": {"lan": {"name": "Lan", "range": "192.168.20.0/24", "vlan": 0, "has_pool": false}},
  "addresses": {
    "a_c": {"device": "c", "network": "lan", "given_by": "fixed", "address": "192.168.20.11", "gateway": "none"},
    "a_u": {"device": "unit", "network": "lan", "given_by": "fixed", "address": "192.168.20.12", "gateway": "router"},
    "a_r": {"device": "router", "network": "lan", "given_by": "fixed", "address": "192.168.20.1", "gateway": "none"}},
  "data_links": {
    "l_c": {"a": "switch", "b": "c", "cable": "none", "rate_Mbps": 100, "others_Mbps": "none"},
    "l_u": {"a": "switch", "b": "unit", "cable": "none", "rate_Mbps": 100, "others_Mbps": "none"},
    "l_r": {"a": "router", "b": "switch", "cable": "none", "rate_Mbps": 100, "others_Mbps": "none"}},
  "monitoring_paths": {"path": {"name": "Path", "uplink": "line", "category": "sp5", "reporting_s": 75, "shown_s": 1, "port": 443, "outbound_permitted": true}}
})json";

}  // namespace

Json lane() {
  Json file = Json::parse(kLane);
  std::ifstream in(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/kiln-yard.site.json", std::ios::binary);
  const Json demo = Json::parse(in);
  file["rulebooks"] = demo.at("rulebooks");
  file["rulebook"] = demo.at("rulebook");
  return file;
}

site::Site site_of(Json file, const char* patch) {
  for (const Message& message : apply_patch(file, Json::parse(patch))) ADD_FAILURE() << full_text(message);
  site::ReadResult read = site::read_site(file.dump(), "test.site.json");
  for (const Message& message : read.messages)
    if (kind_of(message.code).severity == Severity::error) ADD_FAILURE() << full_text(message);
  return read.site.value_or(site::Site{});
}

}  // namespace zoneproof::timeline
