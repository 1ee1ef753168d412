#include "paper/strip.hpp"

#include <set>
#include <utility>

#include "drawing/prefixed.hpp"

namespace zoneproof::paper {

namespace {

template <typename Change>
void each_name(drawing::Group& group, const Change& change) {
  change(group.name);
  for (drawing::Item& item : group.items) {
    if (auto* inner = std::get_if<drawing::Group>(&item.what)) {
      each_name(*inner, change);
    } else if (auto* shape = std::get_if<drawing::Shape>(&item.what)) {
      change(shape->name);
    } else {
      change(std::get<drawing::TextLine>(item.what).name);
    }
  }
}

void drop_bookmarks(drawing::Group& group) {
  group.bookmark.clear();
  for (drawing::Item& item : group.items)
    if (auto* inner = std::get_if<drawing::Group>(&item.what)) drop_bookmarks(*inner);
}

}  // namespace

drawing::Group shown_again(drawing::Group group) {
  each_name(group, [](drawing::Name& name) { name.id.clear(); });
  drop_bookmarks(group);
  return group;
}

drawing::Group with_prefix(drawing::Group group, const std::string& prefix) {
  std::set<std::string> ids;
  each_name(group, [&](drawing::Name& name) { ids.insert(name.id); });
  each_name(group, [&](drawing::Name& name) {
    if (name.link.starts_with('#') && ids.contains(name.link.substr(1)))
      name.link = "#" + prefix + "-" + name.link.substr(1);
  });
  return drawing::prefixed(std::move(group), prefix);
}

}  // namespace zoneproof::paper
