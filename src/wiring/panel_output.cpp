#include "wiring/panel_output.hpp"

#include <fmt/format.h>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"

namespace zoneproof::wiring {

using drawing::Ink;
using drawing::Point;
using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;

namespace {

constexpr double kInside_mm = 4 * kGrid_mm;   ///< of a transistor or contact from the right edge
constexpr double kUpright_mm = 3 * kGrid_mm;  ///< from the terminal's line to the pole's
const drawing::Stroke kLine{Ink::line, drawing::kThin_mm, {}, drawing::Cap::round, drawing::Join::round};

std::string active_words(site::ActiveWhen when) {
  switch (when) {
    case site::ActiveWhen::armed: return text(say::wiring_when_armed());
    case site::ActiveWhen::disarmed: return text(say::wiring_when_disarmed());
    case site::ActiveWhen::alarm: return text(say::wiring_when_alarm());
    case site::ActiveWhen::normal: break;
  }
  return text(say::wiring_when_normal());
}

class OutputMaker {
 public:
  OutputMaker(const Context& context, const std::string& id, const std::string& row)
      : context_(context), id_(id), output_(context.site.outputs.at(id)), row_(row) {
    const site::OutputSpec* spec = site::spec_of(context.site, output_.part, &site::Part::output);
    if (spec != nullptr) kind_ = spec->kind;
  }

  PanelOutput run() {
    schematic::BoxOf spec;
    spec.id = "output-" + row_;
    spec.title = spec.name = name_of(context_.site, output_.panel.id);
    const std::string number = text(say::wiring_output(counted(output_.number)));
    spec.notes = {number};
    spec.width_mm = spec.most_mm = kPanel_mm;
    spec.part = true;
    const double room = on_grid(room_for_words(context_.ruler, spec));
    const bool positive = kind_.is(site::OutputKind::switched_positive), relay = kind_.is(site::OutputKind::relay);
    const double y = positive ? room + kUpright_mm : room;
    made_.out = id_ + "-out";
    spec.screws = {{made_.out, {}, context_.reading(made_.out), false, true, y}};
    if (relay) {
      made_.other = id_ + "-other";
      spec.screws.push_back({made_.other, {}, context_.reading(made_.other), false, true, y + kPitch_mm});
    } else if (kind_.is(site::OutputKind::open_collector)) {
      spec.height_mm = y + kUpright_mm + 2 * kGrid_mm;
    }
    made_.drawn.device = schematic::box(context_.ruler, spec, Columns::panel);
    made_.drawn.first_mm = y;
    draw(y);
    made_.notes = {output_.name == number ? std::string() : site::name_or_id(output_.name, id_), follows()};
    return std::move(made_);
  }

 private:
  void draw(double y) {
    if (!kind_.known()) return;
    const double width = made_.drawn.device.width_mm, x = width - kInside_mm;
    drawing::Group inside;
    inside.name.id = "symbol-" + row_;
    const auto line = [&](Point a, Point b) {
      inside.items.push_back({drawing::stroked({}, {drawing::line_through({a, b})}, kLine)});
    };
    line({x, y}, {width - schematic::kTerminal_mm, y});
    if (kind_.is(site::OutputKind::relay)) {
      line({x, y + kPitch_mm}, {width - schematic::kTerminal_mm, y + kPitch_mm});
      draw_relay(inside, x, y);
    } else {
      const bool negative = kind_.is(site::OutputKind::open_collector);
      const double pole = negative ? y + kUpright_mm : y - kUpright_mm;
      inside.items.push_back({schematic::transistor({x, y}, {x, pole}, negative)});
      drawing::TextLine says = drawing::text_line(
          context_.ruler, {}, text(negative ? say::wiring_minus() : say::wiring_plus()), {drawing::Role::label, false},
          drawing::kCaption_mm, Ink::text, {x, pole}, drawing::Align::middle);
      says.at.y += negative ? kGrid_mm / 4 - says.extent.box.top : -kGrid_mm / 4 - says.extent.box.bottom;
      inside.items.push_back({std::move(says)});
    }
    made_.drawn.device.content.items.push_back({std::move(inside)});
  }

  void draw_relay(drawing::Group& inside, double x, double y) {
    const bool closed = output_.relay_contact_used.is(site::RestPosition::closed);
    const schematic::Symbol symbol = !output_.relay_contact_used.known() ? schematic::Symbol::contact
                                     : closed                            ? schematic::Symbol::break_contact
                                                                         : schematic::Symbol::make_contact;
    inside.items.push_back({schematic::symbol({}, symbol, {x, y}, {x, y + kPitch_mm})});
    const double middle = y + kPitch_mm / 2, coil = x - 4 * kGrid_mm;
    constexpr double half_wide = 2.5, half_high = 1.5, blade = 1.2;
    inside.items.push_back({drawing::stroked(
        {}, {drawing::ring(drawing::Box{coil - half_wide, middle - half_high, coil + half_wide, middle + half_high})},
        kLine)});
    drawing::Stroke link{Ink::line, drawing::kFine_mm, {0.8, 0.6}};
    inside.items.push_back(
        {drawing::stroked({}, {drawing::line_through({{coil + half_wide, middle}, {x - blade, middle}})}, link)});
  }

  std::string follows() const {
    std::string says;
    if (output_.follows.is(site::FollowedEvent::armed)) {
      std::vector<std::string> partitions;
      for (const site::Ref& partition : output_.partitions)
        partitions.push_back(site::called(context_.site.partitions, partition.id));
      says = text(say::wiring_follows_armed(partitions));
    } else if (output_.follows.known()) {
      const std::string zone = zone_called(context_.site, output_.zone.id);
      says = text(output_.follows.is(site::FollowedEvent::zone_state) ? say::wiring_follows_zone(zone)
                                                                      : say::wiring_follows_memory(zone));
    }
    if (says.empty() || !output_.active_when.known()) return says;
    return text(say::wiring_active_when(says, active_words(*output_.active_when.value)));
  }

  const Context& context_;
  std::string id_;
  const site::Output& output_;
  std::string row_;
  site::Word<site::OutputKind> kind_;
  PanelOutput made_;
};

}  // namespace

PanelOutput panel_output(const Context& context, const std::string& output, const std::string& row) {
  return OutputMaker(context, output, row).run();
}

}  // namespace zoneproof::wiring
