#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "drawing/colour.hpp"
#include "drawing/geometry.hpp"
#include "drawing/ruler.hpp"

/// The display list: a drawing as values. Everything in it has its final place in millimetres; writers only write.
/// Later items lie over earlier ones. There is no transparency: it prints badly and differs between viewers.
namespace zoneproof::drawing {

/// What every item can have. `id` is stable between runs and unique on its sheet, or empty where nobody asks for it;
/// letters, digits, '_', '-' and '.', beginning with a letter. `title` is told by screen readers and shown by browsers
/// when pointed at. `link` is "#id" of an item of the same document or an http, https or mailto address.
struct Name {
  std::string id, title, link;
};

enum class Cap { butt, round };
enum class Join { miter, round };

/// Widths after ISO 128-2 (0.13, 0.18, 0.25, 0.35, 0.5, 0.7). Dashes are lengths of line and gap in turn; empty: solid.
struct Stroke {
  Ink ink = Ink::line;
  double width_mm = 0.25;
  std::vector<double> dashes_mm = {};
  Cap cap = Cap::butt;
  Join join = Join::miter;
};

/// A straight piece to `to`, or, with a radius above 0, an arc about `centre` that ends there: it begins where the
/// piece before ended, at `from_deg`, and goes on by `sweep_deg` (clockwise on paper where positive, at most 360).
struct Piece {
  Point to;
  double radius = 0.0;
  Point centre = {};
  double from_deg = 0.0, sweep_deg = 0.0;
};

struct Subpath {
  Point start;
  std::vector<Piece> pieces;
  bool closed = false;
};

/// Lines and areas. A fill is even-odd: subpaths inside of others are holes.
struct Shape {
  Name name;
  std::vector<Subpath> path;
  std::optional<Ink> fill;
  std::optional<Stroke> stroke;
};

enum class Align { left, middle, right };

/// One line of text. `at` lies on the baseline, at the end or middle that `align` says.
struct TextLine {
  Name name;
  std::string content;
  Face face;
  double size_mm = 2.5;
  Ink ink = Ink::text;
  Point at;
  Align align = Align::left;
  Extent extent;  ///< as measured; writers take the width from it

  Point left_end() const;  ///< of its baseline
  Box box() const;         ///< on the sheet
};

struct Item;

/// A layer or a thing that consists of several items. A `bookmark` makes an entry in the outline of a PDF: below that
/// of its sheet, or, with a level above 0, below the last one of a lower level, on whichever sheet that is.
struct Group {
  Name name;
  std::vector<Item> items;
  std::string bookmark;
  int bookmark_level = 0;  ///< 1: a chapter of the document
};

struct Item {
  std::variant<Shape, TextLine, Group> what;
};

/// The same, elsewhere. Ids stay.
Item moved(Item item, Point by);

/// Calls `on_shape(const Shape&)` and `on_text(const TextLine&)` for everything in a group, in drawing order.
template <typename OnShape, typename OnText>
void each(const Group& group, const OnShape& on_shape, const OnText& on_text) {
  for (const Item& item : group.items) {
    if (const auto* shape = std::get_if<Shape>(&item.what)) {
      on_shape(*shape);
    } else if (const auto* text = std::get_if<TextLine>(&item.what)) {
      on_text(*text);
    } else {
      each(std::get<Group>(item.what), on_shape, on_text);
    }
  }
}

}  // namespace zoneproof::drawing
