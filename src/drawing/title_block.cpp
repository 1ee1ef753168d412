#include "drawing/title_block.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/language.hpp"
#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/drawing.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kWidest_mm = 180.0;
constexpr double kPadding_mm = 2.0, kAboveValue_mm = 1.1;

/// A field of the lower row: a small caption above its value.
struct Field {
  std::string_view id;
  std::string caption, value;
  double share;  ///< of the width
  double size_mm;
};

std::string shown_scale(const TitleBlock& block) {
  if (!block.scale) return text(say::drawing_without_scale());
  return text(say::drawing_scale_is(with_decimal_sign(fmt::format("{:.6g}", *block.scale))));
}

/// In groups of eight: so that two long numbers can be compared by eye.
std::string grouped(const std::string& digits) {
  constexpr std::size_t group = 8;
  std::string out;
  for (std::size_t at = 0; at < digits.size(); at += group) out += (at > 0 ? " " : "") + digits.substr(at, group);
  return out;
}

std::array<Field, 5> fields_of(const TitleBlock& block) {
  return {{{"revision", text(say::drawing_revision()), block.revision, 0.14, kReading_mm},
           {"hash", text(say::drawing_hash()), grouped(block.hash), 0.34, kCaption_mm},
           {"date", text(say::drawing_date()), block.date, 0.19, kReading_mm},
           {"scale", text(say::drawing_scale()), shown_scale(block), 0.17, kReading_mm},
           {"sheet", text(say::drawing_sheet()), text(say::drawing_sheet_of(block.number, block.count)), 0.16,
            kReading_mm}}};
}

/// A field with its texts broken.
struct Cell {
  TextBlock caption, value;
  double height() const { return kPadding_mm + caption.height_mm + kAboveValue_mm + value.height_mm + kPadding_mm; }
};

void add(Group& group, Group member) { group.items.push_back({std::move(member)}); }

/// The lower row from `top` on; the height it takes.
double add_fields(Group& group, const Ruler& ruler, const TitleBlock& block, const Box& box, double height) {
  double x = box.left;
  const double top = box.bottom - height;
  for (const Field& field : fields_of(block)) {
    const double width = field.share * box.width(), inner = width - 2 * kPadding_mm;
    const std::string id = fmt::format("title-{}", field.id);
    const TextBlock caption = broken(ruler, field.caption, {Role::reading, false}, kCaption_mm, inner);
    const TextBlock value = broken(ruler, field.value, {Role::label, false}, field.size_mm, inner);
    const Point at{x + kPadding_mm, top + kPadding_mm};
    add(group, set(ruler, id + "-caption", caption, Ink::quiet, at));
    add(group, set(ruler, id, value, Ink::text, at + Point{0.0, caption.height_mm + kAboveValue_mm}));
    if (x > box.left) {
      group.items.push_back({stroked({}, {line_through({{x, top}, {x, box.bottom}})}, {Ink::line, kFine_mm})});
    }
    x += width;
  }
  return height;
}

double height_of_fields(const Ruler& ruler, const TitleBlock& block, double width) {
  double height = 0.0;
  for (const Field& field : fields_of(block)) {
    const double inner = field.share * width - 2 * kPadding_mm;
    const Cell cell{broken(ruler, field.caption, {Role::reading, false}, kCaption_mm, inner),
                    broken(ruler, field.value, {Role::label, false}, field.size_mm, inner)};
    height = std::max(height, cell.height());
  }
  return height;
}

}  // namespace

TitleBlockDrawn title_block(const Ruler& ruler, const TitleBlock& block, const Box& frame) {
  const double width = std::min(kWidest_mm, frame.width()), inner = width - 2 * kPadding_mm;
  const TextBlock name = broken(ruler, block.name, {Role::reading, true}, kTitle_mm, inner);
  const TextBlock drawing = broken(ruler, block.drawing, {Role::reading, false}, kHeading_mm, inner);
  const double head = kPadding_mm + name.height_mm + kPadding_mm + drawing.height_mm + kPadding_mm;
  const double row = height_of_fields(ruler, block, width);

  TitleBlockDrawn drawn;
  drawn.box = {frame.right - width, frame.bottom - head - row, frame.right, frame.bottom};
  const Box& box = drawn.box;
  drawn.group.name.id = "title-block";
  drawn.group.items.push_back({filled({}, {ring(box)}, Ink::paper)});
  const Point at{box.left + kPadding_mm, box.top + kPadding_mm};
  add(drawn.group, set(ruler, "title-name", name, Ink::text, at));
  add(drawn.group, set(ruler, "title-drawing", drawing, Ink::quiet, at + Point{0.0, name.height_mm + kPadding_mm}));
  add_fields(drawn.group, ruler, block, box, row);
  const double line = box.top + head;
  drawn.group.items.push_back(
      {stroked({}, {line_through({{box.left, line}, {box.right, line}})}, {Ink::line, kFine_mm})});
  drawn.group.items.push_back({stroked("title-frame", {ring(box)}, {Ink::line, kMedium_mm})});
  return drawn;
}

}  // namespace zoneproof::drawing
