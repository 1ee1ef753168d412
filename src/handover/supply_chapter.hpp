#pragma once
#include "drawing/ruler.hpp"
#include "handover/findings.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::handover {

/// Supplies and batteries: every load in every condition with its voltage at the far end, every output with what is
/// spare and its fuses, every battery with the factors that its charge is counted with and their sources, its discharge
/// as a graph, and all checks of supplies with limit and source.
paper::Chapter supply_chapter(const drawing::Ruler& ruler, const Findings& findings);

}  // namespace zoneproof::handover
