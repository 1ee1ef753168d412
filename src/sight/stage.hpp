#pragma once
#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "plane/overlay.hpp"
#include "sight/area.hpp"
#include "sight/reasons.hpp"
#include "sight/witness.hpp"

/// Inside of the coverage: surfaces that people stand on, and how regions on them are laid over each other.
namespace zoneproof::sight {

/// Whose reason a label is that belongs to nobody: blocks that leave no floor, the outline of a step.
constexpr std::size_t kNobody = std::numeric_limits<std::size_t>::max();

constexpr double kGrid_m = 1.0 / 8192.0;  ///< 0.12 mm: corners of regions are rounded to it

/// A surface that people stand on, with the sources whose area lies on it.
struct Stage {
  Floor floor;
  std::vector<plane::Point> step;  ///< of a stair; empty: the floor of the level
  std::vector<const AreaSource*> sources;
};

/// One for each level, and one for each step of a stair on it.
std::vector<Stage> stages_of(const Building& building, const std::vector<const AreaSource*>& sources);

/// Whether a body leaves no room for a person where it stands: neither on it nor under it.
bool takes_floor(const Building& building, const Prism& prism, const Floor& floor, const Demand& demand);

plane::Box box_around(const Outlines& outlines);
/// Around the sources of a stage, within its step; nothing where that is empty.
std::optional<plane::Box> box_of(const Stage& stage);

/// Adds what of an outline lies within a box.
void add_within(Regions& regions, const std::vector<plane::Point>& outline, plane::Label label, const plane::Box& box);

/// All regions of a box laid over each other on the grid.
plane::Overlay laid_over(const Regions& regions, const plane::Box& box);

inline bool has_label(std::span<const plane::Label> labels, plane::Label label) {
  return std::binary_search(labels.begin(), labels.end(), label);
}

std::vector<std::size_t> things_of_openings(const Building& building, const std::vector<std::string>& openings);

/// The middle of a part's largest triangle.
plane::Point place_inside(const plane::Overlay& overlay, const plane::Part& part);

}  // namespace zoneproof::sight
