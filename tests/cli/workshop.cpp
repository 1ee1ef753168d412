#include "cli/workshop.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <vector>

#include "base/json_text.hpp"
#include "cli/run.hpp"
#include "cli/text_width.hpp"
#include "site/record_json.hpp"
#include "site/shelf.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kWorkshop = R"json({
  "format": "zoneproof-site", "version": 3, "revision": 1, "name": "Lathe Lane Workshop", "origin": "measured",
  "bonds_complete": true,
  "rulebook": {"book": "common_practice"},
  "areas": {"shop": {"name": "Shop", "temperature_min_degC": 5, "temperature_max_degC": 35}},
  "cables": {
    "eye_cable": {"name": "Eye cable", "part": "CABLE", "length_m": 18, "areas": ["shop"], "cores_in_parallel": 1, "joints": 4},
    "door_cable": {"name": "Door cable", "part": "CABLE", "areas": ["shop"], "cores_in_parallel": 1, "joints": 4},
    "unit_cable": {"name": "Unit cable", "part": "CABLE", "length_m": 2, "areas": ["shop"], "cores_in_parallel": 1, "joints": 2},
    "tap_cable": {"name": "Tap cable", "part": "CABLE", "length_m": 2, "areas": ["shop"], "cores_in_parallel": 1, "joints": 2}
  },
  "supplies": {"psu": {"name": "Panel supply", "part": "panel_supply_1a", "area": "shop", "loads_complete": true, "batteries_complete": true}},
  "batteries": {"accu": {"name": "Battery", "part": "battery_7ah", "supply": "psu", "area": "shop", "blocks_in_parallel": 1, "age_years": 1}},
  "panels": {"panel": {"name": "Panel", "part": "panel_8", "area": "shop", "zone_terminal": "terminal_5v_double_5k6_pu5k6",
    "feed": {"from": "psu", "output": "board", "cable": "none", "fuse_A": "none"}}},
  "detectors": {
    "eye": {"name": "Eye", "part": "pir_wide_12m", "area": "shop", "feed": {"from": "psu", "output": "aux1", "cable": "eye_cable", "fuse_A": "none"}},
    "door": {"name": "Door contact", "part": "contact_door", "area": "shop", "feed": {"from": "none"}}
  },
  "zones": {
    "shop_floor": {"number": 1, "name": "Shop floor", "type": "intruder", "medium": "wired", "panel": "panel", "input": 1,
      "loop": {"arrangement": "double_eol", "eol_ohm": {"value": 5600, "tolerance_pct": 1, "tempco_ppm_K": 100},
        "alarm_ohm": {"value": 5600, "tolerance_pct": 1, "tempco_ppm_K": 100}, "eol_place": "at_end", "cable": "eye_cable", "shared_return": "none",
        "contacts": {"alarm": {"detector": "eye", "contact": "alarm", "role": "alarm", "shunt_ohm": "none"},
          "tamper": {"detector": "eye", "contact": "tamper", "role": "tamper", "shunt_ohm": "none"}}, "contacts_complete": true}},
    "back_door": {"number": 2, "name": "Back door", "type": "entry_exit", "medium": "wired", "panel": "panel", "input": 2,
      "loop": {"arrangement": "double_eol", "eol_ohm": {"value": 5600, "tolerance_pct": 1}, "alarm_ohm": {"value": 5600, "tolerance_pct": 1},
        "eol_place": "at_end", "cable": "door_cable", "shared_return": "none",
        "contacts": {"alarm": {"detector": "door", "contact": "alarm", "role": "alarm", "shunt_ohm": "none"}}, "contacts_complete": true}},
    "smoke": {"number": 3, "name": "Smoke", "type": "fire", "medium": "wired", "panel": "panel", "input": 3}
  },
  "units": {"unit": {"name": "Unit", "part": "unit_8_ranges_1m", "area": "shop",
    "feed": {"from": "psu", "output": "aux2", "cable": "unit_cable", "fuse_A": "none"}, "arming": {"output": "none"}}},
  "triggers": {"eye_trigger": {"zone": "shop_floor", "source": "loop_tap", "unit": "unit", "input": 1, "channel": 1, "cable": "tap_cable",
    "at_panel": "panel", "at_input": 1, "series_ohm": "none", "pulldown_ohm": "none", "pullup_ohm": "none",
    "setting": {"normal_min_V": "none", "normal_max_V": 3, "zone_number": 1, "zone_name": "Shop floor", "zone_type": "intruder"}}}
})json";

constexpr std::array<const char*, 8> kParts = {
    "CABLE",        "panel_supply_1a", "battery_7ah",     "panel_8", "terminal_5v_double_5k6_pu5k6",
    "pir_wide_12m", "contact_door",    "unit_8_ranges_1m"};

/// A cable of the shelf with enough cores for a detector.
std::string cable_part() {
  for (const auto& [id, part] : site::parts_shelf()) {
    if (part.cable && part.cable->cores.value.value_or(0) >= 6 && part.cable->resistance_ohm_per_km.known()) return id;
  }
  std::abort();
}

struct Folder {
  std::string path;
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "zoneproof-cli-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) std::abort();
    path = pattern;
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
};

}  // namespace

std::string workshop() {
  std::string text(kWorkshop);
  const std::string cable = cable_part();
  for (std::size_t at = text.find("CABLE"); at != std::string::npos; at = text.find("CABLE"))
    text.replace(at, 5, cable);
  Json json = Json::parse(text);
  for (const char* id : kParts) {
    const std::string part = std::string(id) == "CABLE" ? cable : id;
    const auto copied = site::part_for_site(part);
    json["parts"][part] = site::write_record(site::record_of<site::Part>(), &*copied);
  }
  const auto book = site::rulebook_for_site("common_practice");
  json["rulebooks"]["common_practice"] = site::write_record(site::record_of<site::Rulebook>(), &*book);
  return write_json(json);
}

Outcome run_line(std::string_view line, bool on_terminal, bool no_colour) {
  std::istringstream words{std::string(line)};
  std::vector<std::string> arguments;
  for (std::string word; words >> word;) arguments.push_back(word);
  std::ostringstream out, err;
  Terminal terminal;
  terminal.out_is_terminal = terminal.err_is_terminal = on_terminal;
  terminal.no_colour = no_colour;
  terminal.person = [] { return std::string("Ada"); };
  const int exit_code = run(arguments, out, err, terminal);
  return {exit_code, out.str(), err.str()};
}

std::string folder() {
  static const Folder folder;
  return folder.path;
}

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string file_with(std::string_view name, std::string_view bytes) {
  const std::string path = folder() + "/" + std::string(name);
  std::ofstream(path, std::ios::binary) << bytes;
  return path;
}

std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) {
    std::string plain;
    for (std::size_t at = 0; at < line.size(); ++at) {
      if (line[at] == '\x1b') {
        at = line.find('m', at);
        continue;
      }
      plain += line[at];
    }
    widest = std::max(widest, text_width(plain));
  }
  return widest;
}

}  // namespace zoneproof::cli
