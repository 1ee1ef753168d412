#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "published/shelf_data.hpp"

// Zone terminals: the one published set of thresholds with its resistances, and the levels of every loop that a
// terminal of the shelf is made for, computed here from nothing but the resistances in its name.
namespace zoneproof::published {
namespace {

const std::string terminals = "parts/zone_terminals.json";

std::string spec(const std::string& id) { return "/parts/" + id + "/zone_terminal"; }

/// The reading whose window holds `level` (V, or percent where the windows follow the source); "" between windows.
std::string reading(const std::string& id, double level) {
  std::string found;
  for (const std::string& name : keys(terminals, spec(id) + "/windows")) {
    const std::string window = spec(id) + "/windows/" + name;
    const std::string unit = has(terminals, window + "/min_V") ? "_V" : "_pct";
    const bool above =
        !is_figure(terminals, window + "/min" + unit) || level >= figure(terminals, window + "/min" + unit).nominal;
    const bool below =
        !is_figure(terminals, window + "/max" + unit) || level <= figure(terminals, window + "/max" + unit).nominal;
    if (!above || !below) continue;
    EXPECT_TRUE(found.empty()) << id << ": two windows hold " << level;
    found = text(terminals, window + "/means");
  }
  return found;
}

/// "4k7" -> 4700, "680r" -> 680.
double ohms(std::string code) {
  const std::size_t letter = code.find_first_of("rk");
  const double scale = code[letter] == 'k' ? 1000.0 : 1.0;
  code[letter] = '.';
  return std::stod(code) * scale;
}

TEST(ZoneTerminals, PublishedThresholdsComeFromFiveVoltsBehind680Ohm) {
  // SIA CP-01, draft working paper: short up to 0.75 V and 120 ohm; normal 1.1 to 4.1 V and 190 to 3000 ohm; open from
  // 4.6 V and 7800 ohm. The paper names no circuit; its volts are printed to two figures.
  const std::string id = "terminal_cp01_pu680r";
  const double source = figure(terminals, spec(id) + "/source_V").nominal;
  const double pullup = figure(terminals, spec(id) + "/pullup_ohm").nominal;
  const auto level = [&](double loop) { return source * loop / (loop + pullup); };
  EXPECT_NEAR(level(120), 0.750, 0.0005);
  EXPECT_NEAR(level(190), 1.092, 0.0005);
  EXPECT_NEAR(level(3000), 4.076, 0.0005);
  EXPECT_NEAR(level(7800), 4.599, 0.0005);
  const std::string windows = spec(id) + "/windows";
  EXPECT_NEAR(figure(terminals, windows + "/short/max_V").nominal, level(120), 0.005);
  EXPECT_NEAR(figure(terminals, windows + "/normal/min_V").nominal, level(190), 0.05);
  EXPECT_NEAR(figure(terminals, windows + "/normal/max_V").nominal, level(3000), 0.05);
  EXPECT_NEAR(figure(terminals, windows + "/open/min_V").nominal, level(7800), 0.05);
}

TEST(ZoneTerminals, BetweenThePublishedWindowsLieGuardBands) {
  const std::string id = "terminal_cp01_pu680r";
  EXPECT_EQ(reading(id, 0.9), "");
  EXPECT_EQ(reading(id, 2.5), "secure");
  EXPECT_EQ(reading(id, 4.3), "");
}

TEST(ZoneTerminals, DeducedCircuitOfThePublishedWindowsIsOnlyTypical) {
  EXPECT_EQ(figure(terminals, spec("terminal_cp01_pu680r") + "/pullup_ohm").origin, "typical");
  EXPECT_EQ(figure(terminals, spec("terminal_cp01_pu680r") + "/source_V").origin, "typical");
}

struct LoopState {
  double loop_ohm;
  std::string reading;
};

/// The states of the loop that the terminal's id names, with what the panel should call them.
std::vector<LoopState> states(const std::string& kind, double eol) {
  constexpr double cut = 1e12;
  if (kind == "nc") return {{0.0, "secure"}, {cut, "alarm"}};
  if (kind == "no") return {{0.0, "alarm"}, {cut, "secure"}};
  if (kind == "single") return {{0.0, "alarm"}, {eol, "secure"}, {cut, "alarm"}};
  if (kind == "single_short") return {{0.0, "shorted"}, {eol, "secure"}, {cut, "alarm"}};
  return {{0.0, "shorted"}, {eol, "secure"}, {2 * eol, "alarm"}, {cut, "tamper"}};
}

TEST(ZoneTerminals, EveryStateOfTheLoopFallsIntoItsWindow) {
  int checked = 0;
  for (const std::string& id : keys(terminals, "/parts")) {
    const std::size_t pu = id.rfind("_pu");
    if (pu == std::string::npos || id.find("triple") != std::string::npos || id.find("doubled") != std::string::npos ||
        (!id.starts_with("terminal_5v_") && !id.starts_with("terminal_raw_")))
      continue;
    const double pullup = ohms(id.substr(pu + 3));
    const bool raw = id.starts_with("terminal_raw_");
    std::string kind = id.substr(raw ? 13 : 12, pu - (raw ? 13 : 12));
    double eol = 0.0;
    if (const std::size_t last = kind.rfind('_'); last != std::string::npos) {
      eol = ohms(kind.substr(last + 1));
      kind = kind.substr(0, last);
    }
    EXPECT_DOUBLE_EQ(figure(terminals, spec(id) + "/pullup_ohm").nominal, pullup) << id;
    for (const LoopState& state : states(kind, eol)) {
      const double share = state.loop_ohm / (state.loop_ohm + pullup);
      EXPECT_EQ(reading(id, (raw ? 100.0 : 5.0) * share), state.reading) << id << " at " << state.loop_ohm << " ohm";
    }
    ++checked;
  }
  EXPECT_GE(checked, 80);
}

TEST(ZoneTerminals, MaskAndDoubledLevelsFallIntoTheirWindows) {
  const auto at = [](const std::string& id, double loop, double pullup) {
    return reading(id, 5.0 * loop / (loop + pullup));
  };
  EXPECT_EQ(at("terminal_5v_triple_1k_pu2k2", 1000, 2200), "secure");
  EXPECT_EQ(at("terminal_5v_triple_1k_pu2k2", 2000, 2200), "alarm");
  EXPECT_EQ(at("terminal_5v_triple_1k_pu2k2", 4000, 2200), "masked");
  EXPECT_EQ(at("terminal_5v_doubled_series_pu4k7", 2200, 4700), "secure");
  EXPECT_EQ(at("terminal_5v_doubled_series_pu4k7", 4400, 4700), "alarm");
  EXPECT_EQ(at("terminal_5v_doubled_series_pu4k7", 6900, 4700), "second_alarm");
  EXPECT_EQ(at("terminal_5v_doubled_series_pu4k7", 9100, 4700), "both_alarm");
  EXPECT_EQ(at("terminal_5v_doubled_parallel_pu1k", 687.5, 1000), "secure");
  EXPECT_EQ(at("terminal_5v_doubled_parallel_pu1k", 1000, 1000), "alarm");
  EXPECT_EQ(at("terminal_5v_doubled_parallel_pu1k", 2200, 1000), "second_alarm");
}

TEST(ZoneTerminals, NothingOfAPanelWithoutPapersCountsAsASheet) {
  int found = 0;
  for (const std::string& id : keys(terminals, "/parts")) {
    if (!id.starts_with("terminal_no_papers")) continue;
    EXPECT_EQ(text(terminals, "/parts/" + id + "/origin"), "typical") << id;
    ++found;
  }
  EXPECT_GE(found, 8);
}

}  // namespace
}  // namespace zoneproof::published
