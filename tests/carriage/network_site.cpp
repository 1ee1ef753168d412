#include "carriage/network_site.hpp"

#include <algorithm>
#include <fstream>

#include "base/json_patch.hpp"
#include "site/file.hpp"

namespace zoneproof::carriage {

namespace {

constexpr const char* kNetwork = R"json({
  "format": "zoneproof-site", "version": 3, "name": "Small network", "origin": "measured",
  "rulebook": {"book": "european_intruder", "grade": 2},
  "areas": {"house": {"name": "House", "temperature_min_degC": 20, "temperature_max_degC": 20}},
  "parts": {
    "pairs": {"kind": "cable", "name": "Four pairs", "origin": "data_sheet", "source": "made for this test",
      "cable": {"material": "copper", "cores": 8,
                "resistance_ohm_per_km": {"value": 100, "min": 100, "max": 100, "tempco_ppm_K": 3930}}},
    "eye": {"kind": "camera", "name": "Eye", "origin": "data_sheet", "source": "made for this test",
      "camera": {"width_px": 1920, "height_px": 1080, "pixel_um": 2.9, "infrared_reach_m": "none",
                 "poe_class": 3, "power_W": 6.5}},
    "giver": {"kind": "network_switch", "name": "Giver", "origin": "data_sheet", "source": "made for this test",
      "network_switch": {"ports": 8, "poe_ports": 4, "poe_class": 4, "poe_min_V": 44, "poe_budget_W": 60,
                         "power_W": 9, "efficiency_pct": 80, "forwarding_Mbps": "none"}},
    "adder": {"kind": "injector", "name": "Adder", "origin": "data_sheet", "source": "made for this test",
      "injector": {"poe_class": 3, "poe_min_V": 44, "power_W": 2, "efficiency_pct": 80}},
    "keeper": {"kind": "recorder", "name": "Keeper", "origin": "data_sheet", "source": "made for this test",
      "recorder": {"channels": 8, "power_W": 25}},
    "gate": {"kind": "router", "name": "Gate", "origin": "data_sheet", "source": "made for this test",
      "router": {"power_W": 12}},
    "stand": {"kind": "ups", "name": "Stand-by", "origin": "data_sheet", "source": "made for this test",
      "ups": {"energy_Wh": 1400, "rating_W": 900, "own_W": 15}},
    "box": {"kind": "unit", "name": "Box", "origin": "data_sheet", "source": "made for this test", "unit": {}},
    "entry": {"kind": "load", "name": "Entry", "origin": "data_sheet", "source": "made for this test",
      "load": {"supply_min_V": 10, "supply_max_V": 15, "current_A": 3, "alarm_current_A": 0}}},
  "cables": {"k_yard": {"name": "Cable to the yard", "part": "pairs", "length_m": 50, "areas": ["house"], "joints": 2,
                        "joint_ohm": 0.05}},
  "units": {"unit": {"name": "Unit", "part": "box", "monitoring": "path",
                     "clock": {"source": "station", "error_s": 0.5}}},
  "cameras": {
    "yard": {"name": "Yard camera", "part": "eye", "powered_by": "l_yard",
             "clock": {"source": "time_server", "error_s": 0.5},
             "streams": {"all": {"to": "recorder", "codec": "h264", "rate_fps": 10, "rate_control": "capped",
                                 "rate_kbps": 4000, "key_frame_s": 1, "key_frame_kB": 60, "frame_kB": 20}},
             "streams_complete": true},
    "hall": {"name": "Hall camera", "part": "eye", "powered_by": "l_hall",
             "clock": {"source": "time_server", "error_s": 0.5},
             "streams": {"all": {"to": "recorder", "codec": "h264", "rate_fps": 10, "rate_control": "capped",
                                 "rate_kbps": 4000, "key_frame_s": 1, "key_frame_kB": 60, "frame_kB": 20}},
             "streams_complete": true}},
  "recorders": {"recorder": {"name": "Recorder", "part": "keeper", "powered_by": "backup", "disk_GB": 3000,
                             "keep_d": 30, "clock": {"source": "time_server", "error_s": 1}}},
  "channels": {
    "ch1": {"unit": "unit", "number": 1, "camera": "yard", "recorder": "recorder", "live_only": false, "stream": "all"},
    "ch2": {"unit": "unit", "number": 2, "camera": "hall", "recorder": "recorder", "live_only": false, "stream": "all"}},
  "switches": {"switch": {"name": "Switch", "part": "giver", "powered_by": "backup", "powers_complete": true}},
  "injectors": {"injector": {"name": "Injector", "part": "adder", "powered_by": "backup"}},
  "routers": {"router": {"name": "Router", "part": "gate", "powered_by": "backup"}},
  "uplinks": {"line": {"name": "Line", "router": "router", "powered_by": "router", "power_W": "none",
                       "carrier_hold_h": 24}},
  "backups": {"backup": {"name": "Backup", "part": "stand", "loads_complete": true}},
  "data_links": {
    "l_yard": {"name": "Link to the yard", "a": "switch", "b": "yard", "cable": "k_yard"},
    "l_hall": {"name": "Cord to the hall", "a": "injector", "b": "hall", "cable": "none"},
    "l_injector": {"name": "Cord to the injector", "a": "switch", "b": "injector", "cable": "none"},
    "l_recorder": {"name": "Cord to the recorder", "a": "switch", "b": "recorder", "cable": "none"},
    "l_unit": {"name": "Cord to the unit", "a": "switch", "b": "unit", "cable": "none"},
    "l_router": {"name": "Cord to the router", "a": "switch", "b": "router", "cable": "none"}},
  "networks": {"net": {"name": "Cameras", "range": "192.168.20.0/24", "vlan": 20}},
  "monitoring_paths": {"path": {"name": "To the station", "uplink": "line"}}
})json";

}  // namespace

