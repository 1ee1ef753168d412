#include "wiring/graph_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <optional>
#include <stdexcept>

namespace zoneproof::wiring {

using schematic::kGrid_mm;
using schematic::on_grid;

namespace {

constexpr double kBox_mm = 45.0, kSmall_mm = 30.0;

class Drafter {
 public:
  Drafter(const Context& context, const GraphSet& set) : context_(context), set_(set) {}

  /// The part of the graph that these edges make, with the nodes that have none where `lonely`.
  schematic::Diagram diagram(const std::vector<std::size_t>& edges, bool lonely) const {
    Board board(0);
    std::vector<schematic::BoxOf> boxes(set_.graph.nodes.size());
    std::vector<bool> needed(boxes.size(), false);
    for (const std::size_t i : edges) {
      add_screws(set_.graph.edges[i], boxes);
      needed[set_.graph.edges[i].a] = needed[set_.graph.edges[i].b] = true;
    }
    std::vector<std::optional<std::size_t>> devices(boxes.size());
    const std::vector<bool> joined = with_edges();
    for (std::size_t i = 0; i < boxes.size(); ++i)
      if (needed[i] || (lonely && !joined[i])) devices[i] = board.add(box_of(set_.graph.nodes[i], std::move(boxes[i])));
    for (const std::size_t i : edges) add_edge(board, set_.graph.edges[i], devices);
    return board.diagram();
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

  void add_screws(const GraphEdge& edge, std::vector<schematic::BoxOf>& boxes) const {
    const bool right_b = column(edge.b) <= column(edge.a), right_a = column(edge.a) <= column(edge.b);
    boxes[edge.a].screws.push_back({screw(edge.a, edge, true), edge.label_a, {}, !right_a, right_a});
    boxes[edge.b].screws.push_back({screw(edge.b, edge, edge.a != edge.b), edge.label_b, {}, !right_b, right_b});
  }

  schematic::Device box_of(const GraphNode& node, schematic::BoxOf spec) const {
    spec.id = "node-" + node.id;
    spec.title = node.name;
    spec.most_mm = kBox_mm;
    if (node.small && spec.screws.size() == 1) {
      spec.screws.front().label = node.name;
      spec.screws.front().y_mm = kGrid_mm;
      spec.width_mm = kSmall_mm;
    } else {
      spec.name = node.name;
      spec.notes = node.notes;
      spec.width_mm = kSmall_mm;
    }
    schematic::Device device = schematic::box(context_.ruler, spec, 2 * node.column);
    device.standing = schematic::Standing::left;
    return device;
  }

  void add_edge(Board& board, const GraphEdge& edge, const std::vector<std::optional<std::size_t>>& devices) const {
    const bool forward = column(edge.a) <= column(edge.b);
    const std::size_t from = forward ? edge.a : edge.b, to = forward ? edge.b : edge.a;
    const std::string from_screw = screw(from, edge, forward || edge.a != edge.b);
    const std::string to_screw = screw(to, edge, edge.a != edge.b);
    schematic::CableOf over = edge.over;
    over.id = "edge-" + edge.id;
    const double room = on_grid(room_for_words(context_.ruler, over));
    over.cores = {{edge.id, room, {}}};
    schematic::Device mark = schematic::cable(context_.ruler, over, 2 * column(from) + 1);
    mark.close = true;
    const std::size_t at = board.add(std::move(mark));
    board.join(edge.id + "-1", *devices[from], from_screw, at, edge.id + "-a");
    board.join(edge.id + "-2", at, edge.id + "-b", *devices[to], to_screw);
  }

  const Context& context_;
  const GraphSet& set_;
};

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
    const schematic::Diagram diagram = drafter_.diagram(edges, lonely);
    schematic::LayoutOptions options;
    options.gap_mm = kGrid_mm;
    const schematic::Layout layout = spread(diagram, options, room.width_mm);
    if (layout.box.width() > room.width_mm || layout.box.height() > room.height_mm) return std::nullopt;
    Page page;
    page.title = set_.title;
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
        auto page = to > fits ? tried({all.begin() + static_cast<std::ptrdiff_t>(from), all.begin() + static_cast<std::ptrdiff_t>(to)},
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

}  // namespace zoneproof::wiring
