#include "sheets/plan_labels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "sheets/plan_lines.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Group;
using drawing::Ink;
using drawing::LabelHow;
using drawing::LabelPlace;
using drawing::Line;
using drawing::Point;

namespace {

constexpr double kLineGap_mm = 0.5, kAroundNumber_mm = 0.7, kReach_mm = 60.0;
constexpr int kTries = 4;
constexpr double kLeaderPiece_mm = 1.0;

Box box_about(Point middle, double width, double height) {
  return {middle.x - width / 2, middle.y - height / 2, middle.x + width / 2, middle.y + height / 2};
}

double distance(const Box& box, Point place) { return length(nearest(box, place) - place); }

class Placing {
 public:
  Placing(std::vector<PlanLabel>& labels, const drawing::LabelField& field, const std::vector<Line>& walls)
      : labels_(labels),
        field_(field),
        walls_(walls),
        places_(labels.size()),
        done_(labels.size(), false),
        first_(labels.size(), false) {}

  std::vector<LabelPlace> run() {
    for (PlanLabel& label : labels_) uncover(label);
    for (const bool must : {true, false})
      for (std::size_t i = 0; i < labels_.size(); ++i)
        if (labels_[i].must == must) try_spots(i);
    const std::vector<Box> taken = field_.taken;
    const std::vector<bool> done = done_;
    place([](const PlanLabel&, bool) { return true; });
    for (int again = 0; again < kTries && !all_that_must(); ++again) {
      // Not all have room: once more, what found none first, then what must stand, then what may.
      for (std::size_t i = 0; i < labels_.size(); ++i) first_[i] = first_[i] || (labels_[i].must && !done_[i]);
      field_.taken = taken;
      done_ = done;
      place([](const PlanLabel&, bool first) { return first; });
      place([](const PlanLabel& label, bool) { return label.must; });
      place([](const PlanLabel&, bool) { return true; });
    }
    for (std::size_t i = 0; i < places_.size(); ++i)
      if (!done_[i]) places_[i] = {};
    return std::move(places_);
  }

 private:
  bool all_that_must() const {
    for (std::size_t i = 0; i < labels_.size(); ++i)
      if (labels_[i].must && !done_[i]) return false;
    return true;
  }

  /// How far a place is from the nearest symbol of another label.
  double clearance(const PlanLabel& of, Point place) const {
    double least = kReach_mm;
    for (const PlanLabel& label : labels_)
      if (&label != &of && label.symbol) least = std::min(least, length(label.anchor - place) - label.radius_mm);
    return least;
  }

  void uncover(PlanLabel& label) const {
    double most = clearance(label, label.anchor);
    for (const Point place : label.or_at) {
      if (most > field_.gap_mm) return;
      if (clearance(label, place) <= most) continue;
      most = clearance(label, place);
      label.anchor = place;
    }
  }

  bool free(const PlanLabel& of, const Box& box) const {
    const Box wide = grown(box, field_.gap_mm);
    if (!inside(wide, field_.area)) return false;
    for (const Box& taken : field_.taken)
      if (overlap(wide, taken)) return false;
    return std::all_of(labels_.begin(), labels_.end(), [&](const PlanLabel& label) {
      // Beside a symbol, a name stands clearly nearer to its own than to any other.
      const double apart = of.symbol ? 2 * field_.gap_mm : field_.gap_mm;
      return &label == &of || !label.symbol || distance(box, label.anchor) >= label.radius_mm + apart;
    });
  }

  std::size_t covered(const Box& box) const {
    return static_cast<std::size_t>(
        std::count_if(field_.lines.begin(), field_.lines.end(), [&](const Line& line) { return cross(line, box); }));
  }

  /// At a spot: with a leader where it stands off its symbol.
  LabelPlace place_at(const PlanLabel& label, const Box& box) const {
    const Point end = nearest(box, label.anchor), along = end - label.anchor;
    const double away = length(along);
    if (!label.symbol || away < label.radius_mm + 2 * field_.gap_mm) return {LabelHow::beside, box, {}};
    return {LabelHow::by_leader, box, {label.anchor + along * (label.radius_mm / away), end}};
  }

  bool behind_wall(const Box& box, const PlanLabel& label) const {
    const Line way = {label.anchor, nearest(box, label.anchor)};
    return std::any_of(walls_.begin(), walls_.end(),
                       [&](const Line& wall) { return cross(wall, box) || cross(wall, way); });
  }

