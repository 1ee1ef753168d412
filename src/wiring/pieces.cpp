#include "wiring/pieces.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/wiring.hpp"
#include "schematic/symbols.hpp"
#include "site/relations.hpp"

namespace zoneproof::wiring {

using drawing::Ink;
using drawing::Point;
using drawing::Role;
using schematic::kGrid_mm;
using schematic::on_grid;
using schematic::Side;

namespace {

constexpr double kBetweenWords_mm = 0.8, kBeside_mm = 0.7;
constexpr drawing::Face kFace{Role::label, false};

struct SetWords {
  std::vector<drawing::TextBlock> blocks;
  double width_mm = 0.0, height_mm = 0.0;
};

SetWords set(const Context& context, const std::string& name, const std::vector<std::string>& notes, double width_mm) {
  SetWords words;
  const auto add = [&](const std::string& says, bool bold) {
    if (says.empty()) return;
    words.blocks.push_back(drawing::broken(context.ruler, says, {Role::label, bold},
                                           bold ? drawing::kLabel_mm : drawing::kCaption_mm, width_mm));
    words.height_mm += words.blocks.back().height_mm + (words.blocks.size() > 1 ? kBetweenWords_mm : 0.0);
    words.width_mm = std::max(words.width_mm, words.blocks.back().width_mm);
  };
  add(name, true);
  for (const std::string& note : notes) add(note, false);
  return words;
}

}  // namespace

double height_of_words(const Context& context, const std::string& name, const std::vector<std::string>& notes,
                       double width_mm) {
  return set(context, name, notes, width_mm).height_mm;
}

schematic::Device words(const Context& context, const std::string& id, const std::string& name,
                        const std::vector<std::string>& notes, int column, double width_mm) {
  const SetWords words = set(context, name, notes, width_mm);
  schematic::Device device;
  device.id = id;
  device.column = column;
  device.width_mm = on_grid(words.width_mm);
  device.height_mm = on_grid(words.height_mm);
  device.standing = schematic::Standing::left;
  device.content.name = {id, name, {}};
  double y = 0.0;
  for (std::size_t i = 0; i < words.blocks.size(); ++i) {
    device.content.items.push_back({drawing::set(context.ruler, id + "-words-" + std::to_string(i + 1), words.blocks[i],
                                                 i == 0 ? Ink::text : Ink::quiet, {0.0, y})});
    y += words.blocks[i].height_mm + kBetweenWords_mm;
  }
  return device;
}

std::vector<std::string> words_of_cable(const Context& context, const site::Ref& cable, bool full) {
  if (cable.unknown()) return {text(full ? say::wiring_cable_unknown() : say::wiring_unknown())};
  if (!full) return {context.marks(cable.id)};
  std::vector<std::string> says = {marked(context.marks, cable.id, site::called(context.site.cables, cable.id)),
                                   cable_says(context.site, cable.id)};
  const auto found = context.site.cables.find(cable.id);
  if (found != context.site.cables.end() && found->second.cores_in_parallel.value.value_or(1) > 1)
    says.push_back(text(say::wiring_cable_parallel(*found->second.cores_in_parallel.value)));
  return says;
}

schematic::CableOf cable_spec(const Context& context, const site::Ref& cable, const std::string& of, Board* board,
                              bool full) {
  // Ids of cables begin with a letter: "0" is none of them.
  const std::string id = fmt::format("cable-{}-{}", cable.unknown() ? "0" : cable.id, of);
  const bool all = full && (cable.unknown() || board == nullptr || board->first_time("cable:" + cable.id));
  const std::string title =
      cable.unknown() ? text(say::wiring_cable_unknown()) : site::called(context.site.cables, cable.id);
  return {id, title, words_of_cable(context, cable, all), {}, kCableWords_mm};
}

schematic::Device fuse_device(const Context& context, const std::string& of, const site::Feed& feed, int column) {
  const bool known = feed.fuse_A.known();
  return in_wire(context, "fuse-" + of, known ? schematic::Symbol::fuse : schematic::Symbol::fuse_not_known,
                 known ? amperes(feed.fuse_A) : text(say::wiring_fuse_unknown()), column);
}

// --- resistors at an input ----------------------------------------------------------------------------------------

namespace {

constexpr double kPulled_mm = schematic::kSymbol_mm;
constexpr double kPoleUp_mm = 3 * kGrid_mm + kPulled_mm - kGrid_mm;  // wire, resistor, the name of the pole

bool stands(const site::Value& value) { return value.known(); }

}  // namespace

bool not_known(const Fitted& fitted) {
  return fitted.series.unknown() || fitted.pullup.unknown() || fitted.pulldown.unknown();
}
bool any(const Fitted& fitted) { return stands(fitted.series) || stands(fitted.pullup) || stands(fitted.pulldown); }
double above_wire(const Fitted& fitted) {
  return stands(fitted.pullup) ? kPoleUp_mm : stands(fitted.series) ? 2 * kGrid_mm : 0.0;
}
double below_wire(const Fitted& fitted) { return stands(fitted.pulldown) ? kPoleUp_mm : kGrid_mm; }

namespace {

/// Draws from left to right along the wire.
class FittedMaker {
 public:
  FittedMaker(const Context& context, const Fitted& fitted, int column) : context_(context), fitted_(fitted) {
    device_.id = "fitted-" + fitted.id;
    device_.column = column;
    y_ = above_wire(fitted);
    device_.height_mm = y_ + below_wire(fitted);
    device_.content.name = {device_.id, {}, {}};
  }

