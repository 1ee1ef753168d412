#pragma once
#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// What of a drawing lies in a box: lines end at its edges, areas are cut along them, arcs that cross them become
/// straight pieces (within 0.02 mm). A text that does not lie in it wholly is left out: half a word says nothing. Ids,
/// titles and links stay; groups of which nothing is left go. For cut-outs of a plan, as a drawing list has no windows.
Group clipped(const Group& group, const Box& box);

}  // namespace zoneproof::drawing
