#include "schematic/layout.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "schematic/channel.hpp"
#include "schematic/columns.hpp"
#include "schematic/heights.hpp"
#include "schematic/symbols.hpp"

namespace zoneproof::schematic {

using drawing::Box;
using drawing::Line;
using drawing::Point;

namespace {

/// From the grid's line on which a wire lies to the pieces of it, kept as numbers that can be compared.
long long line_of(double mm) { return std::llround(mm / kGrid_mm * 1000.0); }

/// Gathers a net's pieces; those that continue each other become one.
class Pieces {
 public:
  void across(double y, double from, double to) {
    if (std::abs(to - from) > kHair_mm) across_[line_of(y)].push_back({y, std::min(from, to), std::max(from, to)});
  }
  void down(double x, double from, double to) {
    if (std::abs(to - from) > kHair_mm) down_.push_back({x, std::min(from, to), std::max(from, to)});
  }

  Wires wires() {
    Wires wires;
    for (auto& [key, pieces] : across_) {
      std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) { return a.from < b.from; });
      for (std::size_t i = 0; i < pieces.size(); ++i) {
        Piece whole = pieces[i];
        while (i + 1 < pieces.size() && pieces[i + 1].from < whole.to + kHair_mm)
          whole.to = std::max(whole.to, pieces[++i].to);
        wires.lines.push_back({{whole.from, whole.at}, {whole.to, whole.at}});
      }
    }
    for (const Piece& piece : down_) wires.lines.push_back({{piece.at, piece.from}, {piece.at, piece.to}});
    wires.dots = dots(wires.lines);
    return wires;
  }

 private:
  struct Piece {
    double at, from, to;
  };

  /// Where a vertical piece meets horizontal ones and three or four ways lead on.
  static std::vector<Point> dots(const std::vector<Line>& lines) {
    std::vector<Point> found;
    for (const Line& down : lines) {
      if (std::abs(down.from.x - down.to.x) > kHair_mm) continue;
      for (const Line& across : lines) {
        if (std::abs(across.from.y - across.to.y) > kHair_mm) continue;
        const Point at{down.from.x, across.from.y};
        if (at.x < across.from.x - kHair_mm || at.x > across.to.x + kHair_mm) continue;
        if (at.y < down.from.y - kHair_mm || at.y > down.to.y + kHair_mm) continue;
        const int ways = (at.x > across.from.x + kHair_mm ? 1 : 0) + (at.x < across.to.x - kHair_mm ? 1 : 0) +
                         (at.y > down.from.y + kHair_mm ? 1 : 0) + (at.y < down.to.y - kHair_mm ? 1 : 0);
        if (ways >= 3) found.push_back(at);
      }
    }
    return found;
  }

  std::map<long long, std::vector<Piece>> across_;
  std::vector<Piece> down_;
};

class Layouter {
 public:
  Layouter(const Diagram& diagram, const LayoutOptions& options)
      : diagram_(diagram), options_(options), layers_(layers_of(diagram)), pieces_(diagram.nets.size()) {}

  Layout run() {
    if (options_.reorder) reduce_crossings(diagram_, layers_);
    tops_ = heights(diagram_, layers_, options_.gap_mm);
    for (const auto& channel : layers_.channels) routings_.push_back(routed(pins_of(channel)));
    place_columns();
    for (std::size_t i = 0; i < layers_.channels.size(); ++i) draw_channel(i);
    for (std::size_t i = 0; i < layers_.passages.size(); ++i) draw_passage(i);
    return finished();
  }

 private:
  bool passage(std::size_t slot) const { return slot >= diagram_.devices.size(); }

  double height_of(const ChannelPin& pin) const {
    return tops_[pin.slot] + (passage(pin.slot) ? 0.0 : diagram_.devices[pin.slot].ports[pin.port].y_mm);
  }

  std::vector<ChannelPins> pins_of(const std::vector<ChannelNet>& channel) const {
    std::vector<ChannelPins> all;
    for (const ChannelNet& net : channel) {
      ChannelPins pins;
      for (const ChannelPin& pin : net.left) pins.left.push_back(height_of(pin));
      for (const ChannelPin& pin : net.right) pins.right.push_back(height_of(pin));
      all.push_back(std::move(pins));
    }
    return all;
  }

  void place_columns() {
    double x = 0.0;
    for (std::size_t i = 0; i <= layers_.columns.size(); ++i) {
      const bool outer = i == 0 || i == layers_.columns.size();
      const double tracks = routings_[i].levels == 0 ? 0.0 : static_cast<double>(routings_[i].levels + 1) * kGrid_mm;
      const bool empty = outer || width_of(layers_.columns[i]) == 0.0;
      const double width = std::max(empty ? 0.0 : options_.channel_mm, tracks);
      channel_left_.push_back(x);
      channel_right_.push_back(x + width);
      first_track_.push_back(x + (width - tracks) / 2 + kGrid_mm);
      x += width;
      if (i < layers_.columns.size()) x += width_of(layers_.columns[i]);
    }
    right_ = x;
  }

  double width_of(const std::vector<std::size_t>& column) const {
    double width = 0.0;
    for (const std::size_t slot : column)
      if (!passage(slot)) width = std::max(width, diagram_.devices[slot].width_mm);
    return width;
  }

  double left_of(const Device& device) const {
    const auto column = static_cast<std::size_t>(device.column);
    const double left = channel_right_[column], right = channel_left_[column + 1];
    if (device.standing == Standing::left) return left;
    if (device.standing == Standing::right) return right - device.width_mm;
    return (left + right - device.width_mm) / 2;
  }

