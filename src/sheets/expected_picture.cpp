#include "sheets/expected_picture.hpp"

#include <algorithm>
#include <utility>

#include "drawing/prefixed.hpp"
#include "sheets/view_labels.hpp"
#include "sheets/view_lines.hpp"

namespace zoneproof::sheets {

ExpectedPicture expected_picture(const drawing::Ruler& ruler, const ViewOfCamera& camera, const std::string& id,
                                 const drawing::Box& room) {
  const sight::ExpectedView& view = camera.view;
  PictureFrame picture;
  picture.mm_per_px = std::min(room.width() / view.width_px, room.height() / view.height_px);
  picture.box = {room.left, room.top, room.left + view.width_px * picture.mm_per_px,
                 room.top + view.height_px * picture.mm_per_px};
  drawing::Group group;
  group.items.push_back({view_lines(view, picture)});
  ViewLabels labels = view_labels(ruler, view, camera.words, picture);
  group.items.push_back({std::move(labels.group)});
  group = drawing::prefixed(std::move(group), id);
  group.name.id = id;
  return {std::move(group), picture.box, std::move(labels.unnamed)};
}

}  // namespace zoneproof::sheets
