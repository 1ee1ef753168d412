#pragma once
#include <string>

#include "drawing/sheet.hpp"

namespace zoneproof::sheets {

/// A sheet for each camera of a demo site (data/demo/NAME.site.json) whose model is known.
drawing::Document demo_views(const std::string& name);

}  // namespace zoneproof::sheets