  schematic::Device run(const std::string& plus, const std::string& minus) {
    if (stands(fitted_.series)) add_series();
    if (stands(fitted_.pullup)) add_upright("pullup", fitted_.pullup, plus, -1.0);
    if (stands(fitted_.pulldown)) add_upright("pulldown", fitted_.pulldown, minus, 1.0);
    end_piece(x_);
    device_.width_mm = x_;
    device_.ports = {{"in", Side::left, y_}, {"out", Side::right, y_}};
    device_.content.items.insert(device_.content.items.begin(), pieces_.begin(), pieces_.end());
    return std::move(device_);
  }

 private:
  void end_piece(double x) {
    if (x > piece_from_) lines_.push_back({{piece_from_, y_}, {x, y_}});
    if (!lines_.empty())
      pieces_.push_back({schematic::wire("wire-" + device_.id + "-" + std::to_string(pieces_.size() + 1), lines_)});
    lines_.clear();
  }

  void add_series() {
    const std::string says = ohms(fitted_.series), id = "resistor-" + fitted_.id + "-series";
    const double wide = context_.ruler.measure(says, kFace, drawing::kCaption_mm).width;
    const double width = std::max(kPulled_mm, on_grid(wide + kBeside_mm));
    const double begin = x_ + (width - kPulled_mm) / 2;
    end_piece(begin);
    device_.content.items.push_back(
        {schematic::symbol(id, schematic::Symbol::resistor, {begin, y_}, {begin + kPulled_mm, y_})});
    add_text(says, {x_ + width / 2, y_ - schematic::above(schematic::Symbol::resistor) - kBeside_mm},
             drawing::Align::middle, id + "-says");
    piece_from_ = begin + kPulled_mm;
    x_ += width;
  }

  void add_upright(const std::string& what, const site::Value& value, const std::string& pole, double sign) {
    const std::string says = ohms(value), id = "resistor-" + fitted_.id + "-" + what;
    const double pole_wide = context_.ruler.measure(pole, kFace, drawing::kCaption_mm).width;
    const double wide = context_.ruler.measure(says, kFace, drawing::kCaption_mm).width;
    const double left = std::max(kGrid_mm, on_grid(pole_wide / 2)), x = x_ + left;
    const double first = y_ + sign * kGrid_mm, end = first + sign * kPulled_mm;
    lines_.push_back({{x, y_}, {x, first}});
    device_.content.items.push_back({schematic::junction({x, y_})});
    device_.content.items.push_back({schematic::symbol(id, schematic::Symbol::resistor, {x, first}, {x, end})});
    const drawing::Extent extent = context_.ruler.measure(says, kFace, drawing::kCaption_mm);
    const double middle = (first + end) / 2 - (extent.box.top + extent.box.bottom) / 2;
    add_text(says, {x + schematic::above(schematic::Symbol::resistor) + kBeside_mm, middle}, drawing::Align::left,
             id + "-says");
    add_pole(what, pole, {x, end}, sign);
    x_ = on_grid(x + std::max(pole_wide / 2, schematic::above(schematic::Symbol::resistor) + kBeside_mm + wide));
  }

