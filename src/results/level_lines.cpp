#include "results/level_lines.hpp"

#include <algorithm>
#include <cmath>

#include "base/fixed.hpp"
#include "base/language.hpp"

namespace zoneproof::results {

using electric::Level;

std::vector<LevelLine> lines_of(const std::vector<Level>& levels) {
  std::vector<LevelLine> lines;
  for (const Level& level : levels) {
    const std::string state = level.situation.state.name();
    auto found = std::find_if(lines.begin(), lines.end(), [&](const LevelLine& line) {
      return line.state == state && line.unit == level.situation.unit;
    });
    if (found == lines.end()) found = lines.insert(lines.end(), {state, level.situation.unit, {}});
    found->levels.push_back(&level);
  }
  return lines;
}

const circuit::WorstCase* worst_of(const Level& level, WhichReading which) {
  return (level.*which) ? &level.solved.cases.at(*(level.*which)) : nullptr;
}

const Level* extreme_of(const LevelLine& line, WhichReading which, bool low) {
  const Level* extreme = nullptr;
  for (const Level* level : line.levels) {
    const circuit::WorstCase* worst = worst_of(*level, which);
    if (worst == nullptr || worst->trouble != circuit::Trouble::none) continue;
    const circuit::WorstCase* best = extreme == nullptr ? nullptr : worst_of(*extreme, which);
    if (best == nullptr || (low ? worst->low.bound < best->low.bound : worst->high.bound > best->high.bound))
      extreme = level;
  }
  return extreme;
}

bool troubled(const LevelLine& line, WhichReading which) {
  return std::any_of(line.levels.begin(), line.levels.end(), [&](const Level* level) {
    return (level->*which) && !level->solved.has_numbers(*(level->*which));
  });
}

std::optional<VoltRange> range_of(const LevelLine& line, WhichReading which) {
  const Level* low = extreme_of(line, which, true);
  const Level* high = extreme_of(line, which, false);
  if (low == nullptr || troubled(line, which)) return std::nullopt;
  return VoltRange{worst_of(*low, which)->low.bound, worst_of(*high, which)->high.bound};
}

std::optional<VoltRange> meter_range_of(const LevelLine& line, WhichReading which) {
  std::optional<VoltRange> all;
  for (const Level* level : line.levels) {
    if (!level->pulse) return std::nullopt;
    const auto& shows = which == &Level::panel ? level->pulse->panel_meter : level->pulse->unit_meter;
    if (!shows || !std::isfinite(shows->low) || !std::isfinite(shows->high)) return std::nullopt;
    if (!all) all = VoltRange{shows->low, shows->high};
    all->low = std::min(all->low, shows->low);
    all->high = std::max(all->high, shows->high);
  }
  return all;
}

std::string millivolts(double volts) { return with_decimal_sign(fixed(volts, kVoltDecimals)); }

}  // namespace zoneproof::results
