#pragma once
#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "handover/findings.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::handover {

/// A page or more for each zone with a chain, for the operator at the monitoring desk: what the zone is and where its
/// alarm comes from, where it lies on the plan, what its cameras should show, which patches nobody sees and why, what
/// is known to be weak, and what entry by right looks like. `format`: the paper, upright; plan and picture take what of
/// a page the words leave.
paper::Chapter zones_chapter(const drawing::Ruler& ruler, const Findings& findings, const drawing::Format& format);

}  // namespace zoneproof::handover
