#pragma once
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "sheets/plan_labels.hpp"
#include "sheets/plan_place.hpp"
#include "sight/zone_view.hpp"

/// What the layers of a plan are drawn on. Used by plan_* only.
namespace zoneproof::sheets {

/// What a plan shows, in the order of its legend. The legend has those that occur.
enum class PlanSign {
  wall_full,
  wall_low,
  wall_hanging,
  wall_glass,
  wall_mesh,
  wall_unknown,
  doorway,
  door,
  window,
  shutter,
  closed,
  open,
  either,
  column,
  racking,
  racking_open,
  racking_either,
  shelf,
  counter,
  machine,
  body,
  hanging,
  stair,
  camera,
  detector,
  contact,
  other_detector,
  beam,
  area,
  patch,
  protected_place,
  privacy,
  frame,
  contour
};

struct PlanCanvas {
  const drawing::Ruler& ruler;
  const sight::Scene& scene;
  std::string level;
  PlanPlace place;
  std::set<PlanSign> signs;
  std::vector<drawing::Line> lines;   ///< what names keep off where they can
  std::vector<drawing::Line> walls;   ///< of these, what a name does not reach over to its symbol
  std::vector<PlanLabel> labels;      ///< names and numbers, to be placed when everything is drawn
  std::vector<drawing::Box> symbols;  ///< of what has no name: nothing covers it
  std::vector<std::string> unknown;   ///< pointers of what could not be drawn
  std::set<std::string> told;         ///< ids of things that a cause names: their names have to be found on the plan
  /// Ids of the cameras and detectors that are drawn, and nothing that is there for other readers: protected places,
  /// privacy areas; what is detected stands out then. Nothing: all of everything.
  std::optional<std::set<std::string>> only = {};

  const site::Site& site() const { return scene.site(); }
  /// As before anything was drawn.
  void clear() {
    signs.clear();
    lines.clear();
    walls.clear();
    labels.clear();
    symbols.clear();
    unknown.clear();
  }
};

}  // namespace zoneproof::sheets