Json small_network() {
  Json file = Json::parse(kNetwork);
  std::ifstream in(std::string(ZONEPROOF_SOURCE_DIR) + "/data/rulebooks/european_intruder.json", std::ios::binary);
  file["rulebooks"]["european_intruder"] = Json::parse(in).at("rulebook");
  int last = 10;
  for (const char* device : {"yard", "hall", "recorder", "unit", "router"})
    file["addresses"][std::string("a_") + device] = {{"device", device},
                                                     {"network", "net"},
                                                     {"given_by", "fixed"},
                                                     {"address", "192.168.20." + std::to_string(last++)},
                                                     {"gateway", "none"}};
  return file;
}

site::Site network_of(const Json& file, const std::string& patch) {
  Json patched = file;
  for (const Message& message : apply_patch(patched, Json::parse(patch))) ADD_FAILURE() << full_text(message);
  site::ReadResult read = site::read_site(patched.dump(), "test.site.json");
  for (const Message& message : read.messages)
    if (kind_of(message.code).severity == Severity::error) ADD_FAILURE() << full_text(message);
  return read.site.value_or(site::Site{});
}

bool any(const std::vector<chain::Evidence>& all, const std::string& check, const std::string& subject) {
  return std::any_of(all.begin(), all.end(),
                     [&](const chain::Evidence& one) { return one.id == check && one.subject == subject; });
}

chain::Evidence only(const std::vector<chain::Evidence>& all, const std::string& check, const std::string& subject) {
  std::vector<chain::Evidence> found;
  for (const chain::Evidence& one : all)
    if (one.id == check && one.subject == subject) found.push_back(one);
  EXPECT_EQ(found.size(), 1u) << check << " of " << subject;
  return found.empty() ? chain::Evidence{} : found.front();
}

bool lacks(const chain::Evidence& evidence, const std::string& pointer, const std::string& reason) {
  return std::any_of(evidence.gaps.begin(), evidence.gaps.end(),
                     [&](const chain::Gap& gap) { return gap.pointer == pointer && gap.reason == reason; });
}

std::string without(const std::string& pointer) { return R"([{"op": "remove", "path": ")" + pointer + "\"}]"; }

void expect_unanswered(Check check, const std::vector<LeftOut>& cases, const Json& file) {
  const std::vector<chain::Evidence> whole = check(network_of(file));
  for (const LeftOut& left_out : cases) {
    SCOPED_TRACE(std::string(left_out.check) + " of " + left_out.subject + " without " + left_out.pointer);
    EXPECT_EQ(only(whole, left_out.check, left_out.subject).verdict, chain::Verdict::proven);
    const auto answers = check(network_of(file, without(left_out.pointer)));
    const chain::Evidence open = only(answers, left_out.check, left_out.subject);
    EXPECT_EQ(open.verdict, chain::Verdict::unanswered);
    EXPECT_TRUE(lacks(open, left_out.gap != nullptr ? left_out.gap : left_out.pointer, left_out.reason))
        << (open.gaps.empty() ? "no gap" : open.gaps.front().pointer + " " + open.gaps.front().reason);
    EXPECT_TRUE(open.says.has_value());
    EXPECT_FALSE(open.value.has_value()) << "a number that rests on nothing";
  }
}

}  // namespace zoneproof::carriage
