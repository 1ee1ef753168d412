#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"
#include "wiring/field_row.hpp"
#include "wiring/loop_network.hpp"
#include "wiring/rows.hpp"
#include "wiring/unit_end.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;

namespace {

constexpr double kPair_mm = 3 * kGrid_mm;  ///< between the wires of a pair, where its contacts have room beside one

class LoopRow : public FieldRow {
 public:
  LoopRow(const Context& context, const std::string& owner, const std::vector<std::string>& triggers)
      : FieldRow(context), owner_(owner), zone_(context.site.zones.at(owner)), loop_(zone_.loop) {
    id_ = owner;
    name_ = zone_called(context.site, owner);
    colour_ = loop_.core_colour;
    return_colour_ = loop_.return_core_colour;
    for (const std::string& trigger : triggers) ends_.push_back(UnitEnd::of_trigger(context, trigger, 0.0));
    find_return();
    make_panel(kPair_mm);
    make_block();
    const double pair = field_.second_mm - field_.first_mm;
    if (pair != kPair_mm && pair <= 2 * kPair_mm) {  // the wires run straight
      make_panel(pair);
      make_block();
    }
    place_ends();
    const double panel_low = field_.first_mm - panel_.first_mm + panel_.device.height_mm;
    height_mm_ = on_grid(std::max({field_.device.height_mm, panel_low, low_, lowest_end_}));
  }

  void build(Board& board, double top) const override {
    board.note("zone:" + owner_);
    board.add(field_.heading, top);
    const std::size_t field = board.add(field_.device, top);
    const std::size_t panel = board.add(panel_.device, top + field_.first_mm - panel_.first_mm);
    begin_feeds(field);
    Strand first{owner_ + "-first", field, "first"}, second{owner_ + "-second", field, "second"};
    if (has_ladder()) {
      build_pair(board, top, panel, first, second);
    } else {
      build_cables(board, top, nullptr, nullptr);
    }
    finish_feeds(board, top);
    for (std::size_t i = 0; i < ends_.size(); ++i)
      ends_[i].build(board, top + end_at_[i], {owner_ + "-tap", panel, in_ + "-right"}, std::nullopt, false);
  }

 private:
  bool across() const { return eol_at_panel(loop_) == EolAtPanel::across; }

  /// Which of the loops that share a way back leads it to the panel: the one in whose cable it runs, else the first.
  void find_return() {
    const auto shared = context_.site.shared_returns.find(loop_.shared_return.id);
    if (shared == context_.site.shared_returns.end()) return;
    shares_ = true;
    return_colour_ = shared->second.core_colour;
    std::string first, owner;
    for (const auto& [id, zone] : context_.site.zones) {
      if (zone.loop.shared_return.id != shared->first) continue;
      if (first.empty() || before(id, first)) first = id;
      if (zone.loop.cable.known() && zone.loop.cable.id == shared->second.cable.id) owner = id;
    }
    leads_ = (owner.empty() ? first : owner) == owner_;
    if (leads_ && owner.empty()) return_cable_ = &shared->second.cable;
  }

  /// `pair_mm`: from the first wire of the pair to the second.
  void make_panel(double pair_mm) {
    schematic::BoxOf spec;
    spec.id = "panel-" + owner_;
    spec.title = spec.name = name_of(context_.site, zone_.panel.id);
    spec.width_mm = spec.most_mm = kPanel_mm;
    spec.part = true;
    const std::string number = zone_.input.known() ? counted(zone_.input) : "-" + owner_;
    const std::string panel = zone_.panel.known() ? zone_.panel.id : owner_;
    in_ = fmt::format("{}-in{}", panel, number);
    common_ = fmt::format("{}-common{}", panel, number);
    const double first = on_grid(room_for_words(context_.ruler, spec));
    panel_second_mm_ = across() ? 5 * kGrid_mm : pair_mm;
    spec.screws = {
        {in_, text(say::wiring_input(counted(zone_.input))), context_.reading(in_), true, !ends_.empty(), first}};
    if (!shares_ || leads_)
      spec.screws.push_back(
          {common_, text(say::wiring_common()), context_.reading(common_), true, false, first + panel_second_mm_});
    panel_ = with_first(context_, spec, Columns::panel);
  }

