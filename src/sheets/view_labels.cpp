#include "sheets/view_labels.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "base/message.hpp"
#include "drawing/labels.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/sheets.hpp"
#include "sheets/boxes_over.hpp"
#include "sheets/view_masks.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Ink;
using drawing::Line;
using drawing::Point;
using drawing::Role;
using drawing::TextLine;
using sight::SurfaceRole;
using std::string;

namespace {

/// A name is written into a part of the picture only where it is at least so wide and high that it is seen as a thing.
constexpr double kLeastNamed_mm = 6.0;
/// A name within crosshatching stands on so much more paper than its letters take.
constexpr double kClearInMask_mm = 0.8;
/// Between the height of the lens and its name, and between that name and the border.
constexpr double kBesideHorizon_mm = 1.0;

Box bounds_of(const Rings& rings) {
  Box box = {rings[0][0].x, rings[0][0].y, rings[0][0].x, rings[0][0].y};
  for (const auto& ring : rings)
    for (const Point p : ring) box = united(box, {p.x, p.y, p.x, p.y});
  return box;
}

TextLine centred(TextLine text, Point at) {
  text.at = text.at + (at - text.box().centre());
  return text;
}

bool any_overlaps(const std::vector<Box>& boxes, const Box& box) {
  return std::any_of(boxes.begin(), boxes.end(), [&](const Box& other) { return overlap(box, other); });
}

void append(std::vector<Box>& boxes, const std::vector<Box>& more) {
  boxes.insert(boxes.end(), more.begin(), more.end());
}

class Labels {
 public:
  Labels(const drawing::Ruler& ruler, const sight::ExpectedView& view, const ExpectedViewWords& words,
         const PictureFrame& picture)
      : ruler_(ruler), view_(view), words_(words), picture_(picture) {}

  ViewLabels make() {
    made_.group.name.id = "view-labels";
    find_persons();
    want_masks();
    place_horizon();
    want_persons();
    want_patches();
    place_waiting();
    want_names();
    place_waiting(!words_.persons_clear);
    return std::move(made_);
  }

 private:
  /// What is written into the picture, at first without a place.
  struct Wanted {
    TextLine line;
    Point anchor;
    double radius_mm;
    string name;
  };

  TextLine line(const string& id, const string& content, bool bold, double size_mm, Ink ink) const {
    return drawing::text_line(ruler_, id, content, {Role::label, bold}, size_mm, ink, {0.0, 0.0});
  }

  void put(TextLine text) { put(text, drawing::backing(text)); }

  void put(TextLine text, drawing::Shape paper) {
    taken_.push_back(grown(text.box(), 0.6));
    made_.group.items.push_back({std::move(paper)});
    made_.group.items.push_back({std::move(text)});
  }

  bool free(const Box& box) const { return inside(box, picture_.box) && !any_overlaps(taken_, box); }

  /// The text at a place of an area, where it fits there and nothing stands yet.
  std::optional<TextLine> within(const Rings& area, const TextLine& text, std::optional<Point> at,
                                 double clear_mm = 0.5) const {
    if (!at) return std::nullopt;
    TextLine there = centred(text, *at);
    const Box box = grown(there.box(), clear_mm);
    return holds(area, box) && free(box) ? std::optional(std::move(there)) : std::nullopt;
  }

  /// In the middle of what it names where it fits there; else it waits for a place beside.
  void want(TextLine text, const Rings& area, const string& name) {
    if (auto there = within(area, text, well_inside(area))) return put(std::move(*there));
    const Point at = well_inside(area).value_or(bounds_of(area).centre());
    waiting_.push_back({std::move(text), at, 0.4, name});
  }

  void find_persons() {
    for (const Called& person : words_.persons)
      if (const auto* area = seen(view_, person.surface_id, SurfaceRole::person))
        append(persons_, boxes_over(rings_of(*area, picture_)));
  }

