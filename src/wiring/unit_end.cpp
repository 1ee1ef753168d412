#include "wiring/unit_end.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;

namespace {

/// What was typed into the unit for an input, where anything was.
std::string typed(const site::InputSetting& setting) {
  if (!setting.zone_number.known() && setting.zone_name.empty()) return {};
  return text(say::wiring_typed(counted(setting.zone_number), setting.zone_name));
}

std::string joined(const std::string& a, const std::string& b) {
  return a.empty() || b.empty() ? a + b : a + " · " + b;
}

}  // namespace

UnitEnd UnitEnd::of_trigger(const Context& context, const std::string& id, double back_mm) {
  const site::Trigger& trigger = context.site.triggers.at(id);
  UnitEnd end(context, "trigger-" + id, trigger.cable);
  end.fitted_ = {"trigger-" + id, trigger.series_ohm, trigger.pullup_ohm, trigger.pulldown_ohm};
  const std::string number = counted(trigger.input);
  const std::string screw = trigger.input.known() ? fmt::format("{}-in{}", trigger.unit.id, number)
                                                  : fmt::format("{}-in-{}", trigger.unit.id, id);
  end.part_ = {"unit-" + id, trigger.unit.id, {}, {{screw, text(say::wiring_input(number)), context.reading(screw)}}};
  const std::string channel =
      trigger.channel.known() ? text(say::wiring_channel(counted(trigger.channel))) : std::string();
  end.part_.notes = {joined(channel, typed(trigger.setting))};
  if (not_known(end.fitted_)) end.part_.notes.push_back(text(say::wiring_fitted_unknown()));
  end.back_mm_ = back_mm;
  end.colour_ = trigger.core_colour;
  end.return_colour_ = trigger.return_core_colour;
  if (back_mm > 0.0) {
    const bool high = trigger.contact_to.is(site::Level::high);
    const std::string pole = !trigger.contact_to.known() ? text(say::wiring_unknown())
                             : high                      ? text(say::wiring_plus())
                                                         : text(say::wiring_minus());
    const std::string where = !trigger.contact_to.known() ? "unknown" : high ? "plus" : "minus";
    end.part_.screws.push_back({fmt::format("{}-{}.{}", trigger.unit.id, where, id), pole, {}});
  }
  end.finish();
  return end;
}

UnitEnd UnitEnd::of_arming(const Context& context, const std::string& unit) {
  const site::Arming& arming = context.site.units.at(unit).arming;
  UnitEnd end(context, "arming-" + unit, arming.cable);
  const bool up = arming.pullup_to.is(site::Level::high), down = arming.pullup_to.is(site::Level::low);
  site::Value none;
  none.state = site::Value::State::none;
  end.fitted_ = {"arming-" + unit, none, up ? arming.pullup_ohm : none, down ? arming.pullup_ohm : none};
  if (!up && !down && !arming.pullup_ohm.none())
    end.fitted_.series = site::Value{};  // there may be one, nobody knows where
  end.colour_ = arming.core_colour;
  const std::string screw = unit + "-arming";
  end.part_ = {"unit-arming-" + unit, unit, {}, {{screw, text(say::wiring_arming()), context.reading(screw)}}};
  if (arming.armed_level.known())
    end.part_.notes.push_back(text(arming.armed_level.is(site::Level::high) ? say::wiring_armed_level_high()
                                                                            : say::wiring_armed_level_low()));
  if (not_known(end.fitted_)) end.part_.notes.push_back(text(say::wiring_fitted_unknown()));
  end.finish();
  return end;
}

void UnitEnd::finish() {
  drawn_ = unit_part(*context_, part_);
  if (back_mm_ > 0.0) {  // the way back runs straight
    part_.screws.back().y_mm = drawn_.first_mm + back_mm_;
    drawn_ = unit_part(*context_, part_);
  }
  if (in_a_cable(cable_))
    cable_words_mm_ = on_grid(schematic::room_for_words(context_->ruler, cable_spec(*context_, cable_, {}, nullptr)));
}

double UnitEnd::above_mm() const { return on_grid(std::max({drawn_.first_mm, cable_words_mm_, above_wire(fitted_)})); }

double UnitEnd::below_mm() const {
  return on_grid(std::max({drawn_.device.height_mm - drawn_.first_mm, below_wire(fitted_), kGrid_mm}));
}

void UnitEnd::pass_cable(Board& board, double at_mm, Strand& wire, std::optional<Strand>& back) const {
  schematic::CableOf spec = cable_spec(*context_, cable_, id_, &board);
  spec.cores.push_back({id_ + "-core", cable_words_mm_, colour_});
  if (back) spec.cores.push_back({id_ + "-core-back", cable_words_mm_ + back_mm_, return_colour_});
  const std::size_t mark =
      board.add(schematic::cable(context_->ruler, spec, Columns::unit_cable), at_mm - cable_words_mm_);
  board.pass(wire, mark, id_ + "-core-a", id_ + "-core-b");
  if (back) board.pass(*back, mark, id_ + "-core-back-a", id_ + "-core-back-b");
}

void UnitEnd::build(Board& board, double at_mm, Strand wire, std::optional<Strand> back, bool field_cable) const {
  if (in_a_cable(cable_) && !field_cable) pass_cable(board, at_mm, wire, back);
  if (any(fitted_)) {
    const std::size_t fitted =
        board.add(fitted_device(*context_, fitted_, Columns::fitted), at_mm - above_wire(fitted_));
    board.pass(wire, fitted, "in", "out");
  }
  const std::string& screw = part_.screws.front().id;
  const std::string net = screw + "-wire";
  const std::optional<std::size_t> there = board.device_of(screw);
  const std::size_t unit = there ? *there : board.add(drawn_.device, at_mm - drawn_.first_mm);
  board.stands(screw, unit);
  board.join(net, wire.device, wire.port);
  if (!there) board.join(net, unit, screw);
  if (back && !there) board.finish(*back, unit, part_.screws.back().id);
  if (back && there) {  // another wire ends at this input already: its box has no terminal for the way back
    const std::string says =
        text(say::wiring_pole(site::called(context_->site.units, part_.unit), part_.screws.back().label));
    const std::size_t pole = board.add(schematic::reference(context_->ruler, {"pole-" + id_ + "-back", says, {}},
                                                            "wire", says, schematic::Side::left, Columns::unit),
                                       at_mm + back_mm_ - kGrid_mm);
    board.finish(*back, pole, "wire");
  }
}

}  // namespace zoneproof::wiring
