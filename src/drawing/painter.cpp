#include "drawing/painter.hpp"

#include <numbers>

#include "drawing/fonts_inside.hpp"
#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kRadians = std::numbers::pi / 180.0;

class Painter {
 public:
  Painter(cairo_t* cairo, const Fonts& fonts, Palette palette, const PaintingHooks& hooks)
      : cairo_(cairo), fonts_(fonts), palette_(palette), hooks_(hooks) {}

  void paint(const Group& group) {
    for (const Item& item : group.items) {
      const Name& name = std::visit([](const auto& what) -> const Name& { return what.name; }, item.what);
      const bool told = !name.id.empty() || !name.link.empty();
      const Box box = told ? bounds_of(item) : Box{};
      if (told && hooks_.before) hooks_.before(name, box);
      std::visit([this](const auto& what) { paint(what); }, item.what);
      if (told && hooks_.after) hooks_.after(name, box);
    }
  }

  void set_ink(Ink ink) {
    const Colour found = colour(ink, palette_);
    cairo_set_source_rgb(cairo_, found.red / 255.0, found.green / 255.0, found.blue / 255.0);
  }

 private:
  static Box bounds_of(const Item& item) {
    if (const auto* shape = std::get_if<Shape>(&item.what)) return bounds(shape->path);
    if (const auto* text = std::get_if<TextLine>(&item.what)) return text->box();
    return bounds(std::get<Group>(item.what));
  }

  void trace(const Subpath& subpath) {
    cairo_new_sub_path(cairo_);
    cairo_move_to(cairo_, subpath.start.x, subpath.start.y);
    for (const Piece& piece : subpath.pieces) {
      const double from = piece.from_deg * kRadians, to = (piece.from_deg + piece.sweep_deg) * kRadians;
      if (piece.radius <= 0) {
        cairo_line_to(cairo_, piece.to.x, piece.to.y);
      } else if (piece.sweep_deg > 0) {
        cairo_arc(cairo_, piece.centre.x, piece.centre.y, piece.radius, from, to);
      } else {
        cairo_arc_negative(cairo_, piece.centre.x, piece.centre.y, piece.radius, from, to);
      }
    }
    if (subpath.closed) cairo_close_path(cairo_);
  }

  void paint(const Shape& shape) {
    if (shape.path.empty()) return;
    cairo_new_path(cairo_);
    for (const Subpath& subpath : shape.path) trace(subpath);
    if (shape.fill) {
      set_ink(*shape.fill);
      cairo_set_fill_rule(cairo_, CAIRO_FILL_RULE_EVEN_ODD);
      cairo_fill_preserve(cairo_);
    }
    if (shape.stroke) {
      const Stroke& stroke = *shape.stroke;
      set_ink(stroke.ink);
      cairo_set_line_width(cairo_, stroke.width_mm);
      cairo_set_line_cap(cairo_, stroke.cap == Cap::round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
      cairo_set_line_join(cairo_, stroke.join == Join::round ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
      cairo_set_miter_limit(cairo_, 4.0);  // as SVG has it
      cairo_set_dash(cairo_, stroke.dashes_mm.data(), static_cast<int>(stroke.dashes_mm.size()), 0.0);
      cairo_stroke_preserve(cairo_);
    }
    cairo_new_path(cairo_);
  }

  void paint(const TextLine& text) {
    if (text.content.empty()) return;
    const Owned<PangoLayout> layout = fonts_.inside().layout(text.content, text.face);
    const Point at = text.left_end();
    const double scale = text.size_mm / kLayoutSize;
    cairo_save(cairo_);
    set_ink(text.ink);
    cairo_translate(cairo_, at.x, at.y);
    cairo_scale(cairo_, scale, scale);
    cairo_move_to(cairo_, 0.0, 0.0);
    pango_cairo_show_layout_line(cairo_, pango_layout_get_line_readonly(layout.get(), 0));
    cairo_restore(cairo_);
    cairo_new_path(cairo_);
  }

  cairo_t* cairo_;
  const Fonts& fonts_;
  Palette palette_;
  const PaintingHooks& hooks_;
};

}  // namespace

Box bounds(const Group& group) {
  Box box = bounds(std::vector<Subpath>{});
  each(
      group,
      [&](const Shape& shape) {
        if (!shape.path.empty()) box = united(box, bounds(shape.path));
      },
      [&](const TextLine& text) { box = united(box, text.box()); });
  return box;
}

void paint(cairo_t* cairo, const Fonts& fonts, const Sheet& sheet, Palette palette, const PaintingHooks& hooks) {
  Painter painter(cairo, fonts, palette, hooks);
  painter.set_ink(Ink::paper);
  cairo_rectangle(cairo, 0.0, 0.0, sheet.format.width_mm, sheet.format.height_mm);
  cairo_fill(cairo);
  painter.paint(sheet.content);
}

}  // namespace zoneproof::drawing
