#include "wiring/field_block.hpp"

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
using schematic::kGrid_mm;
using schematic::kPitch_mm;
using schematic::on_grid;
using schematic::Side;

namespace {

/// From the edge of a detector's box: the middle of its pole's name, and of what is read there, one below the other.
constexpr double kPoleIn_mm = 1.2, kReadingIn_mm = kPoleIn_mm + 1.1 * drawing::kCaption_mm;

constexpr double kClearOfTag_mm = schematic::kTag_mm / 2 + 1.2;  ///< from the wire of a tag to a box
constexpr double kFeedBox_mm = 4 * kGrid_mm, kBesideWire_mm = 0.7, kLeastHeading_mm = 60.0;
constexpr drawing::Face kFace{drawing::Role::label, false};

class Block {
 public:
  Block(const Context& context, const FieldBlockOf& spec) : context_(context), spec_(spec) {}

  FieldBlock run() {
    made_.device.id = spec_.id;
    made_.device.column = Columns::field;
    made_.device.standing = schematic::Standing::right;
    made_.device.content.name = {spec_.id, spec_.name, {}};
    if (spec_.network) ladder_ = schematic::ladder(context_.ruler, spec_.id, *spec_.network, 0.0, spec_.most_mm);
    group_feeds();
    place();
    draw();
    return std::move(made_);
  }

 private:
  void group_feeds() {
    for (const std::string& id : spec_.detectors) {
      const auto detector = context_.site.detectors.find(id);
      const auto home = context_.feed_homes.find(id);
      if (home == context_.feed_homes.end() || home->second != spec_.home) continue;
      const site::Feed& feed = detector->second.feed;
      const auto same = std::find_if(made_.feeds.begin(), made_.feeds.end(), [&](const FeedPair& pair) {
        return pair.feed.from.id == feed.from.id && pair.feed.output == feed.output &&
               pair.feed.cable.id == feed.cable.id && !feed.cable.unknown() && pair.feed.fuse_A.none() &&
               feed.fuse_A.none();
      });
      if (same != made_.feeds.end()) {
        same->detectors.push_back(id);
      } else {
        made_.feeds.push_back({feed, {id}, 0.0, 0.0});
      }
    }
  }

  std::size_t boxes() const {
    std::size_t count = 0;
    for (const FeedPair& pair : made_.feeds) count += pair.detectors.size();
    return count;
  }

  /// Heading, positive wires, the ladder, negative wires from above to below.
  void place() {
    const double boxes_mm = static_cast<double>(boxes()) * (kFeedBox_mm + kGrid_mm);
    const double ladder_mm = ladder_ ? ladder_->width_mm + 2 * kGrid_mm : 0.0;
    width_ = std::max(on_grid(kGrid_mm), boxes_mm + kGrid_mm + ladder_mm);
    const double heading_wide = std::max(on_grid(kLeastHeading_mm), width_);
    made_.heading = words(context_, spec_.id + "-heading", spec_.name, spec_.notes, Columns::field, heading_wide);
    heading_ = height_of_words(context_, spec_.name, spec_.notes, heading_wide);
    const double above_ladder = ladder_ ? ladder_->first_mm : 0.0;
    double y = std::max(heading_ + 2 * kBesideWire_mm, spec_.cable_words_mm);
    for (FeedPair& pair : made_.feeds) {
      pair.plus_mm = y = on_grid(y);
      y += kPitch_mm;
    }
    if (!made_.feeds.empty()) y = made_.feeds.back().plus_mm + kBesideWire_mm;
    const bool fed = !made_.feeds.empty();
    if (fed) y += kGrid_mm - kBesideWire_mm;  // clear of the wires
    const double panel = fed ? made_.feeds.back().plus_mm + kClearOfTag_mm + spec_.panel_above_mm : 0.0;
    first_ = on_grid(std::max({y + above_ladder, panel, spec_.cable_words_mm, spec_.least_first_mm}));
    second_ = ladder_ ? first_ + ladder_->second_mm - ladder_->first_mm : first_ + kPitch_mm;
    double low = ladder_ ? first_ - ladder_->first_mm + ladder_->height_mm : second_;
    low = std::max({low, second_ + kGrid_mm, first_ + spec_.panel_below_mm + kClearOfTag_mm - kGrid_mm});
    for (auto pair = made_.feeds.rbegin(); pair != made_.feeds.rend(); ++pair) {
      low = on_grid(low + kGrid_mm);
      pair->minus_mm = low;
      low += kGrid_mm;
    }
    made_.first_mm = first_;
    made_.second_mm = second_;
    made_.device.width_mm = width_;
    made_.device.height_mm = on_grid(made_.feeds.empty() ? low : made_.feeds.front().minus_mm + kGrid_mm);
  }