  bool leader_is_free(const PlanLabel& of, const LabelPlace& place) const {
    if (place.how != LabelHow::by_leader) return true;
    const Box about =
        drawing::united(Box{place.leader.from.x, place.leader.from.y, place.leader.from.x, place.leader.from.y},
                        {place.leader.to.x, place.leader.to.y, place.leader.to.x, place.leader.to.y});
    for (const Box& taken : field_.taken)
      if (cross(place.leader, taken)) return false;
    return std::all_of(labels_.begin(), labels_.end(), [&](const PlanLabel& label) {
      return &label == &of || !label.symbol || !overlap(about, symbol_of(label));
    });
  }

  void try_spots(std::size_t i) {
    const PlanLabel& label = labels_[i];
    std::size_t least = std::numeric_limits<std::size_t>::max();
    Box best;
    for (const Point spot : label.spots) {
      const Box box = box_about(spot, label.width_mm(), label.height_mm());
      if (!free(label, box)) continue;
      if (!label.within.empty() && !box_inside(grown(box, kLineGap_mm), label.within)) continue;
      // A number on its own hatching covers lines wherever it is.
      const std::size_t lines = label.ringed ? 0 : covered(box);
      if (label.symbol && (behind_wall(box, label) || !leader_is_free(label, place_at(label, box)))) continue;
      if (lines < least) least = lines, best = box;
      if (least == 0) break;
    }
    if (least == std::numeric_limits<std::size_t>::max()) return;
    places_[i] = place_at(label, best);
    done_[i] = true;
    take(places_[i]);
  }

  /// Labels beside symbols or with leaders; then those that lie under another's symbol, which their leaders may cross.
  template <typename Wanted>
  void place(const Wanted& wanted) {
    std::vector<std::size_t> clear, under, others;
    for (std::size_t i = 0; i < labels_.size(); ++i) {
      if (!done_[i] && wanted(labels_[i], first_[i])) {
        (clearance(labels_[i], labels_[i].anchor) < labels_[i].radius_mm ? under : clear).push_back(i);
      } else if (labels_[i].symbol) {
        others.push_back(i);
      }
    }
    place(clear, others);
    for (const std::size_t i : under) {
      std::vector<std::size_t> apart;
      for (std::size_t k = 0; k < labels_.size(); ++k)
        if (k != i && labels_[k].symbol && length(labels_[k].anchor - labels_[i].anchor) >= labels_[k].radius_mm)
          apart.push_back(k);
      place({i}, apart);
    }
  }

  /// `symbols`: of labels that are not placed now; nothing covers them either.
  void place(const std::vector<std::size_t>& which, const std::vector<std::size_t>& symbols) {
    std::vector<drawing::LabelWish> wishes;
    drawing::LabelField field = field_;
    for (const std::size_t i : symbols) field.taken.push_back(symbol_of(labels_[i]));
    for (const std::size_t i : which)
      wishes.push_back({labels_[i].anchor, labels_[i].radius_mm, labels_[i].width_mm(), labels_[i].height_mm()});
    const std::vector<LabelPlace> found = drawing::label_places(wishes, field);
    for (std::size_t k = 0; k < found.size(); ++k) {
      if (found[k].how == LabelHow::nowhere) continue;
      places_[which[k]] = found[k];
      done_[which[k]] = true;
      take(found[k]);
    }
  }

  static Box symbol_of(const PlanLabel& label) {
    return box_about(label.anchor, 2 * label.radius_mm, 2 * label.radius_mm);
  }

  void take(const LabelPlace& place) {
    field_.taken.push_back(place.box);
    if (place.how != LabelHow::by_leader) return;
    const Point along = place.leader.to - place.leader.from;
    const double size = length(along);
    const int pieces = static_cast<int>(std::ceil(size / kLeaderPiece_mm));
    for (int i = 0; i < pieces; ++i) {
      const double at = i * kLeaderPiece_mm;
      const Point from = place.leader.from + along * (at / size);
      const Point to = place.leader.from + along * (std::min(at + kLeaderPiece_mm, size) / size);
      field_.taken.push_back(drawing::united(Box{from.x, from.y, from.x, from.y}, {to.x, to.y, to.x, to.y}));
    }
  }

