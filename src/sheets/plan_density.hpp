#pragma once
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"

/// What a chosen camera shows: its frame and how large people are in it. Used by plan_sheet only.
namespace zoneproof::sheets {

/// Limits of the rulebook in force that have the unit px/m and the same source as the one that is chosen under
/// /rulebook/view_rule; all of that unit where the choice is no density. Ascending, each once.
std::vector<double> density_steps(const site::Site& site);

/// The frame at the band of heights that has to be seen, on the floor of the level, as a thin outline that is open
/// where it goes on beyond the plan. The places within are those whose whole band the picture shows, were nothing in
/// between: the same regions as the proof's (sight/witness.hpp). `steps` in px/m: a numbered line for each that passes
/// through the frame, nearer than which a person has at least as many.
drawing::Group plan_frame(PlanCanvas& canvas, const sight::Watching& watching, const std::vector<double>& steps);

std::vector<drawing::Item> density_sample(PlanSign sign);

}  // namespace zoneproof::sheets
