#pragma once
#include "handover/findings.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::handover {

/// What the site is, how many chains hold, a row for each chain, and everything that is not proven with its number,
/// limit, source and remedy; what belongs to no chain; zones without one.
paper::Chapter summary_chapter(const Findings& findings);

}  // namespace zoneproof::handover
