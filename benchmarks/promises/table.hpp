#pragma once
#include <string>
#include <vector>

#include "promises/promise.hpp"

namespace zoneproof::promises {

/// The figures for people: one line each, and below it what limits it today.
std::string table_of(const std::vector<Figure>& figures);

/// For programs: a list of {"promise", "beside", "ours", "theirs", "ratio", "unit", "aim_ours", "aim_ratio", "limit"};
/// null where nothing was measured, or nothing is aimed at.
std::string json_of(const std::vector<Figure>& figures);

}  // namespace zoneproof::promises
