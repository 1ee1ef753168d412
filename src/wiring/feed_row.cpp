#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"
#include "wiring/rows.hpp"
#include "wiring/supply_box.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;
using schematic::Side;

namespace {

schematic::BoxOf panel_box(const Context& context, const std::string& id, const std::string& of,
                           std::vector<std::string> notes) {
  schematic::BoxOf spec;
  spec.id = id;
  spec.title = spec.name = marked(context.marks, of, name_of(context.site, of));
  if (context.marks(of) == of) spec.name = name_of(context.site, of);
  spec.notes = std::move(notes);
  spec.width_mm = spec.most_mm = kPanel_mm;
  spec.part = true;
  return spec;
}

class FeedRow : public Row {
 public:
  FeedRow(const Context& context, const std::string& unit)
      : context_(context), unit_(unit), feed_(context.site.units.at(unit).feed) {
    name_ = text(say::wiring_supply_of(site::called(context.site.units, unit)));
    for (const std::string& id : batteries_of(context.site, feed_.from.id))
      batteries_.push_back(battery_device(context, id, Columns::field_cable));
    make_source();
    UnitPart part{"unit-feed-" + unit, unit, {part_name(context.site, context.site.units.at(unit).part)}, {}};
    for (const bool plus : {true, false}) {
      const std::string screw = unit + (plus ? "-plus" : "-minus");
      part.screws.push_back({screw, text(plus ? say::wiring_plus() : say::wiring_minus()), context.reading(screw)});
    }
    unit_part_ = unit_part(context, part);
    double above = std::max(source_.first_mm, unit_part_.first_mm), below = 0.0;
    if (in_a_cable(feed_.cable))
      words_mm_ = on_grid(room_for_words(context.ruler, cable_spec(context, feed_.cable, {}, nullptr)));
    if (!batteries_.empty()) above = std::max(above, batteries_.front().first_mm);
    first_mm_ = on_grid(std::max(above, words_mm_));
    for (const PartDrawn* drawn : {&source_, &unit_part_})
      below = std::max(below, drawn->device.height_mm - drawn->first_mm);
    double low = first_mm_;
    for (std::size_t i = 0; i < batteries_.size(); ++i)
      low += batteries_[i].device.height_mm - (i == 0 ? batteries_[i].first_mm : 0.0) + (i == 0 ? 0.0 : kGrid_mm);
    height_mm_ = on_grid(std::max(first_mm_ + below, low));
  }

  void build(Board& board, double top) const override {
    const double y = top + first_mm_;
    board.add(words(context_, "feed-" + unit_, text(say::wiring_heading_supply()), {}, Columns::field, kCableWords_mm),
              y - kGrid_mm);
    const std::size_t source = board.add(source_.device, y - source_.first_mm);
    double next = y;
    for (std::size_t i = 0; i < batteries_.size(); ++i) {
      const PartDrawn& battery = batteries_[i];
      const std::size_t cell = board.add(battery.device, i == 0 ? y - battery.first_mm : next);
      next = *board.diagram().devices[cell].top_mm + battery.device.height_mm + kGrid_mm;
      board.join("battery-plus-" + unit_, cell, "plus");
      board.join("battery-minus-" + unit_, cell, "minus");
    }
    if (!batteries_.empty()) {
      board.join("battery-plus-" + unit_, source, feed_.from.id + "-battery-plus");
      board.join("battery-minus-" + unit_, source, feed_.from.id + "-battery-minus");
    }
    Strand plus{"feed-" + unit_ + "-plus", source, pole_id(feed_, true)};
    Strand minus{"feed-" + unit_ + "-minus", source, pole_id(feed_, false)};
    pass_fuse(board, y, plus);
    pass_cable(board, y, plus, minus);
    const std::size_t unit = board.add(unit_part_.device, y - unit_part_.first_mm);
    board.finish(plus, unit, unit_ + "-plus");
    board.finish(minus, unit, unit_ + "-minus");
  }

 private:
  void make_source() {
    std::vector<std::string> notes = supply_notes(context_, feed_.from.id);
    const int sheet = context_.book.first("feeds:" + feed_.from.id);
    schematic::BoxOf spec = panel_box(context_, "source-" + unit_, feed_.from.id, std::move(notes));
    if (sheet > 0) {
      spec.name = text(say::wiring_on_sheet(spec.name, sheet));
      spec.link = context_.book.link(sheet);
    }
    const double first = on_grid(room_for_words(context_.ruler, spec));
    if (!batteries_.empty()) {
      spec.screws.push_back({feed_.from.id + "-battery-plus", text(say::wiring_plus()), {}, true, false, first});
      spec.screws.push_back(
          {feed_.from.id + "-battery-minus", text(say::wiring_minus()), {}, true, false, first + kPitch_mm});
    }
    add_poles(context_, feed_, false, spec.screws);
    source_ = with_first(context_, std::move(spec), Columns::panel);
  }

  void pass_fuse(Board& board, double y, Strand& plus) const {
    if (!may_be_fused(feed_)) return;
    const schematic::Device fuse = fuse_device(context_, unit_, feed_, Columns::source);
    board.pass(plus, board.add(fuse, y - fuse.ports.front().y_mm), "in", "out");
  }

