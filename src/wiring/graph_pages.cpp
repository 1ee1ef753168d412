#include "wiring/graph_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <limits>
#include <optional>
#include <stdexcept>

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::on_grid;

namespace {

constexpr double kBox_mm = 45.0, kSmall_mm = 30.0;
constexpr double kHeading_mm = 2 * kGrid_mm, kBetween_mm = 4 * kGrid_mm;  ///< of several drawings on one sheet

/// A diagram whose last devices are the marks of the edges.
struct Drafted {
  schematic::Diagram diagram;
  std::size_t first_mark = 0;
};

class Drafter {
 public:
  Drafter(const Context& context, const GraphSet& set) : context_(context), set_(set) {
    for (const GraphEdge& edge : set.graph.edges) rooms_.push_back(on_grid(room_for_words(context.ruler, edge.over)));
  }

  /// The part of the graph that these edges make, terminals in their order, with the nodes that have none where
  /// `lonely`.
  Drafted drafted(const std::vector<std::size_t>& edges, bool lonely) const {
    Board board(0);
    const std::vector<schematic::BoxOf> boxes = boxes_for(edges);
    const std::vector<bool> joined = with_edges();
    std::vector<std::optional<std::size_t>> devices(boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i)
      if (!boxes[i].screws.empty() || (lonely && !joined[i])) {
        schematic::Device device = schematic::box(context_.ruler, boxes[i], 2 * column(i));
        device.standing = schematic::Standing::left;
        devices[i] = board.add(std::move(device));
      }
    Drafted made;
    made.first_mark = board.diagram().devices.size();
    for (const std::size_t i : edges) add_edge(board, i, devices);
    made.diagram = board.diagram();
    return made;
  }

 private:
  std::vector<bool> with_edges() const {
    std::vector<bool> joined(set_.graph.nodes.size(), false);
    for (const GraphEdge& edge : set_.graph.edges) joined[edge.a] = joined[edge.b] = true;
    return joined;
  }

  int column(std::size_t node) const { return set_.graph.nodes[node].column; }
  std::string screw(std::size_t node, const GraphEdge& edge, bool first) const {
    return set_.graph.nodes[node].id + "." + edge.id + (first ? "" : "-b");
  }

  std::vector<schematic::BoxOf> boxes_for(const std::vector<std::size_t>& edges) const {
    std::vector<int> degrees(set_.graph.nodes.size(), 0);
    for (const std::size_t i : edges) {
      ++degrees[set_.graph.edges[i].a];
      ++degrees[set_.graph.edges[i].b];
    }
    std::vector<schematic::BoxOf> boxes;
    std::vector<std::pair<double, double>> next;  // height of the next terminal on the left and on the right
    for (std::size_t i = 0; i < degrees.size(); ++i) {
      const bool small = set_.graph.nodes[i].small && degrees[i] == 1 && one_line(set_.graph.nodes[i].name);
      boxes.push_back(box_of(set_.graph.nodes[i], small));
      const double first = small ? kGrid_mm : on_grid(room_for_words(context_.ruler, boxes.back()));
      next.push_back({first, first});
    }
    for (const std::size_t i : edges) {
      const GraphEdge& edge = set_.graph.edges[i];
      const bool right_a = column(edge.a) <= column(edge.b), right_b = column(edge.b) <= column(edge.a);
      add_screw(boxes[edge.a], next[edge.a], screw(edge.a, edge, true), edge.label_a, right_a, rooms_[i]);
      add_screw(boxes[edge.b], next[edge.b], screw(edge.b, edge, edge.a != edge.b), edge.label_b, right_b, rooms_[i]);
    }
    return boxes;
  }

  /// Beside its terminal a name has one line; a longer one is broken into those of a box.
  bool one_line(const std::string& name) const {
    return context_.ruler.measure(name, {drawing::Role::label, false}, drawing::kCaption_mm).width <= kBox_mm;
  }

  schematic::BoxOf box_of(const GraphNode& node, bool small) const {
    schematic::BoxOf spec;
    spec.id = set_.id + "-" + node.id;
    spec.title = node.name;
    spec.link = node.link;
    spec.most_mm = kBox_mm;
    spec.width_mm = kSmall_mm;
    if (small) {
      spec.screws.push_back({{}, node.name, {}, false, false, 0.0});  // its name, until it has its terminal
    } else {
      spec.name = node.name;
      spec.notes = node.notes;
    }
    return spec;
  }