  void draw() {
    draw_feeds();
    draw_ladder();
    auto& items = made_.device.content.items;
    items.insert(items.begin(), wires_.begin(), wires_.end());
  }

  void draw_ladder() {
    if (ladder_) {
      const double left = width_ - ladder_->width_mm - kGrid_mm;
      if (spec_.detectors.size() == 1) draw_enclosure(left);
      add(std::move(ladder_->group), {left, first_ - ladder_->first_mm});
      for (const double y : {first_, second_})
        wires_.push_back({schematic::wire("wire-" + spec_.id + (y == first_ ? "-first" : "-second"),
                                          {{{width_ - kGrid_mm, y}, {width_, y}}})});
      made_.device.ports.push_back({"first", Side::right, first_});
      made_.device.ports.push_back({"second", Side::right, second_});
    }
  }

  void add(drawing::Group group, Point at) {
    made_.device.content.items.push_back(moved(drawing::Item{std::move(group)}, at));
  }

  /// A box for each detector that is fed, between its wires, left of the ladder.
  void draw_feeds() {
    double right = width_ - (ladder_ ? ladder_->width_mm + 2 * kGrid_mm : 0.0);
    const double top = made_.feeds.empty() ? 0.0 : made_.feeds.back().plus_mm + kGrid_mm;
    const double bottom = made_.feeds.empty() ? 0.0 : made_.feeds.back().minus_mm - kGrid_mm;
    for (std::size_t i = made_.feeds.size(); i-- > 0;) {  // the outer pair of wires leads to the boxes furthest left
      const FeedPair& pair = made_.feeds[i];
      std::vector<drawing::Line> plus, minus;
      double leftmost = right;
      for (const std::string& id : pair.detectors) {
        const drawing::Box box{right - kFeedBox_mm, top, right, bottom};
        const double x = (box.left + box.right) / 2;
        draw_box(id, box);
        plus.push_back({{x, pair.plus_mm}, {x, top}});
        minus.push_back({{x, bottom}, {x, pair.minus_mm}});
        const bool last = &id == &pair.detectors.back();
        if (!last) {
          add_dot({x, pair.plus_mm});
          add_dot({x, pair.minus_mm});
        }
        leftmost = x;
        right -= kFeedBox_mm + kGrid_mm;
      }
      plus.push_back({{leftmost, pair.plus_mm}, {width_, pair.plus_mm}});
      minus.push_back({{leftmost, pair.minus_mm}, {width_, pair.minus_mm}});
      const std::string number = std::to_string(i + 1);
      wires_.push_back({schematic::wire("wire-" + spec_.id + "-plus-" + number, plus)});
      wires_.push_back({schematic::wire("wire-" + spec_.id + "-minus-" + number, minus)});
      made_.device.ports.push_back({"plus-" + number, Side::right, pair.plus_mm});
      made_.device.ports.push_back({"minus-" + number, Side::right, pair.minus_mm});
    }
  }

  void add_dot(Point at) { wires_.push_back({schematic::junction(at)}); }

