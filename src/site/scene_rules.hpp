#pragma once
#include "site/findings.hpp"
#include "site/model.hpp"

namespace zoneproof::site {

/// Rules between the fields of the building and of what looks at it: walls with a length, outlines that enclose
/// something and do not cross themselves, openings within their wall, cameras outside of solid bodies, lenses that can
/// be set so, channels named once. Cost: n log n in the corners of an outline, cameras times blocks of their level.
void check_scene(const Site& site, Findings& findings);

/// Rules of parts alone: tangential terms of a pinhole only; a guaranteed reach within the largest, rows in order.
void check_lens(const LensSpec& lens, Findings& findings);
void check_pattern(const PatternSpec& pattern, Findings& findings);

}  // namespace zoneproof::site