  /// Terminals stand as far apart as the marks of their wires, so that all of them can run straight.
  static void add_screw(schematic::BoxOf& box, std::pair<double, double>& next, std::string id,
                        const std::string& label, bool right, double room) {
    double& y = right ? next.second : next.first;
    const bool small = !box.screws.empty() && box.screws.front().id.empty();
    const bool first = std::none_of(box.screws.begin(), box.screws.end(), [&](const schematic::Screw& other) {
      return !other.id.empty() && other.right == right;
    });
    if (!first) y += kGrid_mm + room;
    const std::string says = small ? box.screws.front().label : label;
    if (small) box.screws.clear();
    box.screws.push_back({std::move(id), says, {}, !right, right, y});
  }

  void add_edge(Board& board, std::size_t number, const std::vector<std::optional<std::size_t>>& devices) const {
    const GraphEdge& edge = set_.graph.edges[number];
    const bool forward = column(edge.a) <= column(edge.b);
    const std::size_t from = forward ? edge.a : edge.b, to = forward ? edge.b : edge.a;
    const std::string from_screw = screw(from, edge, true);
    const std::string to_screw = screw(to, edge, edge.a != edge.b);
    schematic::CableOf over = edge.over;
    over.id = "edge-" + edge.id;
    over.cores = {{edge.id, rooms_[number], {}}};
    schematic::Device mark = schematic::cable(context_.ruler, over, 2 * column(from) + 1);
    mark.close = true;
    const std::size_t at = board.add(std::move(mark));
    board.join(edge.id + "-1", *devices[from], from_screw, at, edge.id + "-a");
    board.join(edge.id + "-2", at, edge.id + "-b", *devices[to], to_screw);
  }

  const Context& context_;
  const GraphSet& set_;
  std::vector<double> rooms_;  ///< of each edge: height of its words above its wire
};

/// A layout of these edges: terminals first in the order given, then in the order that the marks came to stand in, as
/// long as that saves crossings or bends.
struct LaidOut {
  schematic::Diagram diagram;
  schematic::Layout layout;
};

LaidOut laid_out_best(const Drafter& drafter, std::vector<std::size_t> edges, bool lonely, double room_mm) {
  schematic::LayoutOptions options;
  options.gap_mm = kGrid_mm;
  LaidOut best;
  std::pair<std::size_t, std::size_t> least{};
  constexpr int rounds = 4;
  for (int round = 0; round < rounds; ++round) {
    Drafted drafted = drafter.drafted(edges, lonely);
    schematic::Layout layout = spread(drafted.diagram, options, room_mm);
    std::size_t lines = 0;
    for (const schematic::Wires& wires : layout.wires) lines += wires.lines.size();
    const std::pair<std::size_t, std::size_t> now{schematic::wire_crossings(layout), lines};
    std::vector<std::pair<double, std::size_t>> by_height;
    for (std::size_t i = 0; i < edges.size(); ++i) by_height.push_back({layout.at[drafted.first_mark + i].y, edges[i]});
    std::stable_sort(by_height.begin(), by_height.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    if (round == 0 || now < least) {
      least = now;
      best = {std::move(drafted.diagram), std::move(layout)};
    }
    for (std::size_t i = 0; i < edges.size(); ++i) edges[i] = by_height[i].second;
  }
  return best;
}

class Pages {
 public:
  Pages(const Context& context, const GraphSet& set) : context_(context), set_(set), drafter_(context, set) {}

  std::vector<Page> run() {
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < set_.graph.edges.size(); ++i) all.push_back(i);
    const std::vector<drawing::Format> formats = papers(context_.options);
    const std::size_t whole = context_.options.format ? 1 : 2;  // one sheet may be twice as large before it is parted
    for (std::size_t i = 0; i < std::min(whole, formats.size()); ++i)
      if (auto page = tried(all, true, formats[i])) return {named(std::move(*page), 1)};
    for (const drawing::Format format : formats) {
      std::vector<Page> pages = parted(all, format);
      if (!pages.empty()) return pages;
    }
    throw std::length_error("no paper holds the wiring of " + set_.id);
  }

 private:
  Page named(Page page, std::size_t number) const {
    page.id = fmt::format("{}-{}", set_.id, number);
    return page;
  }

  std::optional<Page> tried(const std::vector<std::size_t>& edges, bool lonely, drawing::Format format) const {
    const Room room = room_on(context_, format, set_.title, set_.key);
    const auto [diagram, layout] = laid_out_best(drafter_, edges, lonely, room.width_mm);
    if (layout.box.width() > room.width_mm || layout.box.height() > room.height_mm) return std::nullopt;
    Page page;
    page.title = set_.title;
    page.heading = set_.heading;
    page.description = set_.description;
    page.format = format;
    page.key = set_.key;
    drawing::Group group = schematic::drawn(diagram, layout);
    page.content.items.push_back(moved(drawing::Item{std::move(group)}, {0.0, -layout.box.top}));
    page.width_mm = layout.box.right;
    page.height_mm = layout.box.height();
    return page;
  }

  /// As many edges to a sheet as fit, in order; empty where one alone does not.
  std::vector<Page> parted(const std::vector<std::size_t>& all, drawing::Format format) const {
    std::vector<Page> pages;
    std::size_t from = 0;
    while (from < all.size()) {
      std::optional<Page> best;
      std::size_t to = from, fits = from, step = 1;
      while (step > 0) {  // twice as many each time while they fit, then half as many
        to = std::min(fits + step, all.size());
        auto page = to > fits ? tried({all.begin() + static_cast<std::ptrdiff_t>(from),
                                       all.begin() + static_cast<std::ptrdiff_t>(to)},
                                      pages.empty(), format)
                              : std::nullopt;
        if (page) {
          best = std::move(page);
          fits = to;
          step *= 2;
        } else {
          step /= 2;
        }
      }
      if (!best) return {};
      pages.push_back(named(std::move(*best), pages.size() + 1));
      from = fits;
    }
    return pages;
  }

  const Context& context_;
  const GraphSet& set_;
  Drafter drafter_;
};

}  // namespace

