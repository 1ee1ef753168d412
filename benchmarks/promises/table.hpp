#pragma once
#include <string>
#include <vector>

#include "promises/promise.hpp"

namespace zoneproof::promises {

/// For people: one line a figure, and below it beside whom it stands and what limits it today.
std::string table_head();
std::string table_lines(const Figure& figure);

/// For programs: a list of {"promise", "beside", "ours", "theirs", "ratio", "unit", "aim_ours", "aim_ratio", "limit"};
/// null where nothing was measured, or nothing is aimed at.
std::string json_of(const std::vector<Figure>& figures);

}  // namespace zoneproof::promises
