#include "drawing/list.hpp"

namespace zoneproof::drawing {

namespace {

void move(Subpath& subpath, Point by) {
  subpath.start = subpath.start + by;
  for (Piece& piece : subpath.pieces) {
    piece.to = piece.to + by;
    piece.centre = piece.centre + by;
  }
}

}  // namespace

Point TextLine::left_end() const {
  const double share = align == Align::left ? 0.0 : align == Align::middle ? 0.5 : 1.0;
  return {at.x - share * extent.width, at.y};
}

Box TextLine::box() const { return moved(extent.box, left_end()); }

Item moved(Item item, Point by) {
  if (auto* shape = std::get_if<Shape>(&item.what)) {
    for (Subpath& subpath : shape->path) move(subpath, by);
  } else if (auto* text = std::get_if<TextLine>(&item.what)) {
    text->at = text->at + by;
  } else {
    for (Item& member : std::get<Group>(item.what).items) member = moved(std::move(member), by);
  }
  return item;
}

}  // namespace zoneproof::drawing