void set_columns(Graph& graph, const std::vector<std::size_t>& roots) {
  constexpr int unseen = std::numeric_limits<int>::max();
  std::vector<int> columns(graph.nodes.size(), unseen);
  std::vector<std::size_t> queue = roots;
  for (const std::size_t root : roots) columns[root] = 0;
  int last = -1;
  for (std::size_t at = 0; at < queue.size(); ++at) {
    last = std::max(last, columns[queue[at]]);
    for (const GraphEdge& edge : graph.edges) {
      if (edge.a != queue[at] && edge.b != queue[at]) continue;
      const std::size_t other = edge.a == queue[at] ? edge.b : edge.a;
      if (columns[other] != unseen) continue;
      columns[other] = columns[queue[at]] + 1;
      queue.push_back(other);
    }
  }
  for (std::size_t i = 0; i < graph.nodes.size(); ++i)
    graph.nodes[i].column = columns[i] == unseen ? std::max(0, last) : columns[i];
}

std::vector<Page> graph_pages(const Context& context, const GraphSet& set) {
  if (set.graph.nodes.empty()) return {};
  return Pages(context, set).run();
}

std::vector<Page> on_one_sheet(const Context& context, std::vector<std::vector<Page>> sets) {
  // What was parted stays so: the same device may stand on two sheets, and on one only once.
  const bool parted = std::any_of(sets.begin(), sets.end(), [](const auto& pages) { return pages.size() > 1; });
  std::vector<Page> all;
  for (std::vector<Page>& pages : sets) std::move(pages.begin(), pages.end(), std::back_inserter(all));
  if (all.size() < 2 || parted) return all;
  std::vector<drawing::TextLine> headings;
  Page joined = all.front();
  joined.content = {};
  joined.width_mm = joined.height_mm = 0.0;
  joined.description.clear();
  for (const Page& page : all) {
    if (page.format.width_mm != joined.format.width_mm) return all;
    headings.push_back(drawing::text_line(context.ruler, page.id + "-heading", page.heading,
                                          {drawing::Role::reading, true}, drawing::kLabel_mm, drawing::Ink::quiet, {},
                                          drawing::Align::left));
    joined.width_mm = std::max(joined.width_mm, page.width_mm);
    joined.height_mm += page.height_mm + kHeading_mm + (joined.height_mm > 0.0 ? kBetween_mm : 0.0);
  }
  const Room room = room_on(context, joined.format, joined.title, joined.key);
  if (joined.height_mm > room.height_mm) return all;
  double y = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    headings[i].at = {0.0, y - headings[i].extent.box.top};
    y += kHeading_mm;
    joined.content.items.push_back({std::move(headings[i])});
    joined.content.items.push_back(moved(drawing::Item{std::move(all[i].content)}, {0.0, y}));
    y += all[i].height_mm + kBetween_mm;
    joined.description += (i == 0 ? "" : " ") + all[i].description;
  }
  return {joined};
}

}  // namespace zoneproof::wiring
