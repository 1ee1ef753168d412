#pragma once
#include <cstddef>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "plane/overlay.hpp"

/// Why a place is out of what a detector or a camera covers, as regions of the plan with a label for each reason.
namespace zoneproof::sight {

enum class Why {
  base,        ///< no reason: the label of an area itself
  hidden,      ///< by a thing of the building
  left,        ///< beyond the left edge of the picture
  right,       ///< beyond its right edge
  above,       ///< beyond its upper edge
  below,       ///< beyond its lower edge
  behind,      ///< behind the camera: beyond one of the edges as well
  too_far,     ///< a person has too few pixels there
  too_near,    ///< nearer than the lens is sharp
  masked,      ///< under a mask of the picture
  dark,        ///< beyond the reach of the camera's own light
  other_level  ///< a ceiling lies between
};

/// Whether a place is beyond an edge of the picture.
constexpr bool is_edge(Why why) {
  return why == Why::left || why == Why::right || why == Why::above || why == Why::below;
}

constexpr std::size_t kNothing = std::numeric_limits<std::size_t>::max();

/// What one label stands for.
struct Reason {
  std::size_t viewer = 0;  ///< whose reason: as the labels' owner numbers detectors and cameras
  Why why = Why::base;
  std::size_t thing = kNothing;  ///< hidden: of Building::things
  std::string mask;              ///< masked: its id
  double clear = 0.0;            ///< hidden: share that is seen through
  bool either = false;           ///< hidden: only in one state of its thing
  double clear_otherwise = 1.0;  ///< hidden, either: share that is seen through in the other
};

/// Rings with their reasons: a label is the number of its reason.
struct Regions {
  std::vector<Reason> reasons;
  std::vector<plane::Ring> rings;

  plane::Label label(Reason reason) {
    reasons.push_back(std::move(reason));
    return static_cast<plane::Label>(reasons.size() - 1);
  }
  void add(std::vector<plane::Point> corners, plane::Label label) {
    if (corners.size() >= 3) rings.push_back({std::move(corners), label});
  }
  const Reason& reason(plane::Label label) const { return reasons[static_cast<std::size_t>(label)]; }
};

/// Share of what a viewer looks at that reaches it at a place with these labels, 0 to 1: nothing where a reason other
/// than a thing stands there, else the product of what its things let through. A thing of two states counts as it is
/// `otherwise` where it is among `open`, else as it hides.
double share_reaching(const Regions& regions, std::span<const plane::Label> labels, std::size_t viewer,
                      std::span<const std::size_t> open);

/// Things of two states that stand before a viewer there, ascending, each once.
std::vector<std::size_t> either_things(const Regions& regions, std::span<const plane::Label> labels,
                                       std::size_t viewer);

}  // namespace zoneproof::sight
