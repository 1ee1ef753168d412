#include "sheets/plan_labels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "drawing/shapes.hpp"
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
constexpr double kLeaderPiece_mm = 1.0;

Box box_about(Point middle, double width, double height) {
  return {middle.x - width / 2, middle.y - height / 2, middle.x + width / 2, middle.y + height / 2};
}

double distance(const Box& box, Point place) { return length(nearest(box, place) - place); }

class Placing {
 public:
  Placing(const std::vector<PlanLabel>& labels, const drawing::LabelField& field)
      : labels_(labels), field_(field), places_(labels.size()), done_(labels.size(), false) {}

  std::vector<LabelPlace> run() {
    for (const bool must : {true, false})
      for (std::size_t i = 0; i < labels_.size(); ++i)
        if (labels_[i].must == must) try_spots(i);
    place_rest([](const PlanLabel&) { return true; });
    if (!all_that_must()) {
      // Not all have room: once more, with what must stand before what may.
      for (std::size_t i = 0; i < labels_.size(); ++i)
        if (!at_spot(i)) done_[i] = false, places_[i] = {};
      place_rest([](const PlanLabel& label) { return label.must; });
      place_rest([](const PlanLabel&) { return true; });
    }
    return std::move(places_);
  }

 private:
  bool at_spot(std::size_t i) const { return done_[i] && places_[i].how == LabelHow::beside && spots_.contains(i); }
  bool all_that_must() const {
    for (std::size_t i = 0; i < labels_.size(); ++i)
      if (labels_[i].must && !done_[i]) return false;
    return true;
  }

  bool free(std::size_t of, const Box& box) const {
    const Box wide = grown(box, field_.gap_mm);
    if (!inside(wide, field_.area)) return false;
    for (const Box& taken : field_.taken)
      if (overlap(wide, taken)) return false;
    for (std::size_t i = 0; i < labels_.size(); ++i) {
      // Those with spots have no symbol of their own.
      if (i == of || !labels_[i].spots.empty()) continue;
      if (distance(box, labels_[i].anchor) < labels_[i].radius_mm + field_.gap_mm) return false;
    }
    return true;
  }

  void try_spots(std::size_t i) {
    const PlanLabel& label = labels_[i];
    for (const Point spot : label.spots) {
      const Box box = box_about(spot, label.width_mm(), label.height_mm());
      if (!free(i, box) || (!label.within.empty() && !box_inside(grown(box, kLineGap_mm), label.within))) continue;
      places_[i] = {LabelHow::beside, box, {}};
      done_[i] = true;
      spots_.insert(i);
      field_.taken.push_back(box);
      return;
    }
  }

  template <typename Wanted>
  void place_rest(const Wanted& wanted) {
    std::vector<drawing::LabelWish> wishes;
    std::vector<std::size_t> of;
    drawing::LabelField field = field_;
    for (std::size_t i = 0; i < labels_.size(); ++i) {
      const PlanLabel& label = labels_[i];
      if (done_[i]) continue;
      if (!wanted(label)) {
        if (label.spots.empty()) field.taken.push_back(box_about(label.anchor, label.radius_mm, label.radius_mm));
        continue;
      }
      wishes.push_back({label.anchor, label.radius_mm, label.width_mm(), label.height_mm()});
      of.push_back(i);
    }
    const std::vector<LabelPlace> found = drawing::label_places(wishes, field);
    for (std::size_t k = 0; k < found.size(); ++k) {
      if (found[k].how == LabelHow::nowhere) continue;
      places_[of[k]] = found[k];
      done_[of[k]] = true;
      take(found[k], labels_[of[k]]);
    }
  }

  void take(const LabelPlace& place, const PlanLabel& label) {
    field_.taken.push_back(place.box);
    field_.taken.push_back(box_about(label.anchor, 2 * label.radius_mm, 2 * label.radius_mm));
    if (place.how != LabelHow::by_leader) return;
    const Point along = place.leader.to - place.leader.from;
    const double size = length(along);
    for (double at = 0.0; at < size; at += kLeaderPiece_mm) {
      const Point from = place.leader.from + along * (at / size);
      const Point to = place.leader.from + along * (std::min(at + kLeaderPiece_mm, size) / size);
      field_.taken.push_back(drawing::united(Box{from.x, from.y, from.x, from.y}, {to.x, to.y, to.x, to.y}));
    }
  }

  const std::vector<PlanLabel>& labels_;
  drawing::LabelField field_;
  std::vector<LabelPlace> places_;
  std::vector<bool> done_;
  std::set<std::size_t> spots_;
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

PlacedLabels place_labels(const std::vector<PlanLabel>& labels, drawing::LabelField field) {
  field.reach_mm = kReach_mm;
  const std::vector<LabelPlace> places = Placing(labels, field).run();
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
