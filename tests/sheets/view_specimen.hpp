#pragma once
#include <optional>
#include <string>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "sheets/expected_view_sheet.hpp"
#include "sight/picture.hpp"

/// An invented store room with everything in it that an expected picture can show, for tests and for the eye.
namespace zoneproof::sheets {

enum class SpecimenLens { pinhole, barrel, fisheye };

struct ViewSpecimen {
  sight::Building building;
  std::optional<sight::CameraModel> camera;
  sight::ExpectedView view;
  ExpectedViewWords words;
};
/// Masked: with a box under which its name has room, a strip that is too narrow for its name, and a nameless corner.
ViewSpecimen view_specimen(SpecimenLens lens, bool masked = false);

}  // namespace zoneproof::sheets
