#pragma once
#include <string_view>

namespace zoneproof::site {

/// A site with one of everything that refers to something, valid as it stands. Tests change one thing in it.
inline constexpr std::string_view kSmallSite = R"json({
  "format": "zoneproof-site",
  "version": 3,
  "revision": 3,
  "name": "Brook Lane Store",
  "origin": "measured",
  "bonds_complete": true,
  "rulebook": {"book": "house_rules", "grade": 2},
  "rulebooks": {
    "house_rules": {
      "name": "House rules",
      "version": "1",
      "entries": {
        "loop_margin_V": {"value": 0.1, "unit": "V", "meaning": "Least margin.", "source": "common practice, no source", "verified": false},
        "battery_factor": {
          "points": [{"at": 0, "value": 1.3}, {"at": 20, "value": 1}],
          "at_unit": "degC", "unit": "1", "meaning": "Factor.", "source": "common practice, no source", "verified": false
        }
      },
      "states": {"alarm": {"trigger": "must_trigger", "source": "common practice, no source", "verified": true}}
    }
  },
  "parts": {
    "two_core": {"kind": "cable", "name": "Two core", "cable": {"resistance_ohm_per_km": {"value": 80, "tolerance_pct": 5, "tempco_ppm_K": 3930}, "cores": 2}},
    "aux": {"kind": "supply", "supply": {"mains_V": 13.7, "outputs": {"aux1": {"rating_A": 1}}}},
    "brick": {"kind": "battery", "battery": {"capacity_Ah": 7, "rated_h": 20}},
    "old_panel": {"kind": "panel", "panel": {"inputs": 8}},
    "terminal": {"kind": "zone_terminal", "zone_terminal": {"source": "regulated", "source_V": 5, "refers_to": "negative", "windows": {"rest": {"means": "secure", "min_V": 1, "max_V": 3}}}},
    "pir": {"kind": "detector", "origin": "data_sheet", "detector": {"contacts": {"alarm": {"kind": "relay", "at_rest": "closed", "closed_ohm": 0.1}}}},
    "box": {"kind": "unit", "unit": {"power_W": 4, "input": {"judging": "presets", "presets": {"half": {"normal_min_V": 1, "normal_max_V": 3}}}, "arming": {"low_max_V": 1, "high_min_V": 3}}},
    "collector": {"kind": "output", "output": {"kind": "open_collector"}}
  },
  "areas": {"shop": {"name": "Shop", "temperature_min_degC": 5, "temperature_max_degC": 30}},
  "partitions": {"whole": {"number": 1}},
  "cables": {"run": {"part": "two_core", "length_m": 20, "areas": ["shop"]}},
  "supplies": {"psu": {"part": "aux", "area": "shop"}},
  "batteries": {"accu": {"part": "brick", "supply": "psu"}},
  "junctions": {"box_a": {"feed": {"from": "psu", "output": "aux1", "cable": "run"}}, "box_b": {"feed": {"from": "box_a"}}},
  "panels": {"panel": {"part": "old_panel", "zone_terminal": "terminal", "feed": {"from": "psu", "cable": "none"}}},
  "detectors": {"eye": {"part": "pir", "feed": {"from": "box_b"}}},
  "zones": {
    "door": {
      "number": 1, "name": "Front door", "type": "intruder", "partition": "whole", "medium": "wired", "panel": "panel", "input": 1,
      "loop": {
        "arrangement": "double_eol", "eol_ohm": {"value": 5600, "plus": 56, "minus": 28}, "alarm_ohm": {"min": 5500, "max": 5700},
        "contacts": {"c1": {"detector": "eye", "contact": "alarm", "role": "alarm"}}, "contacts_complete": true
      }
    },
    "air": {"number": 2, "medium": "wireless"}
  },
  "outputs": {"arm": {"panel": "panel", "part": "collector", "follows": "armed", "partitions": ["whole"]}},
  "units": {"unit": {"part": "box", "feed": {"from": "psu", "output": "aux1"}, "arming": {"output": "arm", "pullup_ohm": 4700, "pullup_to": "high"}}},
  "triggers": {"t1": {"zone": "door", "source": "loop_tap", "unit": "unit", "input": 1, "at_panel": "panel", "at_input": 1, "setting": {"preset": "half"}}},
  "bonds": {"strap": {"kind": "wire", "a": "psu", "b": "unit", "resistance_ohm": 0.01}}
}
)json";

}  // namespace zoneproof::site
