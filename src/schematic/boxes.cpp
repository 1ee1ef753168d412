#include "schematic/boxes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "schematic/symbols.hpp"

namespace zoneproof::schematic {

using drawing::Align;
using drawing::Ink;
using drawing::Point;
using drawing::Role;
using drawing::TextBlock;

namespace {

constexpr double kPadding_mm = 1.5, kBetween_mm = 0.8, kToLabel_mm = 1.6, kWords_mm = 0.7;

/// The words at the top of a box or above the cores of a cable.
struct Words {
  std::vector<TextBlock> blocks;
  double width_mm = 0.0, height_mm = 0.0;
};

Words set_words(const drawing::Ruler& ruler, const std::vector<std::string>& texts, bool first_bold, double width) {
  Words words;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const bool bold = first_bold && i == 0;
    if (texts[i].empty()) continue;
    TextBlock block =
        drawing::broken(ruler, texts[i], {Role::label, bold}, bold ? drawing::kLabel_mm : drawing::kCaption_mm, width);
    words.width_mm = std::max(words.width_mm, block.width_mm);
    words.height_mm += block.height_mm + (words.blocks.empty() ? 0.0 : kBetween_mm);
    words.blocks.push_back(std::move(block));
  }
  return words;
}

void add_words(drawing::Group& group, const drawing::Ruler& ruler, const std::string& id, const std::string& link,
               const Words& words, Point at, Align align) {
  for (std::size_t i = 0; i < words.blocks.size(); ++i) {
    drawing::Group set = drawing::set(ruler, fmt::format("{}-words-{}", id, i + 1), words.blocks[i],
                                      i == 0 ? Ink::text : Ink::quiet, at, align);
    if (i == 0) set.name.link = link;
    group.items.push_back({std::move(set)});
    at.y += words.blocks[i].height_mm + kBetween_mm;
  }
}

std::vector<std::string> texts_of(const BoxOf& spec) {
  std::vector<std::string> texts = {spec.name};
  texts.insert(texts.end(), spec.notes.begin(), spec.notes.end());
  return texts;
}

drawing::TextLine label(const drawing::Ruler& ruler, std::string id, const std::string& text, bool bold, Point at,
                        Align align) {
  drawing::TextLine line =
      drawing::text_line(ruler, std::move(id), text, {Role::label, bold}, drawing::kCaption_mm, Ink::text, at, align);
  line.at.y -= (line.extent.box.top + line.extent.box.bottom) / 2;  // its middle where the terminal's is
  return line;
}

class BoxMaker {
 public:
  BoxMaker(const drawing::Ruler& ruler, const BoxOf& spec, int column) : ruler_(ruler), spec_(spec) {
    device_.id = spec.id;
    device_.column = column;
  }

  Device run() {
    const double wide = std::max(spec_.width_mm, spec_.most_mm);
    words_ = set_words(ruler_, texts_of(spec_), true, wide - 2 * kPadding_mm);
    place_screws();
    device_.width_mm = on_grid(std::max({spec_.width_mm, words_.width_mm + 2 * kPadding_mm, labels_width()}));
    device_.height_mm =
        on_grid(std::max({spec_.height_mm, top_of_screws_ - kGrid_mm + kPadding_mm, lowest_ + kGrid_mm}));
    draw();
    return std::move(device_);
  }

 private:
  void place_screws() {
    top_of_screws_ = on_grid(room_for_words(ruler_, spec_));
    double next[2] = {top_of_screws_, top_of_screws_};
    for (const Screw& screw : spec_.screws) {
      double y = screw.y_mm;
      if (y == 0.0) y = std::max(screw.left ? next[0] : 0.0, screw.right ? next[1] : 0.0);
      if (screw.left) next[0] = y + kPitch_mm;
      if (screw.right) next[1] = y + kPitch_mm;
      heights_.push_back(y);
      const bool below = screw.left && screw.right && !screw.reading.empty();  // its figure stands under the wire
      lowest_ = std::max(lowest_, below ? y + kGrid_mm : y);
    }
  }