  void pass_cable(Board& board, double y, Strand& plus, Strand& minus) const {
    if (!in_a_cable(feed_.cable)) return;
    schematic::CableOf spec = cable_spec(context_, feed_.cable, "feed-" + unit_, &board);
    const std::string core = "feed-" + unit_ + "-core-";
    spec.cores = {{core + "plus", words_mm_, feed_.core_colour},
                  {core + "minus", words_mm_ + kPitch_mm, feed_.return_core_colour}};
    const std::size_t mark = board.add(schematic::cable(context_.ruler, spec, Columns::unit_cable), y - words_mm_);
    board.pass(plus, mark, core + "plus-a", core + "plus-b");
    board.pass(minus, mark, core + "minus-a", core + "minus-b");
  }

  const Context& context_;
  std::string unit_;
  const site::Feed& feed_;
  std::vector<PartDrawn> batteries_;
  PartDrawn source_, unit_part_;
  double first_mm_ = 0.0, words_mm_ = 0.0;
};

class BondRow : public Row {
 public:
  BondRow(const Context& context, const std::string& id) : id_(id) {
    const site::Bond& bond = context.site.bonds.at(id);
    name_ = text(say::wiring_negatives_of(site::name_or_id(bond.name, id)));
    const std::string minus = text(say::wiring_minus());
    a_ =
        with_first(context, with_screw(panel_box(context, "bond-" + id + "-a", bond.a.id, {}), bond.a.id, minus, false),
                   Columns::panel);
    schematic::BoxOf far = panel_box(context, "bond-" + id + "-b", bond.b.id, {});
    far.width_mm = far.most_mm = kUnit_mm;
    b_ = with_first(context, with_screw(std::move(far), bond.b.id, minus, true), Columns::unit);
    over_ = bond_words(context, id);
    words_mm_ = on_grid(room_for_words(context.ruler, over_));
    over_.cores = {{"bond-" + id + "-core", words_mm_, bond.core_colour}};
    mark_ = schematic::cable(context.ruler, over_, Columns::unit_cable);
    heading_ = words(context, "bond-" + id, text(say::wiring_negatives()), {}, Columns::field, kCableWords_mm);
    first_mm_ = on_grid(std::max({a_.first_mm, b_.first_mm, words_mm_}));
    height_mm_ = first_mm_ + kGrid_mm;
  }

  void build(Board& board, double top) const override {
    const double y = top + first_mm_;
    board.add(heading_, y - kGrid_mm);
    const std::size_t a = board.add(a_.device, y - a_.first_mm), b = board.add(b_.device, y - b_.first_mm);
    const std::size_t mark = board.add(mark_, y - words_mm_);
    Strand wire{"bond-" + id_, a, a_.device.ports.front().id};
    board.pass(wire, mark, "bond-" + id_ + "-core-a", "bond-" + id_ + "-core-b");
    board.finish(wire, b, b_.device.ports.front().id);
  }

 private:
  schematic::BoxOf with_screw(schematic::BoxOf spec, const std::string& of, const std::string& label, bool left) const {
    spec.screws = {{of + "-minus.bond-" + id_, label, {}, left, !left}};
    return spec;
  }

  std::string id_;
  PartDrawn a_, b_;
  schematic::CableOf over_;
  schematic::Device mark_, heading_;
  double words_mm_ = 0.0, first_mm_ = 0.0;
};

class WirelessRow : public Row {
 public:
  WirelessRow(const Context& context, const std::string& id) {
    const site::Trigger& trigger = context.site.triggers.at(id);
    const std::string channel = text(say::wiring_channel(counted(trigger.channel)));
    const bool live = trigger.source.is(site::TriggerSource::live_view);
    name_ = trigger.zone.known() ? zone_called(context.site, trigger.zone.id) : channel;
    const Message why = live ? say::wiring_source_live_view()
                        : trigger.source.is(site::TriggerSource::camera_analytics)
                            ? say::wiring_source_camera_analytics()
                            : say::wiring_source_unknown();
    constexpr double wide = 150.0;
    const std::string says =
        trigger.zone.known() ? text(say::wiring_no_wire(channel, name_)) : text(say::wiring_no_wire_no_zone(channel));
    device_ = words(context, "trigger-" + id, says, {text(why)}, Columns::field, wide);
    device_.width_mm = kGrid_mm;  // it may stand over columns that hold nothing at its height
    height_mm_ = device_.height_mm;
  }

  void build(Board& board, double top) const override { board.add(device_, top); }

 private:
  schematic::Device device_;
};

}  // namespace

std::unique_ptr<Row> feed_row(const Context& context, const std::string& unit) {
  return std::make_unique<FeedRow>(context, unit);
}
std::unique_ptr<Row> bond_row(const Context& context, const std::string& bond) {
  return std::make_unique<BondRow>(context, bond);
}
std::unique_ptr<Row> wireless_row(const Context& context, const std::string& trigger) {
  return std::make_unique<WirelessRow>(context, trigger);
}

}  // namespace zoneproof::wiring
