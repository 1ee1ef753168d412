#pragma once
#include <string>
#include <vector>

#include "sheets/expected_view_of.hpp"

namespace zoneproof::sheets {

/// The picture of expected_view_sheet alone, as a figure: as large as it gets in `room`, at its top and left.
struct ExpectedPicture {
  drawing::Group group;
  drawing::Box box;
  std::vector<std::string> unnamed;  ///< things that are seen and have no room for their name
};

/// Ids begin with `id`. Cost: that of its labels, 1 to 50 ms.
ExpectedPicture expected_picture(const drawing::Ruler& ruler, const ViewOfCamera& camera, const std::string& id,
                                 const drawing::Box& room);

}  // namespace zoneproof::sheets
