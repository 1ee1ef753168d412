#pragma once
#include <map>
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "drawing/title_block.hpp"
#include "sight/camera_model.hpp"
#include "sight/picture.hpp"

namespace zoneproof::sheets {

/// What a surface of the view is called on paper.
struct Called {
  std::string surface_id;  ///< of a mark or person of the view
  std::string says;        ///< "2.3 m², behind the racking", "Zone 6, worst place: 34 % of the picture's height"
};

/// The words of an expected view: everything that is not geometry.
struct ExpectedViewWords {
  drawing::TitleBlock title;  ///< its `drawing` is set by the sheet
  drawing::Format format = drawing::landscape(drawing::kA4);
  std::string camera;              ///< its name
  double above_floor_m = 0.0;      ///< the lens, above the floor of its level
  bool areas_known = false;        ///< of all zones that it is to witness, at least one: no patch then means none
  std::vector<Called> patches;     ///< numbered in this order, from 1
  std::vector<int> patch_numbers;  ///< the numbers they have on the plan; empty: as counted
  std::vector<Called> persons;     ///< lettered in this order, from A
  std::map<std::string, std::string> masks;  ///< names of those that have one, by their ids
  std::map<std::size_t, std::string> names;  ///< of Building::things, to stand in the picture; those that are seen
  bool persons_clear = false;  ///< no name of a thing stands on a person, even where it has no other place
};

/// One page: the picture as lines within its frame, numbers and letters in it with a list beside it, a legend of what
/// occurs, how the camera stands, title block. Blind patches are hatched, the seen floor stays clean; masks are
/// crosshatched, and nothing is drawn in them but their names; no text meets another. What finds no room is told. The
/// page's name has the id "expected-view".
drawing::Sheet expected_view_sheet(const drawing::Ruler& ruler, const sight::CameraModel& camera,
                                   const sight::ExpectedView& view, const ExpectedViewWords& words);

}  // namespace zoneproof::sheets
