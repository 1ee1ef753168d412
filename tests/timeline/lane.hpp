#pragma once
#include <nlohmann/json.hpp>
#include <string>

#include "site/model.hpp"

namespace zoneproof::timeline {

using Json = nlohmann::ordered_json;

/// One zone with one detector, one unit, one camera, every time a round number of its own:
///   detector response 0.5 to 1 s; panel: scan 0.1 s, hold 0.2 s; unit: looks every 0.05 s, hold 0.1 s, reaction 0.1 to
///   0.2 s; clip 5 s before and 10 s after; key frames every 1 s; camera delay 0.1 to 0.3 s; entry 30 s, exit 45 s;
///   boot: camera 40, switch 20, unit 60, router 30, panel 10 s; station 1 s.
Json lane();

/// The site that a file holds; errors fail the test. With an RFC 6902 patch applied first.
site::Site site_of(Json file, const char* patch = "[]");

}  // namespace zoneproof::timeline
