#include "drawing/line_graph.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kTick_mm = 1.2, kAbout_mm = 1.0, kBelowTitle_mm = 1.4, kStepsApartX_mm = 12.0, kStepsApartY_mm = 7.0;
constexpr Face kFigures{Role::label, false}, kWords{Role::reading, false}, kTitle{Role::reading, true};
constexpr int kDigits = 6;

/// Where everything stands: texts are measured once, what is left is the field of the curves.
class Graph {
 public:
  Graph(const Ruler& ruler, const LineGraph& graph, const Box& all) : ruler_(ruler), graph_(graph), all_(all) {
    line_mm_ = measured("0", kFigures).height() + kAbout_mm;
    field_ = {all.left + figures_width() + kTick_mm + 2 * kAbout_mm, all.top,
              all.right - kAbout_mm - last_figure_half(), all.bottom - 2 * line_mm_ - kTick_mm - kAbout_mm};
    set_upright_labels();
    field_.top += (label_rows_ + 2.5) * line_mm_ + kAbout_mm + kBelowTitle_mm;
  }

  LineGraphDrawn drawn() {
    Group group;
    group.name = {graph_.id, graph_.title, {}};
    add_text(group, "title", graph_.title, kTitle, kLabel_mm, {all_.left, all_.top + line_mm_ + kAbout_mm / 2},
             Align::left);
    add_text(group, "y", graph_.y.label, kWords, kCaption_mm, {all_.left, all_.top + 2 * line_mm_ + kBelowTitle_mm},
             Align::left);
    add_text(group, "x", graph_.x.label, kWords, kCaption_mm, {field_.right, all_.bottom - kAbout_mm}, Align::right);
    add_grid(group);
    for (const GraphLine& line : graph_.upright) add_upright(group, line);
    for (const GraphLine& line : graph_.level) add_level(group, line);
    for (const Curve& curve : graph_.curves) {
      Points points;
      for (const Point& point : curve.points) points.push_back({x_mm(point.x), y_mm(point.y)});
      if (!points.empty()) group.items.push_back({stroked(id(curve.id), {line_through(points)}, curve.stroke)});
    }
    return {std::move(group), all_};
  }

 private:
  std::string id(const std::string& of) const { return graph_.id + "-" + of; }
  Box measured(const std::string& text, Face face) const { return ruler_.measure(text, face, kCaption_mm).box; }
  double x_mm(double x) const {
    return field_.left + (x - graph_.x.low) / (graph_.x.high - graph_.x.low) * field_.width();
  }
  double y_mm(double y) const {
    return field_.bottom - (y - graph_.y.low) / (graph_.y.high - graph_.y.low) * field_.height();
  }

  std::vector<double> steps(const Scale& scale, double room_mm, double apart_mm) const {
    return round_steps(scale.low, scale.high, apart_mm * (scale.high - scale.low) / room_mm);
  }

  double figures_width() const {
    double widest = 0.0;
    for (const double step : steps(graph_.y, all_.height(), kStepsApartY_mm))  // no field is higher, no step finer
      widest = std::max(widest, measured(shown({step, {}, kDigits}), kFigures).width());
    return widest;
  }

  /// What a figure at the right end of the axis needs beyond it; no step has more figures.
  double last_figure_half() const {
    double widest = 0.0;
    for (const double step : steps(graph_.x, all_.width(), kStepsApartX_mm))
      widest = std::max(widest, measured(shown({step, {}, kDigits}), kFigures).width());
    return widest / 2;
  }

  /// From left to right, each into the first row in which it meets no other.
  void set_upright_labels() {
    std::vector<double> ends;
    std::vector<const GraphLine*> lines;
    for (const GraphLine& line : graph_.upright) lines.push_back(&line);
    std::stable_sort(lines.begin(), lines.end(), [](const auto* a, const auto* b) { return a->at < b->at; });
    for (const GraphLine* line : lines) {
      const double half = measured(line->label, kWords).width() / 2;
      const double middle =
          std::clamp(x_mm(line->at), field_.left + half, std::max(field_.left + half, field_.right - half));
      const auto row =
          std::find_if(ends.begin(), ends.end(), [&](double end) { return middle - half > end + kAbout_mm; });
      rows_.push_back({line, middle, static_cast<std::size_t>(row - ends.begin())});
      if (row == ends.end())
        ends.push_back(middle + half);
      else
        *row = middle + half;
    }
    label_rows_ = static_cast<double>(ends.size());
  }