  /// A name that does not fit in its mask waits for a place beside the side that faces the middle of the picture.
  void want_masks() {
    for (const sight::CameraSetup::Mask& mask : view_.masks) {
      const auto named = words_.masks.find(mask.id);
      const string name = named != words_.masks.end() ? named->second : text(say::sheets_mask());
      TextLine text = line("mask-" + mask.id, name, true, drawing::kLabel_mm, Ink::text);
      const Rings area = rings_of(mask, picture_);
      auto there = within(area, text, bounds_of(area).centre(), kClearInMask_mm);
      if (!there) there = within(area, text, well_inside(area), kClearInMask_mm);
      if (there)
        put(*there, drawing::filled({}, {drawing::ring(grown(there->box(), kClearInMask_mm))}, Ink::paper));
      else
        waiting_.push_back({std::move(text), side_of(area), 0.4, name});
    }
    for (const sight::CameraSetup::Mask& mask : view_.masks) append(taken_, boxes_over(rings_of(mask, picture_)));
  }

  /// Where the way from within an area to the middle of the picture leaves it for good.
  Point side_of(const Rings& area) const {
    Point in = well_inside(area).value_or(bounds_of(area).centre()), out = picture_.box.centre();
    if (holds(area, out)) return in;
    constexpr int kHalvings = 40;
    for (int i = 0; i < kHalvings; ++i) {
      const Point middle = (in + out) * 0.5;
      (holds(area, middle) ? in : out) = middle;
    }
    return out;
  }

  /// At the right end of the line or as near to it as there is room, above the line or below.
  void place_horizon() {
    const TextLine name = line("horizon-name", text(say::sheets_horizon()), false, drawing::kCaption_mm, Ink::quiet);
    std::vector<Point> ends;
    for (const auto& horizon : view_.horizon)
      for (const Point p : picture_.points(horizon)) ends.push_back(p);
    std::stable_sort(ends.begin(), ends.end(), [](Point a, Point b) { return a.x > b.x; });
    const Box box = name.box();
    for (const Point end : ends) {
      const double x = end.x - 2 * kBesideHorizon_mm - box.right;
      for (const double y : {end.y - kBesideHorizon_mm - box.bottom, end.y + kBesideHorizon_mm - box.top}) {
        if (!has_room(moved(box, {x, y}))) continue;
        return put(centred(name, moved(box, {x, y}).centre()));
      }
    }
  }

  /// For the name of the horizon: clear of border, horizon, persons and what stands already.
  bool has_room(const Box& box) const {
    const Box wide = grown(box, kBesideHorizon_mm);
    if (!holds({picture_.points(view_.border)}, wide) || any_overlaps(persons_, box) || !free(box)) return false;
    for (const auto& horizon : view_.horizon) {
      const auto points = picture_.points(horizon);
      for (std::size_t i = 0; i + 1 < points.size(); ++i)
        if (cross(Line{points[i], points[i + 1]}, box)) return false;
    }
    return true;
  }

  void want_patches() {
    for (std::size_t i = 0; i < words_.patches.size(); ++i) {
      const auto* area = seen(view_, words_.patches[i].surface_id, SurfaceRole::patch);
      if (area == nullptr) continue;
      const string number = std::to_string(number_of(words_, i));
      want(line("patch-" + number, number, true, drawing::kReading_mm, Ink::broken), rings_of(*area, picture_), number);
    }
  }

  void want_persons() {
    for (std::size_t i = 0; i < words_.persons.size(); ++i) {
      const auto* area = seen(view_, words_.persons[i].surface_id, SurfaceRole::person);
      if (area == nullptr) continue;
      const Box box = bounds_of(rings_of(*area, picture_));
      // About the head; the lines of the body keep it clean.
      const string letter = letter_of(i);
      waiting_.push_back({line("person-" + letter, letter, true, drawing::kReading_mm, Ink::text),
                          {box.centre().x, box.top},
                          0.8,
                          letter});
    }
  }

  /// A thing has several surfaces: its name goes into the largest of them in which it fits, else beside the largest.
  void want_names() {
    for (const auto& [thing, name] : words_.names) {
      const std::vector<Rings> faces = faces_of(thing);
      if (faces.empty()) continue;
      const TextLine text = line(fmt::format("thing-{}", thing), name, false, drawing::kCaption_mm, Ink::quiet);
      const auto fits = std::find_if(faces.begin(), faces.end(), [&](const Rings& face) {
        return within(face, text, well_inside(face)).has_value();
      });
      want(text, fits != faces.end() ? *fits : faces.front(), name);
    }
  }