  double text_width(const std::string& text, bool bold) const {
    return text.empty() ? 0.0 : ruler_.measure(text, {Role::label, bold}, drawing::kCaption_mm).width;
  }

  double width_of(const Screw& screw) const {
    const double label = text_width(screw.label, false), reading = text_width(screw.reading, true);
    if (screw.left && screw.right) return std::max(label, reading);
    return label + reading + (label > 0 && reading > 0 ? kToLabel_mm : 0.0);
  }

  /// What the widest pair of labels at one height needs.
  double labels_width() const {
    double widest = 0.0;
    for (std::size_t i = 0; i < heights_.size(); ++i) {
      double sum = 0.0;
      for (std::size_t j = 0; j < heights_.size(); ++j)
        if (std::abs(heights_[i] - heights_[j]) < kGrid_mm) sum += width_of(spec_.screws[j]) + 2 * kToLabel_mm;
      widest = std::max(widest, sum);
    }
    return widest + kPadding_mm;
  }

  void draw() {
    drawing::Group& group = device_.content;
    group.name = {spec_.id, spec_.title, {}};
    const double width = device_.width_mm, height = device_.height_mm;
    const drawing::Stroke outline{Ink::line, drawing::kMedium_mm, {}, drawing::Cap::butt, drawing::Join::miter};
    drawing::Shape frame =
        drawing::stroked(spec_.id + "-outline", {drawing::ring(drawing::Box{0, 0, width, height})}, outline);
    frame.fill = Ink::paper;
    if (spec_.part) frame.stroke->dashes_mm = {3.0, 0.8};
    group.items.push_back({std::move(frame)});
    add_words(group, ruler_, spec_.id, spec_.link, words_, {kPadding_mm, kPadding_mm}, Align::left);
    for (std::size_t i = 0; i < spec_.screws.size(); ++i) draw_screw(spec_.screws[i], heights_[i]);
  }

  void draw_screw(const Screw& screw, double y) {
    const double width = device_.width_mm;
    drawing::Group made;
    made.name = {"terminal-" + screw.id, spec_.name + " " + screw.label, {}};
    if (screw.left) device_.ports.push_back({screw.id, Side::left, y});
    if (screw.right) device_.ports.push_back({screw.left ? screw.id + "-right" : screw.id, Side::right, y});
    const bool both = screw.left && screw.right;
    if (both) made.items.push_back({wire("wire-" + screw.id + "-inside", {{{0, y}, {width, y}}})});
    if (screw.left) made.items.push_back({terminal({}, {0, y})});
    if (screw.right) made.items.push_back({terminal({}, {width, y})});
    draw_words_of(made, screw, y);
    device_.content.items.push_back({std::move(made)});
  }

  void draw_words_of(drawing::Group& made, const Screw& screw, double y) {
    const double width = device_.width_mm;
    const std::string id = "terminal-" + screw.id;
    const auto add = [&](const char* what, const std::string& text, bool bold, Point at, Align align) {
      if (!text.empty()) made.items.push_back({label(ruler_, id + what, text, bold, at, align)});
    };
    if (screw.left && screw.right) {
      add("-label", screw.label, false, {width / 2, y - kGrid_mm / 2 - kWords_mm / 2}, Align::middle);
      add("-reading", screw.reading, true, {width / 2, y + kGrid_mm / 2 + kWords_mm / 2}, Align::middle);
      return;
    }
    const double sign = screw.left ? 1.0 : -1.0, from = screw.left ? kToLabel_mm : width - kToLabel_mm;
    const Align align = screw.left ? Align::left : Align::right;
    add("-label", screw.label, false, {from, y}, align);
    const double after = text_width(screw.label, false);
    add("-reading", screw.reading, true, {from + sign * (after + (after > 0 ? kToLabel_mm : 0.0)), y}, align);
  }

  const drawing::Ruler& ruler_;
  const BoxOf& spec_;
  Device device_;
  Words words_;
  std::vector<double> heights_;
  double top_of_screws_ = 0.0, lowest_ = 0.0;
};

constexpr double kSlot_mm = 2.0, kPastCore_mm = 1.2;

}  // namespace

