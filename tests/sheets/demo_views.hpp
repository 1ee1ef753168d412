#pragma once
#include <functional>
#include <string>

#include "drawing/sheet.hpp"
#include "site/model.hpp"

namespace zoneproof::sheets {

/// A sheet for each camera of a demo site (data/demo/NAME.site.json) whose model is known; of the site as `change`
/// leaves it, where one is given.
drawing::Document demo_views(const std::string& name, const std::function<void(site::Site&)>& change = {});

}  // namespace zoneproof::sheets
