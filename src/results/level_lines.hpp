#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/levels.hpp"

/// The levels of a zone gathered over supply conditions, as tables and paper show them: one set of figures, rounded by
/// one function.
namespace zoneproof::results {

/// A state with the unit in one condition, in every supply condition.
struct LevelLine {
  std::string state;
  electric::UnitCondition unit = electric::UnitCondition::detached;
  std::vector<const electric::Level*> levels;
};

/// In the order in which states and conditions first occur. Points into `levels`.
std::vector<LevelLine> lines_of(const std::vector<electric::Level>& levels);

/// Which of a level's quantities: the panel's reading (`&Level::panel`) or the unit's (`&Level::unit`).
using WhichReading = std::optional<std::size_t> electric::Level::*;

/// Null where the level has no such reading.
const circuit::WorstCase* worst_of(const electric::Level& level, WhichReading which);

/// The level whose lowest (or highest) reading is the extreme of the line; null where none was solved.
const electric::Level* extreme_of(const LevelLine& line, WhichReading which, bool low);

/// Whether a level of the line has this reading and no number for it: then the line has none.
bool troubled(const LevelLine& line, WhichReading which);

/// From the lowest to the highest over all conditions.
struct VoltRange {
  double low = 0.0, high = 0.0;
};

/// The guaranteed extent of a line's reading; nothing where it is not known or not read at all.
std::optional<VoltRange> range_of(const LevelLine& line, WhichReading which);

/// What a direct-current meter shows at a pulsed terminal (or at the unit's input on it); nothing as above, and where
/// the terminal stands still.
std::optional<VoltRange> meter_range_of(const LevelLine& line, WhichReading which);

/// Decimals of volts that are compared with each other and with a meter.
inline constexpr int kVoltDecimals = 3;

/// Volts to the millivolt: "4.620".
std::string millivolts(double volts);

}  // namespace zoneproof::results
