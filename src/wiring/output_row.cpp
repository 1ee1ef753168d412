#include <algorithm>
#include <optional>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"
#include "wiring/panel_output.hpp"
#include "wiring/rows.hpp"
#include "wiring/unit_end.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;
using schematic::Side;

namespace {

constexpr double kHeading_mm = 75.0;

/// An output of the panel and what it drives.
class OutputRow : public Row {
 public:
  /// `back`: the other terminal of a relay goes over the cable to the unit; else to the pole `to` of the panel, where
  /// that is known.
  OutputRow(const Context& context, std::string id, std::string name, const site::Ref& output, UnitEnd end, bool back,
            std::optional<site::Level> to)
      : context_(context), id_(std::move(id)), end_(std::move(end)), back_(back), to_(to) {
    name_ = std::move(name);
    if (context.site.outputs.count(output.id) != 0) {
      source_ = panel_output(context, output.id, id_);
      notes_ = source_->notes;
      panel_ = context.site.outputs.at(output.id).panel;
    } else {
      notes_ = {text(say::wiring_terminal_unknown())};
    }
    const double heading = height_of_words(context_, name_, notes_, kHeading_mm);
    const double above = source_ ? source_->drawn.first_mm : kGrid_mm;
    const double below = source_ ? source_->drawn.device.height_mm - source_->drawn.first_mm : kGrid_mm;
    first_mm_ = on_grid(std::max(above, end_.above_mm()));
    height_mm_ = on_grid(std::max(
        {heading, first_mm_ + below, first_mm_ + end_.below_mm(), relay() ? first_mm_ + kPitch_mm + kGrid_mm : 0.0}));
  }

  void build(Board& board, double top) const override {
    const double heading = height_of_words(context_, name_, notes_, kHeading_mm);
    const double at = std::max(0.0, on_grid(first_mm_ - heading / 2) - kGrid_mm);
    board.add(words(context_, id_, name_, notes_, Columns::field, kHeading_mm),
              top + std::min(at, height_mm_ - on_grid(heading)));
    if (!source_) {
      const std::string says = text(say::wiring_unknown());
      const std::size_t tag = board.add(
          schematic::reference(context_.ruler, {"tag-" + id_, says, {}}, "wire", says, Side::right, Columns::panel),
          top + first_mm_ - kGrid_mm);
      return end_.build(board, top + first_mm_, {id_ + "-wire", tag, "wire"}, std::nullopt, false);
    }
    const std::size_t panel = board.add(source_->drawn.device, top + first_mm_ - source_->drawn.first_mm);
    std::optional<Strand> other;
    if (relay()) other = Strand{id_ + "-back", panel, source_->other};
    if (other && !back_) {
      const std::string pole = text(!to_                        ? say::wiring_unknown()
                                    : *to_ == site::Level::high ? say::wiring_plus()
                                                                : say::wiring_minus());
      const std::string says = text(say::wiring_pole(name_of(context_.site, panel_.id), pole));
      const std::size_t tag = board.add(schematic::reference(context_.ruler, {"pole-" + id_, says, {}}, "wire", says,
                                                             Side::left, Columns::unit_cable),
                                        top + first_mm_ + kPitch_mm - kGrid_mm);
      board.finish(*other, tag, "wire");
      other.reset();
    }
    end_.build(board, top + first_mm_, {id_ + "-wire", panel, source_->out}, other, false);
  }

 private:
  bool relay() const { return source_ && !source_->other.empty(); }

  const Context& context_;
  std::string id_;
  UnitEnd end_;
  bool back_;
  std::optional<site::Level> to_;
  std::optional<PanelOutput> source_;
  std::vector<std::string> notes_;
  site::Ref panel_;
  double first_mm_ = 0.0;
};

}  // namespace

std::unique_ptr<Row> output_row(const Context& context, const std::string& id) {
  const site::Trigger& trigger = context.site.triggers.at(id);
  const bool back = site::is_relay(context.site, trigger.output);
  return std::make_unique<OutputRow>(context, "trigger-" + id, zone_called(context.site, trigger.zone.id),
                                     trigger.output, UnitEnd::of_trigger(context, id, back ? kPitch_mm : 0.0), true,
                                     std::nullopt);
}

/// The contact pulls against the resistor (docs/methods/arming.md): where nobody knows which way that pulls, nobody
/// knows the pole.
std::unique_ptr<Row> arming_row(const Context& context, const std::string& unit) {
  const site::Arming& arming = context.site.units.at(unit).arming;
  std::optional<site::Level> to;
  if (arming.pullup_to.is(site::Level::low)) to = site::Level::high;
  if (arming.pullup_to.is(site::Level::high) || arming.pullup_ohm.none()) to = site::Level::low;
  return std::make_unique<OutputRow>(context, "arming-" + unit, text(say::wiring_arming()), arming.output,
                                     UnitEnd::of_arming(context, unit), false, to);
}

}  // namespace zoneproof::wiring