  std::vector<PlanLabel>& labels_;
  drawing::LabelField field_;
  const std::vector<Line>& walls_;
  std::vector<LabelPlace> places_;
  std::vector<bool> done_, first_;
};

std::string shown(const PlanLabel& label) {
  std::string text;
  for (const drawing::TextLine& line : label.lines) text += (text.empty() ? "" : " ") + line.content;
  return text;
}

}  // namespace

double PlanLabel::width_mm() const {
  double width = 0.0;
  for (const drawing::TextLine& line : lines) width = std::max(width, line.extent.box.width());
  return ringed ? height_mm() : width;
}

double PlanLabel::height_mm() const {
  double height = -kLineGap_mm, wide = 0.0;
  for (const drawing::TextLine& line : lines) {
    height += line.extent.box.height() + kLineGap_mm;
    wide = std::max(wide, line.extent.box.width());
  }
  return ringed ? std::max(height, wide) + 2 * kAroundNumber_mm : height;
}

PlanLabel plan_label(const drawing::Ruler& ruler, const std::string& id, const std::vector<std::string>& says,
                     Ink ink) {
  PlanLabel label;
  for (const std::string& line : says) {
    const std::string line_id = label.lines.empty() ? id : fmt::format("{}-{}", id, label.lines.size() + 1);
    label.lines.push_back(
        drawing::text_line(ruler, line_id, line, {drawing::Role::label, false}, drawing::kLabel_mm, ink, {}));
  }
  return label;
}

std::vector<std::string> name_lines(const drawing::Ruler& ruler, const std::string& name, double width_mm) {
  constexpr double narrow_mm = 10.0;
  constexpr std::size_t most = 3;
  if (width_mm < narrow_mm) return {name};
  std::vector<std::string> lines =
      drawing::broken(ruler, name, {drawing::Role::label, false}, drawing::kLabel_mm, width_mm).lines;
  return lines.size() <= most ? lines : std::vector<std::string>{name};
}

PlanLabel patch_label(const drawing::Ruler& ruler, const std::string& id, int number) {
  PlanLabel label;
  label.lines.push_back(drawing::text_line(ruler, id, fmt::format("{}", number), {drawing::Role::label, true},
                                           drawing::kLabel_mm, Ink::broken, {}));
  label.ringed = true;
  label.must = true;
  return label;
}

Group set_at(const PlanLabel& label, Point middle) {
  Group group;
  const Box box = box_about(middle, label.width_mm(), label.height_mm());
  if (label.ringed) {
    const drawing::Subpath ring = drawing::circle(middle, box.height() / 2);
    group.items.push_back({drawing::filled({}, {ring}, Ink::paper)});
    group.items.push_back({drawing::stroked({}, {ring}, {Ink::broken, drawing::kThin_mm})});
  }
  double top = label.ringed ? middle.y - label.lines.front().extent.box.height() / 2 : box.top;
  for (drawing::TextLine line : label.lines) {
    const Box ink = line.extent.box;
    const double left = label.ringed ? middle.x - ink.width() / 2 : box.left;
    line.at = {left - ink.left, top - ink.top};
    top += ink.height() + kLineGap_mm;
    group.items.push_back({std::move(line)});
  }
  return group;
}

PlacedLabels place_labels(std::vector<PlanLabel> labels, drawing::LabelField field, const std::vector<Line>& walls) {
  field.reach_mm = kReach_mm;
  const std::vector<LabelPlace> places = Placing(labels, field, walls).run();
  PlacedLabels placed;
  placed.below.name.id = "leaders";
  placed.names.name.id = "names";
  Group leaders;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    if (places[i].how == LabelHow::nowhere) {
      placed.nowhere.push_back(shown(labels[i]));
      placed.all_that_must = placed.all_that_must && !labels[i].must;
      continue;
    }
    const Box& box = places[i].box;
    if (!labels[i].ringed)
      placed.below.items.push_back({drawing::filled({}, {drawing::ring(grown(box, 0.3))}, Ink::paper)});
    if (places[i].how == LabelHow::by_leader) {
      const Line& leader = places[i].leader;
      leaders.items.push_back({drawing::stroked({}, {drawing::line_through({leader.from, leader.to})},
                                                {Ink::quiet, drawing::kHairline_mm})});
    }
    placed.names.items.push_back({set_at(labels[i], box.centre())});
  }
  placed.below.items.push_back({std::move(leaders)});
  return placed;
}

}  // namespace zoneproof::sheets