  /// The detector as a consumer: a box with a terminal above and one below.
  void draw_box(const std::string& id, const drawing::Box& box) {
    drawing::Group group;
    group.name = {"detector-" + id, site::called(context_.site.detectors, id), {}};
    drawing::Shape frame = drawing::stroked(
        {}, {drawing::ring(box)}, {Ink::line, drawing::kMedium_mm, {}, drawing::Cap::butt, drawing::Join::miter});
    frame.fill = Ink::paper;
    group.items.push_back({std::move(frame)});
    const double x = (box.left + box.right) / 2;
    for (const bool plus : {true, false}) {
      const std::string screw = id + (plus ? "-plus" : "-minus");
      drawing::Group made;
      made.name = {"terminal-" + screw, {}, {}};
      made.items.push_back({schematic::terminal({}, {x, plus ? box.top : box.bottom})});
      const double off = schematic::kTerminal_mm + kBesideWire_mm;
      const std::string pole = text(plus ? say::wiring_plus() : say::wiring_minus());
      add_words(made, pole, {box.left + off, plus ? box.top + kPoleIn_mm : box.bottom - kPoleIn_mm},
                drawing::Align::middle);
      add_words(made, context_.reading(screw), {x, plus ? box.top + kReadingIn_mm : box.bottom - kReadingIn_mm},
                drawing::Align::middle);
      group.items.push_back({std::move(made)});
    }
    add_words(group, context_.marks(id), {x, (box.top + box.bottom) / 2}, drawing::Align::middle);
    add(std::move(group), {});
  }

  void add_words(drawing::Group& group, const std::string& says, Point middle, drawing::Align align) const {
    if (says.empty()) return;
    drawing::TextLine line =
        drawing::text_line(context_.ruler, {}, says, kFace, drawing::kCaption_mm, Ink::text, middle, align);
    line.at.y -= (line.extent.box.top + line.extent.box.bottom) / 2;
    group.items.push_back({std::move(line)});
  }

  /// One detector's contacts, resistors and terminals belong together.
  void draw_enclosure(double ladder_left) {
    const double left = boxes() == 0 ? ladder_left - kGrid_mm / 2 : ladder_left - kGrid_mm - kFeedBox_mm - kGrid_mm / 2;
    const double top =
        made_.feeds.empty() ? first_ - ladder_->first_mm - 0.4 : made_.feeds.back().plus_mm + kGrid_mm / 2;
    const double low = first_ - ladder_->first_mm + ladder_->height_mm;
    const double below = low > second_ + kGrid_mm + 1e-6 ? low : second_ + kGrid_mm / 2;
    const double bottom = made_.feeds.empty() ? below : made_.feeds.back().minus_mm - kGrid_mm / 2;
    const drawing::Stroke dashes{
        Ink::quiet, drawing::kFine_mm, {3.0, 0.8, 0.4, 0.8}, drawing::Cap::butt, drawing::Join::miter};
    made_.device.content.items.push_back({drawing::stroked(
        spec_.id + "-enclosure", {drawing::ring(drawing::Box{left, top, width_ - kGrid_mm / 2, bottom})}, dashes)});
  }

  const Context& context_;
  const FieldBlockOf& spec_;
  FieldBlock made_;
  std::optional<schematic::Ladder> ladder_;
  std::vector<drawing::Item> wires_;
  double width_ = 0.0, heading_ = 0.0, first_ = 0.0, second_ = 0.0;
};

}  // namespace

std::vector<std::string> detector_notes(const Context& context, const std::vector<std::string>& detectors) {
  std::vector<std::string> says;
  for (const std::string& id : detectors)
    says.push_back(marked(context.marks, id, site::called(context.site.detectors, id)));
  if (detectors.size() == 1) {
    const auto detector = context.site.detectors.find(detectors.front());
    const std::string part =
        detector == context.site.detectors.end() ? "" : part_name(context.site, detector->second.part);
    if (!part.empty()) says.front() = text(say::wiring_with_part(says.front(), part));
    return says;
  }
  std::string all;
  for (const std::string& one : says) all += (all.empty() ? "" : "; ") + one;
  return {all};
}

FieldBlock field_block(const Context& context, const FieldBlockOf& spec) { return Block(context, spec).run(); }

}  // namespace zoneproof::wiring