  void make_block() {
    FieldBlockOf spec;
    spec.id = "zone-" + owner_;
    spec.home = spec.id;
    spec.name = name_;
    for (const auto& [id, other] : context_.site.zones)
      if (other.doubled_with.id == owner_)
        spec.name = text(say::wiring_zones_doubled(spec.name, zone_called(context_.site, id)));
    spec.detectors = detectors_on_loop(loop_);
    spec.notes = detector_notes(context_, spec.detectors);
    spec.network = network_of_loop(context_.site, owner_, context_.marks);
    if (!spec.network) spec.notes.push_back(text(say::wiring_loop_unknown()));
    spec.panel_above_mm = panel_.first_mm;
    spec.panel_below_mm = panel_.device.height_mm - panel_.first_mm;
    spec.least_first_mm = panel_.first_mm;
    for (const UnitEnd& end : ends_) spec.least_first_mm = std::max(spec.least_first_mm, end.above_mm());
    make_field(std::move(spec), loop_.cable);
    low_ = field_.second_mm + kGrid_mm;
    if (shares_) low_ = field_.device.height_mm + kPitch_mm;
  }

  void place_ends() {
    double y = field_.first_mm;
    for (std::size_t i = 0; i < ends_.size(); ++i) {
      if (i > 0) y = on_grid(lowest_end_ + kGrid_mm + ends_[i].above_mm());
      end_at_.push_back(y);
      lowest_end_ = y + ends_[i].below_mm();
    }
  }

  void build_pair(Board& board, double top, std::size_t panel, Strand& first, Strand& second) const {
    if (shares_) share(board, top, second);
    const bool back_in_cable = !shares_ || (leads_ && return_cable_ == nullptr);
    build_cables(board, top, &first, back_in_cable ? &second : nullptr);
    if (return_cable_ != nullptr && in_a_cable(*return_cable_)) pass_return(board, top, second);
    if (eol_at_panel(loop_) == EolAtPanel::in_series) pass_eol(board, top, first);
    if (across()) pass_eol_across(board, top, first, second);
    board.finish(first, panel, in_);
    if (!shares_ || leads_) board.finish(second, panel, common_);
  }

  /// All loops of a shared way back meet before its core; those on other sheets are named.
  void share(Board& board, double top, Strand& second) const {
    const std::string& shared = loop_.shared_return.id;
    second = {"shared-" + shared, second.device, second.port};
    board.note((leads_ ? "shared:" : "shares:") + shared);
    std::set<int> others = context_.book.of("shares:" + shared);
    if (!leads_) {
      board.join(second.key + "-1", second.device, second.port);
      others = context_.book.of("shared:" + shared);
      if (others.count(board.sheet()) != 0) return;
    }
    others.erase(board.sheet());
    if (others.empty() || !board.first_time("tag-shared:" + shared)) return;
    const std::string name = site::called(context_.site.shared_returns, shared);
    const std::string says = text(say::wiring_on_sheets(name, SheetBook::shown(others)));
    const std::size_t tag = board.add(
        schematic::reference(context_.ruler, {"tag-shared-" + shared, name, context_.book.link(*others.begin())},
                             "wire", says, schematic::Side::left, Columns::field_cable),
        top + on_grid(field_.device.height_mm) - kGrid_mm);
    board.join(second.key + "-1", tag, "wire");
  }

