#pragma once
#include <string>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// The same with "`prefix`-" before every id, for a drawing that stands in a document a second time. Links to ids stay
/// as they are: they lead to the first.
Group prefixed(Group group, const std::string& prefix);

}  // namespace zoneproof::drawing
