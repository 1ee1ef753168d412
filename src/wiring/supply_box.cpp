#include "wiring/supply_box.hpp"

#include <algorithm>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/wiring.hpp"
#include "schematic/symbols.hpp"
#include "site/relations.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;
using schematic::Side;

PartDrawn battery_device(const Context& context, const std::string& id, int column) {
  const site::Battery& battery = context.site.batteries.at(id);
  std::string name = site::name_or_id(battery.name, id);
  if (!battery.blocks_in_parallel.known())
    name = text(say::wiring_battery_unknown(name));
  else if (*battery.blocks_in_parallel.value > 1)
    name = text(say::wiring_battery(name, *battery.blocks_in_parallel.value));
  PartDrawn drawn;
  drawn.device = words(context, "battery-" + id, marked(context.marks, id, name),
                       {part_name(context.site, battery.part)}, column, kCableWords_mm);
  schematic::Device& device = drawn.device;
  constexpr double clear = 1.0;
  const double y = on_grid(height_of_words(context, marked(context.marks, id, name),
                                           {part_name(context.site, battery.part)}, kCableWords_mm) +
                           clear);
  const double x = device.width_mm / 2;
  device.standing = schematic::Standing::right;
  device.height_mm = y + kPitch_mm + kGrid_mm;
  device.ports = {{"plus", Side::right, y}, {"minus", Side::right, y + kPitch_mm}};
  device.content.items.push_back({schematic::wire("wire-" + id + "-plus", {{{x, y}, {device.width_mm, y}}})});
  device.content.items.push_back(
      {schematic::wire("wire-" + id + "-minus", {{{x, y + kPitch_mm}, {device.width_mm, y + kPitch_mm}}})});
  device.content.items.push_back({schematic::battery("cell-" + id, {x, y}, {x, y + kPitch_mm})});
  drawn.first_mm = y;
  return drawn;
}

std::vector<std::string> batteries_of(const site::Site& site, const std::string& supply) {
  std::vector<std::string> ids;
  for (const auto& [id, battery] : site.batteries)
    if (battery.supply.id == supply) ids.push_back(id);
  std::sort(ids.begin(), ids.end(), before);
  return ids;
}

std::vector<std::string> supply_notes(const Context& context, const std::string& supply) {
  const auto found = context.site.supplies.find(supply);
  if (found == context.site.supplies.end()) return {};
  return {part_name(context.site, found->second.part)};
}

void add_poles(const Context& context, const site::Feed& feed, bool left, std::vector<schematic::Screw>& screws) {
  for (const bool plus : {true, false}) {
    const std::string id = pole_id(feed, plus), pole = text(plus ? say::wiring_plus() : say::wiring_minus());
    const std::string label = feed.output.empty() ? pole : text(say::wiring_pole(feed.output, pole));
    screws.push_back({id, label, context.reading(id), left, !left});
  }
}

}  // namespace zoneproof::wiring
