#include "wiring/supply_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <stdexcept>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "schematic/symbols.hpp"
#include "site/relations.hpp"
#include "wiring/supply_box.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;

namespace {

constexpr double kBetweenSupplies_mm = 4 * kGrid_mm;

/// Something that hangs on an output or a junction.
struct Consumer {
  std::string id, name, part;
  const site::Feed* feed = nullptr;
  bool junction = false;
};

template <class T>
void add_consumers(const Context& context, const site::Map<T>& collection, std::vector<Consumer>& into) {
  std::vector<std::string> ids;
  for (const auto& [id, value] : collection) ids.push_back(id);
  std::sort(ids.begin(), ids.end(), before);
  for (const std::string& id : ids) {
    const T& value = collection.at(id);
    Consumer made{id, site::name_or_id(value.name, id), {}, &value.feed, std::is_same_v<T, site::Junction>};
    if constexpr (!std::is_same_v<T, site::Junction>) made.part = part_name(context.site, value.part);
    into.push_back(std::move(made));
  }
}

class SupplyDiagram {
 public:
  SupplyDiagram(const Context& context, const std::string& supply, const std::vector<Consumer>& consumers)
      : context_(context), supply_(supply), consumers_(consumers), board_(0) {}

  std::size_t outputs() const { return outputs_of(supply_).size(); }

  /// With its outputs from the one to before the other, in their order; the battery stands with the first.
  Board run(std::size_t from, std::size_t to) {
    schematic::BoxOf spec;
    spec.id = "supply-" + supply_;
    spec.title = name_of(context_.site, supply_);
    spec.name = marked(context_.marks, supply_, spec.title);
    spec.notes = supply_notes(context_, supply_);
    spec.most_mm = kPanel_mm + kPitch_mm;
    const std::vector<std::string> batteries =
        from == 0 ? batteries_of(context_.site, supply_) : std::vector<std::string>();
    if (!batteries.empty())
      for (const bool plus : {true, false})
        spec.screws.push_back({supply_ + (plus ? "-battery-plus" : "-battery-minus"),
                               text(plus ? say::wiring_plus() : say::wiring_minus()),
                               {},
                               true,
                               false});
    const std::vector<site::Feed> all = outputs_of(supply_);
    const auto at = [&](std::size_t i) { return all.begin() + static_cast<std::ptrdiff_t>(std::min(i, all.size())); };
    const std::vector<site::Feed> outputs(at(from), at(to));
    for (const site::Feed& output : outputs) add_poles(context_, output, false, spec.screws);
    const std::size_t box = board_.add(schematic::box(context_.ruler, spec, kSupply));
    board_.note("supply:" + supply_);
    board_.note("feeds:" + supply_);
    add_batteries(batteries, box);
    for (const site::Feed& output : outputs) feed_from(output, box, kSupply);
    return std::move(board_);
  }

 private:
  static constexpr int kBattery = 0, kSupply = 1;
  static constexpr int kFuse = 1, kCable = 2, kConsumer = 3;  ///< to the right of what feeds

  bool hangs_on(const site::Feed& feed, const std::string& from) const {
    return feed.from.known() && feed.from.id == from;
  }

  /// The outputs of a supply, or the one of a junction, that anything hangs on; each once, in the order of ids.
  std::vector<site::Feed> outputs_of(const std::string& from) const {
    std::vector<site::Feed> outputs;
    const auto add = [&](const site::Feed& feed) {
      if (!hangs_on(feed, from)) return;
      for (const site::Feed& other : outputs)
        if (other.output == feed.output) return;
      outputs.push_back(feed);
    };
    for (const Consumer& consumer : consumers_) add(*consumer.feed);
    for (const auto& [id, detector] : context_.site.detectors) add(detector.feed);
    std::sort(outputs.begin(), outputs.end(),
              [](const site::Feed& a, const site::Feed& b) { return before(a.output, b.output); });
    return outputs;
  }

  void add_batteries(const std::vector<std::string>& batteries, std::size_t box) {
    for (const std::string& id : batteries) {
      const std::size_t cell = board_.add(battery_device(context_, id, kBattery).device);
      board_.join(supply_ + "-battery-plus", cell, "plus");
      board_.join(supply_ + "-battery-minus", cell, "minus");
    }
    if (batteries.empty()) return;
    board_.join(supply_ + "-battery-plus", box, supply_ + "-battery-plus");
    board_.join(supply_ + "-battery-minus", box, supply_ + "-battery-minus");
  }

  /// All that hangs on one output, whose terminals stand on `box` in `column`.
  void feed_from(const site::Feed& output, std::size_t box, int column) {
    for (const Consumer& consumer : consumers_)
      if (hangs_on(*consumer.feed, output.from.id) && consumer.feed->output == output.output)
        add_consumer(consumer, output, box, column);
    std::vector<std::string> elsewhere;
    std::set<int> sheets;
    for (const auto& [id, detector] : context_.site.detectors) {
      if (!hangs_on(detector.feed, output.from.id) || detector.feed.output != output.output) continue;
      if (context_.feed_homes.count(id) != 0) {
        elsewhere.push_back(id);
        const std::set<int> own = context_.book.of("feed:" + id);
        sheets.insert(own.begin(), own.end());
      } else {
        add_consumer({id, marked(context_.marks, id, site::called(context_.site.detectors, id)),
                      part_name(context_.site, detector.part), &detector.feed, false},
                     output, box, column);
      }
    }
    if (!elsewhere.empty()) add_elsewhere(elsewhere, sheets, output, box, column);
  }

