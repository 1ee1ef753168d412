#include "drawing/prefixed.hpp"

#include <utility>

namespace zoneproof::drawing {

Group prefixed(Group group, const std::string& prefix) {
  const auto one = [&](Name& name) {
    if (!name.id.empty()) name.id = prefix + "-" + name.id;
  };
  one(group.name);
  for (Item& item : group.items) {
    if (auto* shape = std::get_if<Shape>(&item.what))
      one(shape->name);
    else if (auto* text = std::get_if<TextLine>(&item.what))
      one(text->name);
    else
      item.what = prefixed(std::move(std::get<Group>(item.what)), prefix);
  }
  return group;
}

}  // namespace zoneproof::drawing