  void pass_return(Board& board, double top, Strand& second) const {
    schematic::CableOf spec = cable_spec(context_, *return_cable_, owner_, &board, false);
    const double room = on_grid(room_for_words(context_.ruler, spec));
    spec.cores.push_back({owner_ + "-core-return", room, return_colour_});
    const std::size_t mark = board.add(schematic::cable(context_.ruler, spec, Columns::field_cable),
                                       top + field_.second_mm + kGrid_mm - room);
    board.pass(second, mark, owner_ + "-core-return-a", owner_ + "-core-return-b");
  }

  void pass_eol(Board& board, double top, Strand& first) const {
    const schematic::Device device = in_wire(context_, "resistor-" + owner_ + "-eol", schematic::Symbol::resistor,
                                             ohms(loop_.eol_ohm), Columns::at_panel);
    const std::size_t eol = board.add(device, top + field_.first_mm - device.ports.front().y_mm);
    board.pass(first, eol, "in", "out");
  }

  void pass_eol_across(Board& board, double top, Strand& first, Strand& second) const {
    const schematic::Device device =
        across_wires(context_, "resistor-" + owner_ + "-eol", ohms(loop_.eol_ohm), panel_second_mm_, Columns::at_panel);
    const std::size_t eol = board.add(device, top + field_.first_mm - device.ports.front().y_mm);
    board.pass(first, eol, "first-in", "first-out");
    board.pass(second, eol, "second-in", "second-out");
  }

  std::string owner_;
  const site::Zone& zone_;
  const site::Loop& loop_;
  std::vector<UnitEnd> ends_;
  std::vector<double> end_at_;
  PartDrawn panel_;
  std::string in_, common_;
  bool shares_ = false, leads_ = false;
  const site::Ref* return_cable_ = nullptr;  ///< of a way back that runs in a cable of its own, or none
  double panel_second_mm_ = 0.0, lowest_end_ = 0.0, low_ = 0.0;
};

class ContactRow : public FieldRow {
 public:
  ContactRow(const Context& context, const std::string& id)
      : FieldRow(context), trigger_(context.site.triggers.at(id)), end_(UnitEnd::of_trigger(context, id, kPair_mm)) {
    id_ = "trigger-" + id;
    name_ = zone_called(context.site, trigger_.zone.id);
    FieldBlockOf spec;
    spec.id = "trigger-" + id;
    spec.home = spec.id;
    spec.name = name_;
    if (trigger_.detector.known()) spec.detectors = {trigger_.detector.id};
    spec.notes = detector_notes(context, spec.detectors);
    if (trigger_.detector.known() && !trigger_.contact.empty()) {
      spec.network = schematic::in_series(
          {contact_element(context.site, "contact-" + id, trigger_.detector.id, trigger_.contact, trigger_.contact)});
    } else {
      spec.notes.push_back(text(say::wiring_terminal_unknown()));
    }
    spec.least_first_mm = end_.above_mm();
    make_field(std::move(spec), trigger_.cable);
    height_mm_ = on_grid(std::max(field_.device.height_mm, field_.first_mm + end_.below_mm()));
  }

  void build(Board& board, double top) const override {
    board.add(field_.heading, top);
    const std::size_t field = board.add(field_.device, top);
    begin_feeds(field);
    Strand first{id_ + "-wire", field, "first"}, second{id_ + "-back", field, "second"};
    const bool known = has_ladder();
    build_cables(board, top, known ? &first : nullptr, known ? &second : nullptr);
    finish_feeds(board, top);
    if (known) end_.build(board, top + field_.first_mm, first, second, true);
  }

 private:
  const site::Trigger& trigger_;
  UnitEnd end_;
};

}  // namespace

std::unique_ptr<Row> loop_row(const Context& context, const std::string& owner,
                              const std::vector<std::string>& triggers) {
  return std::make_unique<LoopRow>(context, owner, triggers);
}

std::unique_ptr<Row> contact_row(const Context& context, const std::string& trigger) {
  return std::make_unique<ContactRow>(context, trigger);
}

}  // namespace zoneproof::wiring