double room_for_words(const drawing::Ruler& ruler, const BoxOf& spec) {
  const Words words = set_words(ruler, texts_of(spec), true, std::max(spec.width_mm, spec.most_mm) - 2 * kPadding_mm);
  return kPadding_mm + words.height_mm + kGrid_mm;
}

Device box(const drawing::Ruler& ruler, const BoxOf& spec, int column) { return BoxMaker(ruler, spec, column).run(); }

double room_for_words(const drawing::Ruler& ruler, const CableOf& spec) {
  return set_words(ruler, spec.says, false, spec.most_mm).height_mm + kWords_mm + kPastCore_mm;
}

namespace {

/// From the middle of a cable's mark to the end of its longest colour.
double room_for_colours(const drawing::Ruler& ruler, const CableOf& spec) {
  double room = 0.0;
  for (const Core& core : spec.cores)
    if (!core.colour.empty())
      room = std::max(room, kSlot_mm + ruler.measure(core.colour, {Role::label, false}, drawing::kCaption_mm).width);
  return room;
}

}  // namespace

Device cable(const drawing::Ruler& ruler, const CableOf& spec, int column) {
  const Words words = set_words(ruler, spec.says, false, spec.most_mm);
  const double first = spec.cores.front().y_mm, last = spec.cores.back().y_mm;
  if (first < words.height_mm + kWords_mm + kPastCore_mm - 1e-6)
    throw std::invalid_argument("no room for a cable's words");
  Device device;
  device.id = spec.id;
  device.column = column;
  device.width_mm = on_grid(std::max({words.width_mm, kSlot_mm, 2 * room_for_colours(ruler, spec)}));
  device.height_mm = on_grid(last + kPastCore_mm);
  const double middle = device.width_mm / 2;
  drawing::Group& group = device.content;
  group.name = {spec.id, spec.title, {}};
  const double top = first - kPastCore_mm - kWords_mm - words.height_mm;
  for (const Core& core : spec.cores) {
    device.ports.push_back({core.id + "-a", Side::left, core.y_mm});
    device.ports.push_back({core.id + "-b", Side::right, core.y_mm});
    group.items.push_back({wire("wire-" + core.id, {{{0, core.y_mm}, {device.width_mm, core.y_mm}}})});
    if (!core.colour.empty()) {  // below its wire: above the first one stand the cable's words
      drawing::TextLine letters =
          label(ruler, "colour-" + core.id, core.colour, false, {middle + kSlot_mm, core.y_mm}, Align::left);
      letters.at.y = core.y_mm + kWords_mm - letters.extent.box.top;
      device.height_mm = std::max(device.height_mm, on_grid(letters.at.y + letters.extent.box.bottom));
      group.items.push_back({std::move(letters)});
    }
  }
  add_words(group, ruler, spec.id, {}, words, {middle, top}, Align::middle);
  if (!spec.slot) return device;
  const double half = kSlot_mm / 2, upper = first - kPastCore_mm + half, lower = last + kPastCore_mm - half;
  drawing::Subpath slot{{middle + half, upper}, {}, true};
  slot.pieces.push_back({{middle + half, lower}});
  drawing::add_arc(slot, {middle, lower}, half, 0.0, 180.0);
  slot.pieces.push_back({{middle - half, upper}});
  drawing::add_arc(slot, {middle, upper}, half, 180.0, 180.0);
  group.items.push_back({drawing::stroked(spec.id + "-mark", {slot}, {Ink::line, drawing::kFine_mm})});
  return device;
}

Device reference(const drawing::Ruler& ruler, const drawing::Name& name, const std::string& port,
                 const std::string& says, Side wire_on, int column) {
  Device device;
  device.id = name.id;
  device.column = column;
  device.width_mm = tag_width(ruler, says);
  device.height_mm = 2 * kGrid_mm;
  device.ports.push_back({port, wire_on, kGrid_mm});
  const bool left = wire_on == Side::left;
  device.standing = left ? Standing::left : Standing::right;
  device.content = tag(ruler, name, says, {left ? 0.0 : device.width_mm, kGrid_mm}, left ? Side::right : Side::left);
  return device;
}

}  // namespace zoneproof::schematic
