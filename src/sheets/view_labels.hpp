#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "drawing/ruler.hpp"
#include "sheets/expected_view_sheet.hpp"
#include "sheets/view_lines.hpp"

/// Names, numbers and letters of an expected picture, and where they find room. Used by `expected_view_sheet` only.
namespace zoneproof::sheets {

/// Of a person: A, B, ... Z, AA, ...
std::string letter_of(std::size_t person);
/// Of a patch: as the plan has it, else as counted.
int number_of(const ExpectedViewWords& words, std::size_t patch);

/// What is seen of a mark or person; none where it is not seen at all.
const sight::SeenArea* seen(const sight::ExpectedView& view, const std::string& id, sight::SurfaceRole role);

struct ViewLabels {
  drawing::Group group;
  std::vector<std::string> unnamed;  ///< what found no room, to be told elsewhere
};

/// Names of masks first, in them where they fit; then the horizon's, letters of persons and numbers of patches, and at
/// last the names of things. Nothing stands on a mask but its own name, and no name or leader on a person as long as
/// there is another place.
ViewLabels view_labels(const drawing::Ruler& ruler, const sight::ExpectedView& view, const ExpectedViewWords& words,
                       const PictureFrame& picture);

}  // namespace zoneproof::sheets
