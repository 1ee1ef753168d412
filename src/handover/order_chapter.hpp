#pragma once
#include "handover/findings.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::handover {

/// The order of work, phase by phase and stop by stop: each step to be ticked off, with what to do, where the probes
/// go, what to expect, a blank for what is found, and what is proven by it. Cautions stand before the steps they are
/// for.
paper::Chapter order_chapter(const Findings& findings);

}  // namespace zoneproof::handover