  /// What is seen of a thing's surfaces, the largest first.
  std::vector<Rings> faces_of(std::size_t thing) const {
    std::vector<std::pair<double, Rings>> faces;
    for (const sight::SeenArea& area : view_.areas) {
      if (view_.surfaces[area.surface].thing != thing) continue;
      Rings rings = rings_of(area, picture_);
      const Box box = bounds_of(rings);
      if (std::min(box.width(), box.height()) >= kLeastNamed_mm)
        faces.emplace_back(box.width() * box.height(), std::move(rings));
    }
    std::stable_sort(faces.begin(), faces.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<Rings> all;
    for (auto& face : faces) all.push_back(std::move(face.second));
    return all;
  }

  drawing::LabelField field(bool over_persons) const {
    drawing::LabelField field;
    field.area = grown(picture_.box, -0.8);
    field.taken = taken_;
    if (!over_persons) append(field.taken, persons_);
    for (const sight::SeenEdge& edge : view_.edges) {
      const auto points = picture_.points(edge.points);
      for (std::size_t i = 0; i + 1 < points.size(); ++i) field.lines.push_back({points[i], points[i + 1]});
    }
    return field;
  }

  /// Clear of persons first; over them what has no other place.
  void place_waiting(bool over_persons_too = true) {
    place_clear(false);
    if (over_persons_too) place_clear(true);
    for (const Wanted& one : waiting_) made_.unnamed.push_back(one.name);
    waiting_.clear();
  }

  /// What finds no place goes on waiting.
  void place_clear(bool over_persons) {
    std::vector<drawing::LabelWish> wishes;
    for (const Wanted& one : waiting_) {
      const Box box = one.line.box();
      wishes.push_back({one.anchor, one.radius_mm, box.width(), box.height()});
    }
    const auto places = drawing::label_places(wishes, field(over_persons));
    std::vector<Wanted> left;
    for (std::size_t i = 0; i < places.size(); ++i) {
      Wanted& one = waiting_[i];
      if (places[i].how == drawing::LabelHow::nowhere) {
        left.push_back(std::move(one));
        continue;
      }
      if (places[i].how == drawing::LabelHow::by_leader) draw_leader(places[i].leader, one.line.ink);
      put(centred(one.line, places[i].box.centre()));
    }
    waiting_ = std::move(left);
  }

  /// No name of a later round lies on it.
  void draw_leader(const Line& leader, Ink ink) {
    made_.group.items.push_back(
        {drawing::stroked({}, {drawing::line_through({leader.from, leader.to})}, {ink, drawing::kHairline_mm})});
    append(taken_, boxes_over({{leader.from, leader.to}}));
  }

  const drawing::Ruler& ruler_;
  const sight::ExpectedView& view_;
  const ExpectedViewWords& words_;
  const PictureFrame& picture_;
  ViewLabels made_;
  std::vector<Box> taken_, persons_;
  std::vector<Wanted> waiting_;
};

}  // namespace

string letter_of(std::size_t person) {
  constexpr std::size_t kLetters = 26;
  string letters;
  for (std::size_t rest = person + 1; rest > 0; rest = (rest - 1) / kLetters)
    letters.insert(letters.begin(), static_cast<char>('A' + (rest - 1) % kLetters));
  return letters;
}

int number_of(const ExpectedViewWords& words, std::size_t patch) {
  return patch < words.patch_numbers.size() ? words.patch_numbers[patch] : static_cast<int>(patch) + 1;
}

const sight::SeenArea* seen(const sight::ExpectedView& view, const string& id, SurfaceRole role) {
  for (const sight::SeenArea& area : view.areas) {
    const sight::Surface& surface = view.surfaces[area.surface];
    if (surface.id == id && surface.role == role) return &area;
  }
  return nullptr;
}

ViewLabels view_labels(const drawing::Ruler& ruler, const sight::ExpectedView& view, const ExpectedViewWords& words,
                       const PictureFrame& picture) {
  return Labels(ruler, view, words, picture).make();
}

}  // namespace zoneproof::sheets