  /// The pole that the resistor goes to: a bar and its name.
  void add_pole(const std::string& what, const std::string& pole, Point at, double sign) {
    constexpr double half = 1.4;
    drawing::Group group;
    group.name = {"pole-" + fitted_.id + "-" + what, pole, {}};
    group.items.push_back({drawing::stroked({}, {drawing::line_through({{at.x - half, at.y}, {at.x + half, at.y}})},
                                            {Ink::line, drawing::kMedium_mm})});
    drawing::TextLine line = drawing::text_line(context_.ruler, {}, pole, kFace, drawing::kCaption_mm, Ink::text, at,
                                                drawing::Align::middle);
    line.at.y += sign < 0 ? -kBeside_mm - line.extent.box.bottom : kBeside_mm - line.extent.box.top;
    group.items.push_back({std::move(line)});
    device_.content.items.push_back({std::move(group)});
  }

  void add_text(const std::string& says, Point at, drawing::Align align, const std::string& id) {
    device_.content.items.push_back(
        {drawing::text_line(context_.ruler, id, says, kFace, drawing::kCaption_mm, Ink::text, at, align)});
  }

  const Context& context_;
  const Fitted& fitted_;
  schematic::Device device_;
  std::vector<drawing::Item> pieces_;
  std::vector<drawing::Line> lines_;
  double x_ = 0.0, y_ = 0.0, piece_from_ = 0.0;
};

}  // namespace

schematic::Device fitted_device(const Context& context, const Fitted& fitted, int column) {
  return FittedMaker(context, fitted, column).run(text(say::wiring_plus()), text(say::wiring_minus()));
}

schematic::Device in_wire(const Context& context, const std::string& id, schematic::Symbol kind,
                          const std::string& says, int column) {
  const drawing::Extent extent = context.ruler.measure(says, kFace, drawing::kCaption_mm);
  const double y = 2 * kGrid_mm, width = std::max(schematic::kSymbol_mm, on_grid(extent.width + kBeside_mm));
  schematic::Device device;
  device.id = id;
  device.column = column;
  device.width_mm = width;
  device.height_mm = y + kGrid_mm;
  device.ports = {{"in", Side::left, y}, {"out", Side::right, y}};
  device.content.name = {id, says, {}};
  device.content.items.push_back({schematic::symbol(id + "-symbol", kind, {0.0, y}, {width, y})});
  device.content.items.push_back(
      {drawing::text_line(context.ruler, id + "-says", says, kFace, drawing::kCaption_mm, Ink::text,
                          {width / 2, y - schematic::above(kind) - kBeside_mm}, drawing::Align::middle)});
  return device;
}

schematic::Device across_wires(const Context& context, const std::string& id, const std::string& says, double apart_mm,
                               int column) {
  const drawing::Extent extent = context.ruler.measure(says, kFace, drawing::kCaption_mm);
  const double x = kGrid_mm, text_at = x + schematic::above(schematic::Symbol::resistor) + kBeside_mm;
  const double width = on_grid(text_at + extent.width), first = kGrid_mm, second = first + apart_mm;
  schematic::Device device;
  device.id = id;
  device.column = column;
  device.width_mm = width;
  device.height_mm = second + kGrid_mm;
  device.ports = {{"first-in", Side::left, first},
                  {"first-out", Side::right, first},
                  {"second-in", Side::left, second},
                  {"second-out", Side::right, second}};
  drawing::Group& group = device.content;
  group.name = {id, says, {}};
  group.items.push_back({schematic::wire("wire-" + id + "-first", {{{0.0, first}, {width, first}}})});
  group.items.push_back({schematic::wire("wire-" + id + "-second", {{{0.0, second}, {width, second}}})});
  for (const double y : {first, second}) group.items.push_back({schematic::junction({x, y})});
  group.items.push_back({schematic::symbol(id + "-symbol", schematic::Symbol::resistor, {x, first}, {x, second})});
  const double middle = (first + second) / 2 - (extent.box.top + extent.box.bottom) / 2;
  group.items.push_back({drawing::text_line(context.ruler, id + "-says", says, kFace, drawing::kCaption_mm, Ink::text,
                                            {text_at, middle})});
  return device;
}

// --- boxes ----------------------------------------------------------------------------------------------------------

PartDrawn with_first(const Context& context, schematic::BoxOf spec, int column) {
  PartDrawn drawn;
  drawn.device = schematic::box(context.ruler, spec, column);
  drawn.first_mm = on_grid(schematic::room_for_words(context.ruler, spec));
  return drawn;
}

PartDrawn unit_part(const Context& context, const UnitPart& part) {
  schematic::BoxOf spec;
  spec.id = part.id;
  spec.name = site::called(context.site.units, part.unit);
  spec.title = spec.name;
  spec.notes = part.notes;
  spec.screws = part.screws;
  spec.width_mm = spec.most_mm = kUnit_mm;
  spec.part = true;
  return with_first(context, std::move(spec), Columns::unit);
}

namespace {

std::string kind_of_bond(const site::Bond& bond) {
  if (!bond.kind.known()) return text(say::wiring_unknown());
  switch (*bond.kind.value) {
    case site::BondKind::wire: return text(say::wiring_bond_wire());
    case site::BondKind::coaxial_screen: return text(say::wiring_bond_coaxial_screen());
    case site::BondKind::data_screen: return text(say::wiring_bond_data_screen());
    case site::BondKind::serial_line: return text(say::wiring_bond_serial_line());
    default: return text(say::wiring_bond_earth());
  }
}

}  // namespace

schematic::CableOf bond_words(const Context& context, const std::string& id) {
  const site::Bond& bond = context.site.bonds.at(id);
  const bool wire = bond.kind.is(site::BondKind::wire) && !bond.resistance_ohm.known();
  const bool in_cable = bond.cable.known() || (bond.cable.unknown() && wire);  // screens and earth need none
  schematic::CableOf spec;
  if (in_cable) spec = cable_spec(context, bond.cable, {}, nullptr);
  spec.id = "bond-" + id + "-over";
  spec.title = site::name_or_id(bond.name, id);
  spec.slot = in_cable;
  spec.most_mm = kCableWords_mm;
  std::string kind = kind_of_bond(bond);
  if (!spec.slot && bond.resistance_ohm.known()) kind = text(say::wiring_with_part(kind, ohms(bond.resistance_ohm)));
  if (!spec.slot) spec.says = {spec.title};
  spec.says.insert(spec.says.begin() + 1, kind);
  return spec;
}

// --- poles ----------------------------------------------------------------------------------------------------------

std::string pole_id(const site::Feed& feed, bool plus) {
  const std::string pole = plus ? "plus" : "minus";
  return feed.output.empty() ? feed.from.id + "-" + pole : feed.from.id + "-" + feed.output + "-" + pole;
}

std::string pole_name(const Context& context, const site::Feed& feed, bool plus) {
  std::string of = feed.from.known() ? context.marks(feed.from.id) : text(say::wiring_unknown());
  if (!feed.output.empty()) of = text(say::wiring_named(of, feed.output));
  return text(say::wiring_pole(of, text(plus ? say::wiring_plus() : say::wiring_minus())));
}

schematic::Device pole_tag(const Context& context, const site::Feed& feed, bool plus, const std::string& id,
                           Side wire_on, int column) {
  const int sheet = context.book.first("feeds:" + feed.from.id);
  std::string says = pole_name(context, feed, plus);
  if (sheet > 0) says = text(say::wiring_on_sheet(says, sheet));
  const std::string title = name_of(context.site, feed.from.id) + " " + feed.output;
  return schematic::reference(context.ruler, {id, title, context.book.link(sheet)}, "wire", says, wire_on, column);
}

}  // namespace zoneproof::wiring
