#pragma once
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "drawing/list.hpp"
#include "paper/blocks.hpp"

/// What blocks become before they have a page: strips as wide as the text, one below the other.
namespace zoneproof::paper {

struct Strip {
  double before_mm = 0.0;  ///< clear above, but for at the top of a page; a multiple of the grid
  double height_mm = 0.0;  ///< a multiple of the grid
  bool stays_with_next = false;
  drawing::Group group;                            ///< its upper left corner at (0, 0)
  std::vector<std::shared_ptr<const Strip>> head;  ///< set again above it where it comes first on a page
};

/// What a chapter becomes.
using Element = std::variant<Strip, NewPage, Turn, Inserted>;

/// What strips are made for.
struct Room {
  double width_mm = 0.0;
  double height_mm = 0.0;  ///< of a whole page
};

/// The same without ids and bookmarks, to be shown a second time.
drawing::Group shown_again(drawing::Group group);

/// The same with "PREFIX-" before all ids (`drawing::prefixed`), and in links to ids that stand in it.
drawing::Group with_prefix(drawing::Group group, const std::string& prefix);

}  // namespace zoneproof::paper