  void add_text(Group& group, const std::string& of, const std::string& text, Face face, double size_mm, Point at,
                Align align) const {
    if (!text.empty()) group.items.push_back({text_line(ruler_, id(of), text, face, size_mm, Ink::text, at, align)});
  }

  void add_grid(Group& group) const {
    std::vector<Subpath> grid, ticks;
    for (const double step : steps(graph_.x, field_.width(), kStepsApartX_mm)) {
      const double x = x_mm(step);
      grid.push_back(line_through({{x, field_.top}, {x, field_.bottom}}));
      ticks.push_back(line_through({{x, field_.bottom}, {x, field_.bottom + kTick_mm}}));
      add_text(group, fmt::format("x{}", ticks.size()), shown({step, {}, kDigits}), kFigures, kCaption_mm,
               {x, field_.bottom + kTick_mm + line_mm_}, Align::middle);
    }
    for (const double step : steps(graph_.y, field_.height(), kStepsApartY_mm)) {
      const double y = y_mm(step);
      grid.push_back(line_through({{field_.left, y}, {field_.right, y}}));
      ticks.push_back(line_through({{field_.left - kTick_mm, y}, {field_.left, y}}));
      const Box figure = measured(shown({step, {}, kDigits}), kFigures);
      add_text(group, fmt::format("y{}", ticks.size()), shown({step, {}, kDigits}), kFigures, kCaption_mm,
               {field_.left - kTick_mm - kAbout_mm, y - (figure.top + figure.bottom) / 2}, Align::right);
    }
    ticks.push_back(
        line_through({{field_.left, field_.top}, {field_.left, field_.bottom}, {field_.right, field_.bottom}}));
    group.items.push_back({stroked(id("grid"), std::move(grid), {Ink::faint, kHairline_mm})});
    group.items.push_back({stroked(id("axes"), std::move(ticks), {Ink::line, kThin_mm})});
  }

  void add_upright(Group& group, const GraphLine& line) const {
    const auto row = std::find_if(rows_.begin(), rows_.end(), [&](const Row& one) { return one.line == &line; });
    const double x = x_mm(line.at), base = field_.top - kAbout_mm - static_cast<double>(row->row) * line_mm_;
    group.items.push_back({stroked(id(line.id), {line_through({{x, field_.top}, {x, field_.bottom}})}, line.stroke)});
    add_text(group, line.id + "-says", line.label, kWords, kCaption_mm, {row->middle_mm, base}, Align::middle);
  }

  void add_level(Group& group, const GraphLine& line) const {
    const double y = y_mm(line.at);
    group.items.push_back({stroked(id(line.id), {line_through({{field_.left, y}, {field_.right, y}})}, line.stroke)});
    const Extent extent = ruler_.measure(line.label, kWords, kCaption_mm);
    TextLine says = text_line(ruler_, id(line.id + "-says"), line.label, kWords, kCaption_mm, Ink::text,
                              {field_.right - kAbout_mm, y - extent.box.bottom - kAbout_mm / 2}, Align::right);
    group.items.push_back({backing(says)});
    group.items.push_back({std::move(says)});
  }

  struct Row {
    const GraphLine* line;
    double middle_mm;
    std::size_t row;
  };

  const Ruler& ruler_;
  const LineGraph& graph_;
  Box all_, field_;
  double line_mm_ = 0.0, label_rows_ = 0.0;
  std::vector<Row> rows_;
};

}  // namespace

std::vector<double> round_steps(double low, double high, double least) {
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  double step = 10.0 * power;
  for (const double digit : {5.0, 2.0, 1.0})
    if (digit * power >= least) step = digit * power;
  std::vector<double> steps;
  for (double count = std::ceil(low / step); count * step <= high; count += 1.0)
    steps.push_back(count * step + 0.0);  // never minus nothing
  return steps;
}

LineGraphDrawn line_graph(const Ruler& ruler, const LineGraph& graph, Point at, double width_mm, double height_mm) {
  return Graph(ruler, graph, {at.x, at.y, at.x + width_mm, at.y + height_mm}).drawn();
}

}  // namespace zoneproof::drawing