  void add_elsewhere(const std::vector<std::string>& detectors, const std::set<int>& sheets, const site::Feed& output,
                     std::size_t box, int column) {
    const auto count = static_cast<long long>(detectors.size());
    schematic::BoxOf spec;
    spec.id = "detectors-" + pole_id(output, true);
    spec.name = text(say::wiring_detectors_of(count));
    if (!sheets.empty()) spec.name = text(say::wiring_on_sheets(spec.name, SheetBook::shown(sheets)));
    spec.title = spec.name;
    if (!sheets.empty()) spec.link = context_.book.link(*sheets.begin());
    spec.part = true;
    spec.most_mm = kUnit_mm + kPitch_mm;
    add_inputs("detectors." + pole_id(output, true), spec);
    const std::size_t at = board_.add(left(schematic::box(context_.ruler, spec, column + kConsumer)));
    for (const bool plus : {true, false}) board_.join(pole_id(output, plus), at, spec.screws[plus ? 0 : 1].id);
    for (const bool plus : {true, false}) join_source(output, box, plus);
  }

  void join_source(const site::Feed& output, std::size_t box, bool plus) {
    const std::string pole = pole_id(output, plus);
    const bool junction = context_.site.junctions.count(output.from.id) != 0;
    if (board_.first_time(pole)) board_.join(pole, box, junction ? pole + "-right" : pole);
  }

  void add_inputs(const std::string& id, schematic::BoxOf& spec) const {
    for (const bool plus : {true, false}) {
      const std::string screw = id + (plus ? "-plus" : "-minus");
      spec.screws.push_back(
          {screw, text(plus ? say::wiring_plus() : say::wiring_minus()), context_.reading(screw), true, false});
    }
  }

  static schematic::Device left(schematic::Device device) {
    device.standing = schematic::Standing::left;
    return device;
  }

  void add_consumer(const Consumer& consumer, const site::Feed& output, std::size_t box, int column) {
    schematic::BoxOf spec;
    spec.id = "consumer-" + consumer.id;
    spec.name = consumer.junction ? marked(context_.marks, consumer.id, consumer.name) : consumer.name;
    spec.title = spec.name;
    if (const int sheet = context_.book.first("unit:" + consumer.id); sheet > 0) {
      spec.name = text(say::wiring_on_sheet(spec.name, sheet));
      spec.link = context_.book.link(sheet);
    }
    spec.notes = {consumer.part};
    spec.most_mm = kUnit_mm + kPitch_mm;
    add_inputs(consumer.id, spec);
    const std::vector<site::Feed> onward = consumer.junction ? outputs_of(consumer.id) : std::vector<site::Feed>{};
    for (schematic::Screw& screw : spec.screws) screw.right = !onward.empty();  // what comes in goes out again
    const std::size_t at = board_.add(left(schematic::box(context_.ruler, spec, column + kConsumer)));
    lead(consumer, output, box, at, column, spec);
    if (!consumer.junction || !seen_.insert(consumer.id).second) return;
    board_.note("feeds:" + consumer.id);
    for (const site::Feed& next : onward) feed_from(next, at, column + kConsumer);
  }

  /// From the output's terminals over a fuse and a cable to the consumer's.
  void lead(const Consumer& consumer, const site::Feed& output, std::size_t box, std::size_t at, int column,
            const schematic::BoxOf& spec) {
    const site::Feed& feed = *consumer.feed;
    const std::string id = "feed-" + consumer.id;
    std::string plus = pole_id(output, true), minus = pole_id(output, false);
    join_source(output, box, true);
    join_source(output, box, false);
    if (may_be_fused(feed)) {
      const std::size_t fuse = board_.add(fuse_device(context_, consumer.id, feed, column + kFuse));
      board_.join(plus, fuse, "in");
      plus = id + "-fused";
      board_.join(plus, fuse, "out");
    }
    if (in_a_cable(feed.cable)) {
      schematic::CableOf over = cable_spec(context_, feed.cable, consumer.id, &board_);
      const double room = on_grid(room_for_words(context_.ruler, over));
      over.cores = {{id + "-core-plus", room, feed.core_colour},
                    {id + "-core-minus", room + kPitch_mm, feed.return_core_colour}};
      const std::size_t mark = board_.add(schematic::cable(context_.ruler, over, column + kCable));
      board_.join(plus, mark, id + "-core-plus-a");
      board_.join(minus, mark, id + "-core-minus-a");
      plus = id + "-plus";
      minus = id + "-minus";
      board_.join(plus, mark, id + "-core-plus-b");
      board_.join(minus, mark, id + "-core-minus-b");
    }
    board_.join(plus, at, spec.screws[0].id);
    board_.join(minus, at, spec.screws[1].id);
  }