  /// Where a pin's wire leaves the device, or the edge of a column that is passed.
  double edge_of(const ChannelPin& pin, double column_edge) const {
    if (passage(pin.slot)) return column_edge;
    const Device& device = diagram_.devices[pin.slot];
    return left_of(device) + (device.ports[pin.port].side == Side::right ? device.width_mm : 0.0);
  }

  void draw_channel(std::size_t at) {
    const ChannelRouting& routing = routings_[at];
    const auto x_of = [&](const Track& track) {
      return first_track_[at] + static_cast<double>(track.level) * kGrid_mm;
    };
    for (std::size_t i = 0; i < layers_.channels[at].size(); ++i) {
      const ChannelNet& net = layers_.channels[at][i];
      std::vector<const Track*> own;
      for (const Track& track : routing.tracks)
        if (track.net == i) own.push_back(&track);
      if (own.empty()) {
        draw_straight(net, at);
        continue;
      }
      for (const Track* track : own) draw_track(net.net, *track, x_of(*track));
      if (own.size() == 2) pieces_[net.net].across(own[0]->jogs.front(), x_of(*own[0]), x_of(*own[1]));
      draw_stubs(net, own, at, x_of);
    }
  }

  void draw_straight(const ChannelNet& net, std::size_t at) {
    if (net.left.empty() || net.right.empty()) return;
    pieces_[net.net].across(height_of(net.left.front()), edge_of(net.left.front(), channel_left_[at]),
                            edge_of(net.right.front(), channel_right_[at]));
  }

  void draw_track(std::size_t net, const Track& track, double x) {
    double low = 1e9, high = -1e9;
    for (const auto* heights : {&track.left, &track.right, &track.jogs})
      for (const double y : *heights) {
        low = std::min(low, y);
        high = std::max(high, y);
      }
    pieces_[net].down(x, low, high);
  }

  template <class X>
  void draw_stubs(const ChannelNet& net, const std::vector<const Track*>& own, std::size_t at, const X& x_of) {
    const auto track_of = [&](double y, bool left) -> const Track& {
      for (const Track* track : own)
        for (const double other : left ? track->left : track->right)
          if (std::abs(other - y) < kHair_mm) return *track;
      return *own.front();
    };
    for (const ChannelPin& pin : net.left) {
      const double y = height_of(pin);
      pieces_[net.net].across(y, edge_of(pin, channel_left_[at]), x_of(track_of(y, true)));
    }
    for (const ChannelPin& pin : net.right) {
      const double y = height_of(pin);
      pieces_[net.net].across(y, x_of(track_of(y, false)), edge_of(pin, channel_right_[at]));
    }
  }

  void draw_passage(std::size_t number) {
    const Passage& passage = layers_.passages[number];
    const auto column = static_cast<std::size_t>(passage.column);
    const double y = tops_[diagram_.devices.size() + number];
    pieces_[passage.net].across(y, channel_right_[column], channel_left_[column + 1]);
  }

  Layout finished() {
    Layout layout;
    double top = 0.0, bottom = 0.0;
    for (std::size_t i = 0; i < diagram_.devices.size(); ++i) {
      layout.at.push_back({left_of(diagram_.devices[i]), tops_[i]});
      top = std::min(top, tops_[i]);
      bottom = std::max(bottom, tops_[i] + diagram_.devices[i].height_mm);
    }
    for (Pieces& pieces : pieces_) {
      layout.wires.push_back(pieces.wires());
      for (const Line& line : layout.wires.back().lines) {
        top = std::min(top, line.from.y);
        bottom = std::max(bottom, line.to.y);
      }
    }
    layout.box = {0.0, top, right_, bottom};
    return layout;
  }

  const Diagram& diagram_;
  const LayoutOptions& options_;
  Layers layers_;
  std::vector<Pieces> pieces_;
  std::vector<double> tops_;
  std::vector<ChannelRouting> routings_;  ///< of each channel
  std::vector<double> channel_left_, channel_right_, first_track_;
  double right_ = 0.0;
};

}  // namespace

Layout laid_out(const Diagram& diagram, const LayoutOptions& options) { return Layouter(diagram, options).run(); }

std::size_t wire_crossings(const Layout& layout) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < layout.wires.size(); ++i)
    for (std::size_t j = i + 1; j < layout.wires.size(); ++j)
      for (const Line& a : layout.wires[i].lines)
        for (const Line& b : layout.wires[j].lines) count += drawing::cross(a, b) ? 1 : 0;
  return count;
}

drawing::Group drawn(const Diagram& diagram, const Layout& layout) {
  drawing::Group group;
  for (std::size_t i = 0; i < diagram.nets.size(); ++i) {
    const Net& net = diagram.nets[i];
    if (layout.wires[i].lines.empty()) continue;
    group.items.push_back({wire("wire-" + net.id, layout.wires[i].lines)});
    std::get<drawing::Shape>(group.items.back().what).name.title = net.title;
    for (const Point dot : layout.wires[i].dots) group.items.push_back({junction(dot)});
  }
  for (std::size_t i = 0; i < diagram.devices.size(); ++i) {
    drawing::Group content = diagram.devices[i].content;
    if (content.name.id.empty()) content.name.id = diagram.devices[i].id;
    group.items.push_back(moved(drawing::Item{std::move(content)}, layout.at[i]));
  }
  return group;
}

}  // namespace zoneproof::schematic