  const Context& context_;
  std::string supply_;
  const std::vector<Consumer>& consumers_;
  Board board_;
  std::set<std::string> seen_;
};

struct Drawn {
  std::string name;
  Board board;
  schematic::Layout layout;
};

std::vector<std::string> key_of(const Context& context) {
  std::vector<std::string> says = {text(say::wiring_key()), text(say::wiring_key_part()),
                                   text(say::wiring_key_colours())};
  if (!context.options.readings_are.empty()) says.push_back(context.options.readings_are);
  return says;
}

std::vector<std::string> ids_in_order(const site::Site& site) {
  std::vector<std::string> ids;
  for (const auto& [id, supply] : site.supplies) ids.push_back(id);
  std::sort(ids.begin(), ids.end(), before);
  return ids;
}

/// What hangs on supplies, whichever it is.
std::vector<Consumer> all_consumers(const Context& context) {
  std::vector<Consumer> consumers;
  add_consumers(context, context.site.junctions, consumers);
  add_consumers(context, context.site.panels, consumers);
  add_consumers(context, context.site.units, consumers);
  add_consumers(context, context.site.loads, consumers);
  return consumers;
}

bool fits(const Drawn& drawn, Room room) {
  return drawn.layout.box.right <= room.width_mm && on_grid(drawn.layout.box.height()) <= room.height_mm;
}

/// A supply as one drawing; where that does not fit the room, as several, each with as many of its outputs as fit, in
/// their order. Empty where one output alone does not fit.
std::vector<Drawn> drawn_supply(const Context& context, const std::vector<Consumer>& consumers, const std::string& id,
                                Room room) {
  const auto part = [&](std::size_t from, std::size_t to) {
    Board board = SupplyDiagram(context, id, consumers).run(from, to);
    schematic::LayoutOptions options;
    options.gap_mm = kGrid_mm;
    schematic::Layout layout = spread(board.diagram(), options, room.width_mm);
    return Drawn{marked(context.marks, id, name_of(context.site, id)), std::move(board), std::move(layout)};
  };
  const std::size_t count = std::max<std::size_t>(1, SupplyDiagram(context, id, consumers).outputs());
  std::vector<Drawn> parts;
  for (std::size_t from = 0; from < count;) {
    std::size_t to = count;
    Drawn drawn = part(from, to);
    while (!fits(drawn, room) && to > from + 1) drawn = part(from, --to);
    if (!fits(drawn, room)) return {};
    parts.push_back(std::move(drawn));
    from = to;
  }
  return parts;
}

Page page_of(const Context& context, const std::vector<Drawn>& all, std::size_t from, std::size_t to,
             drawing::Format format, std::size_t number) {
  Page page;
  page.id = fmt::format("wiring-supplies-{}", number);
  page.title = text(say::wiring_title_supplies());
  page.format = format;
  page.key = key_of(context);
  std::vector<std::string> names;
  double y = 0.0;
  for (std::size_t i = from; i < to; ++i) {
    const Drawn& drawn = all[i];
    drawing::Group group = schematic::drawn(drawn.board.diagram(), drawn.layout);
    page.content.items.push_back(moved(drawing::Item{std::move(group)}, {0.0, y - drawn.layout.box.top}));
    y += drawn.layout.box.height() + kBetweenSupplies_mm;
    page.width_mm = std::max(page.width_mm, drawn.layout.box.right);
    page.things.insert(drawn.board.things().begin(), drawn.board.things().end());
    names.push_back(drawn.name);
  }
  page.height_mm = y - kBetweenSupplies_mm;
  page.description = text(say::wiring_shows_supplies(names));
  return page;
}

}  // namespace

std::vector<Page> supply_pages(const Context& context) {
  const std::string title = text(say::wiring_title_supplies());
  const std::vector<Consumer> consumers = all_consumers(context);
  std::vector<std::string> left = ids_in_order(context.site);
  std::vector<Page> pages;
  for (const drawing::Format format : papers(context.options)) {
    const Room room = room_on(context, format, title, key_of(context));
    std::vector<Drawn> fitting;
    std::vector<double> heights;
    std::vector<std::string> larger;
    for (const std::string& id : left) {
      std::vector<Drawn> parts = drawn_supply(context, consumers, id, room);
      if (parts.empty()) larger.push_back(id);
      for (Drawn& drawn : parts) {
        heights.push_back(on_grid(drawn.layout.box.height()));
        fitting.push_back(std::move(drawn));
      }
    }
    std::size_t from = 0;
    for (const std::size_t to : shared_out(heights, kBetweenSupplies_mm, room.height_mm)) {
      pages.push_back(page_of(context, fitting, from, to, format, pages.size() + 1));
      from = to;
    }
    left = std::move(larger);
  }
  if (!left.empty()) throw std::length_error("no paper holds the wiring of " + left.front());
  return pages;
}

}  // namespace zoneproof::wiring
