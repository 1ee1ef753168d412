#include "sheets/expected_view_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/message.hpp"
#include "drawing/labels.hpp"
#include "drawing/legend.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/sheets.hpp"
#include "sheets/flowing_lists.hpp"
#include "sheets/view_lines.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Face;
using drawing::Group;
using drawing::Ink;
using drawing::Point;
using drawing::Role;
using drawing::TextLine;
using sight::SurfaceRole;
using std::string;

namespace {

constexpr double kColumn_mm = 72.0, kGap_mm = 4.0;
/// A name is written into a part of the picture only where it is at least so wide and high that it is seen as a thing.
constexpr double kLeastNamed_mm = 6.0;
constexpr double kDegree = std::numbers::pi / 180.0;

string letter_of(std::size_t index) {
  constexpr std::size_t kLetters = 26;
  string letters;
  for (std::size_t rest = index + 1; rest > 0; rest = (rest - 1) / kLetters)
    letters.insert(letters.begin(), static_cast<char>('A' + (rest - 1) % kLetters));
  return letters;
}

Box bounds_of(const Rings& rings) {
  Box box = {rings[0][0].x, rings[0][0].y, rings[0][0].x, rings[0][0].y};
  for (const auto& ring : rings)
    for (const Point p : ring) box = united(box, {p.x, p.y, p.x, p.y});
  return box;
}

class Page {
 public:
  Page(const drawing::Ruler& ruler, const sight::CameraModel& camera, const sight::ExpectedView& view,
       const ExpectedViewWords& words)
      : ruler_(ruler), camera_(camera), view_(view), words_(words) {}

  drawing::Sheet make() {
    sheet_.format = words_.format;
    sheet_.name = {"expected-view", text(say::sheets_expected_view(words_.camera)), {}};
    sheet_.description = text(
        say::sheets_expected_view_shows(words_.camera, counted(words_.patches.size()), counted(words_.persons.size())));
    drawing::TitleBlock title = words_.title;
    title.drawing = sheet_.name.title;
    title_ = drawing::title_block(ruler_, title, sheet_.frame());
    lay_out();
    add(view_lines(view_, picture_));
    add_labels();
    add_caption();
    add_lists();
    add(std::move(title_.group));
    sheet_.content.items.push_back({drawing::frame_line(sheet_)});
    return std::move(sheet_);
  }

 private:
  static long long counted(std::size_t count) { return static_cast<long long>(count); }
  void add(Group group) { sheet_.content.items.push_back({std::move(group)}); }

  /// The picture as large as it gets beside the column and above the title block.
  void lay_out() {
    const Box frame = sheet_.frame();
    const Box room = {frame.left + kGap_mm, frame.top + kGap_mm, frame.right - kColumn_mm - kGap_mm,
                      title_.box.top - kGap_mm};
    picture_.mm_per_px = std::min(room.width() / view_.width_px, room.height() / view_.height_px);
    picture_.box = {room.left, room.top, room.left + view_.width_px * picture_.mm_per_px,
                    room.top + view_.height_px * picture_.mm_per_px};
  }

  /// What is written into the picture, at first without a place.
  struct Wanted {
    TextLine line;
    Point anchor;
    double radius_mm;
    bool must;  ///< what the lists refer to; else a name
    string name;
  };

  TextLine line(const string& id, const string& content, bool bold, double size_mm, Ink ink) const {
    return drawing::text_line(ruler_, id, content, {Role::label, bold}, size_mm, ink, {0.0, 0.0});
  }

  static TextLine centred(TextLine text, Point at) {
    text.at = text.at + (at - text.box().centre());
    return text;
  }

  const sight::SeenArea* seen(const string& id, SurfaceRole role) const {
    for (const sight::SeenArea& area : view_.areas) {
      const sight::Surface& surface = view_.surfaces[area.surface];
      if (surface.id == id && surface.role == role) return &area;
    }
    return nullptr;
  }

  void place_horizon() {
    if (view_.horizon.empty()) return;
    // At the end of the line, above it, where the picture ends.
    const Point end = picture_.at(view_.horizon.front().back()), begin = picture_.at(view_.horizon.front().front());
    const Point right = end.x > begin.x ? end : begin;
    TextLine text = line("horizon-name", drawing_text(say::sheets_horizon()), false, drawing::kCaption_mm, Ink::quiet);
    const Box box = text.box();
    const double x = std::max(picture_.box.left + 1.0, right.x - 2.0 - box.width());
    for (const double y : {right.y - 1.0 - box.bottom, right.y + 1.0 - box.top}) {
      const Box at = moved(box, {x - box.left, y});
      if (!inside(at, picture_.box)) continue;
      text.at = text.at + Point{x - box.left, y};
      put(std::move(text));
      return;
    }
  }
  static string drawing_text(const Message& message) { return text(message); }

  void put(TextLine text) {
    taken_.push_back(grown(text.box(), 0.6));
    labels_.items.push_back({drawing::backing(text)});
    labels_.items.push_back({std::move(text)});
  }

  bool free(const Box& box) const {
    return inside(box, picture_.box) &&
           std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) { return overlap(box, other); });
  }

  /// In the middle of what it names where it fits there; else it waits for a place beside.
  void want(TextLine text, const Rings& area, bool must, const string& name) {
    const auto at = well_inside(area);
    if (!at) return waiting_.push_back({std::move(text), bounds_of(area).centre(), 0.4, must, name});
    TextLine there = centred(text, *at);
    const Box box = grown(there.box(), 0.5);
    if (holds(area, box) && free(box)) return put(std::move(there));
    waiting_.push_back({std::move(text), *at, 0.4, must, name});
  }

  void want_patches() {
    for (std::size_t i = 0; i < words_.patches.size(); ++i) {
      const auto* area = seen(words_.patches[i].surface_id, SurfaceRole::patch);
      if (area == nullptr) continue;
      want(line(fmt::format("patch-{}", number_of(i)), std::to_string(number_of(i)), true, drawing::kReading_mm,
                Ink::broken),
           rings_of(*area, picture_), true, std::to_string(number_of(i)));
    }
  }

  int number_of(std::size_t patch) const {
    return patch < words_.patch_numbers.size() ? words_.patch_numbers[patch] : static_cast<int>(patch) + 1;
  }

  void want_persons() {
    for (std::size_t i = 0; i < words_.persons.size(); ++i) {
      const auto* area = seen(words_.persons[i].surface_id, SurfaceRole::person);
      if (area == nullptr) continue;
      const Box box = bounds_of(rings_of(*area, picture_));
      // About the head; the lines of the body keep it clean.
      const string letter = letter_of(i);
      waiting_.push_back({line("person-" + letter, letter, true, drawing::kReading_mm, Ink::text),
                          {box.centre().x, box.top},
                          0.8,
                          true,
                          {}});
    }
  }

  /// A thing has several surfaces: its name goes into the largest of them in which it fits, else beside the largest.
  void want_names() {
    for (const auto& [thing, name] : words_.names) {
      std::vector<Rings> faces = faces_of(thing);
      if (faces.empty()) continue;
      const TextLine text = line(fmt::format("thing-{}", thing), name, false, drawing::kCaption_mm, Ink::quiet);
      const auto fits = std::find_if(faces.begin(), faces.end(), [&](const Rings& face) {
        const auto at = well_inside(face);
        const Box box = at ? grown(centred(text, *at).box(), 0.5) : Box{};
        return at && holds(face, box) && free(box);
      });
      want(text, fits != faces.end() ? *fits : faces.front(), false, name);
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

  drawing::LabelField field() const {
    drawing::LabelField field;
    field.area = grown(picture_.box, -0.8);
    field.taken = taken_;
    for (const sight::SeenEdge& edge : view_.edges) {
      const auto points = picture_.points(edge.points);
      for (std::size_t i = 0; i + 1 < points.size(); ++i) field.lines.push_back({points[i], points[i + 1]});
    }
    return field;
  }

  void place_waiting(bool must) {
    std::vector<drawing::LabelWish> wishes;
    std::vector<const Wanted*> whose;
    for (const Wanted& one : waiting_) {
      if (one.must != must) continue;
      const Box box = one.line.box();
      wishes.push_back({one.anchor, one.radius_mm, box.width(), box.height()});
      whose.push_back(&one);
    }
    const auto places = drawing::label_places(wishes, field());
    for (std::size_t i = 0; i < places.size(); ++i) {
      const Wanted& one = *whose[i];
      if (places[i].how == drawing::LabelHow::nowhere) {
        unnamed_.push_back(one.name);
        continue;
      }
      if (places[i].how == drawing::LabelHow::by_leader)
        labels_.items.push_back(
            {drawing::stroked({}, {drawing::line_through({places[i].leader.from, places[i].leader.to})},
                              {one.line.ink, drawing::kHairline_mm})});
      put(centred(one.line, places[i].box.centre()));
    }
  }

  void add_labels() {
    labels_.name.id = "view-labels";
    place_horizon();
    want_persons();
    want_patches();
    place_waiting(true);
    waiting_.clear();
    want_names();
    place_waiting(false);
    add(std::move(labels_));
  }

  /// What the numbers and letters mean, and the legend: beside the picture, and on in columns below it where it leaves
  /// room. Persons first: the plan has the patches, and nothing else has them.
  void add_lists() {
    const Box frame = sheet_.frame();
    const double left = std::max(picture_.box.right + kGap_mm, frame.right - kColumn_mm);
    const double width = frame.right - kGap_mm - left;
    drawing::Legend key = drawing::legend(ruler_, view_legend(view_), {0.0, 0.0}, width);
    const double bottom = title_.box.top - kGap_mm;
    const Point at = {left, bottom - key.box.height()};
    add(std::get<Group>(moved({std::move(key.group)}, at).what));
    lists_.slots.push_back({left, frame.top + kGap_mm, frame.right - kGap_mm, at.y - kGap_mm});
    const double below = picture_.box.bottom + kGap_mm + below_caption_mm_;
    if (bottom - below >= kLeastList_mm) {
      for (double x = picture_.box.left; x + width <= left - kGap_mm; x += width + kGap_mm)
        lists_.slots.push_back({x, below, x + width, bottom});
    }
    lists_.group.name.id = "view-lists";
    if (!words_.persons.empty()) lists_.add(ruler_, text(say::sheets_persons()), person_lines());
    lists_.add(ruler_, text(say::sheets_patches()), patch_lines());
    if (!unnamed_.empty()) lists_.add(ruler_, {}, {text(say::sheets_unnamed(unnamed_))});
    add(std::move(lists_.group));
  }

  std::vector<string> patch_lines() const {
    std::vector<string> lines;
    for (std::size_t i = 0; i < words_.patches.size(); ++i) {
      const Called& one = words_.patches[i];
      const bool visible = seen(one.surface_id, SurfaceRole::patch) != nullptr;
      lines.push_back(
          text(visible ? say::sheets_patch(number_of(i), one.says) : say::sheets_patch_unseen(number_of(i), one.says)));
    }
    if (lines.empty() && words_.areas_known) lines.push_back(text(say::sheets_no_patches()));
    if (!words_.areas_known) lines.push_back(text(say::sheets_patches_unknown()));
    return lines;
  }

  std::vector<string> person_lines() const {
    std::vector<string> lines;
    for (std::size_t i = 0; i < words_.persons.size(); ++i) {
      const Called& one = words_.persons[i];
      const bool visible = seen(one.surface_id, SurfaceRole::person) != nullptr;
      lines.push_back(text(visible ? say::sheets_person(letter_of(i), one.says)
                                   : say::sheets_person_unseen(letter_of(i), one.says)));
    }
    return lines;
  }

  /// How the camera stands, to set it up by.
  void add_caption() {
    const Box frame = sheet_.frame();
    const sight::CameraSetup& setup = camera_.setup();
    string says;
    const auto sentence = [&](const Message& message) { says += (says.empty() ? "" : " ") + text(message); };
    const auto ray = [&](double across, double down) {
      return camera_.ray({across * view_.width_px, down * view_.height_px});
    };
    const auto left = ray(0, 0.5), right = ray(1, 0.5), top = ray(0.5, 0), low = ray(0.5, 1);
    if (left && right && top && low)
      sentence(say::sheets_camera_encodes(setup.encoded_width_px, setup.encoded_height_px, {setup.focal_mm, "mm"},
                                          {field_deg(*left, *right), "deg"}, {field_deg(*top, *low), "deg"}));
    const double bearing = setup.bearing_deg - 360.0 * std::floor(setup.bearing_deg / 360.0);
    sentence(say::sheets_camera_stands({words_.above_floor_m, "m"}, {bearing, "deg"}));
    if (setup.tilt_deg < 0.0) sentence(say::sheets_camera_tilted_down({-setup.tilt_deg, "deg"}));
    if (setup.tilt_deg > 0.0) sentence(say::sheets_camera_tilted_up({setup.tilt_deg, "deg"}));
    if (setup.roll_deg != 0.0) sentence(say::sheets_camera_rolled({setup.roll_deg, "deg"}));
    sentence(say::sheets_picture_scale({1.0 / picture_.mm_per_px, "px"}));
    sentence(say::sheets_compare());
    // On an upright sheet the title block leaves no room beside it: below the picture then.
    const double beside = title_.box.left - frame.left - 2 * kGap_mm;
    const bool fits = beside >= kLeastCaption_mm;
    const Point at =
        fits ? Point{frame.left + kGap_mm, title_.box.top} : Point{picture_.box.left, picture_.box.bottom + kGap_mm};
    const double width = fits ? beside : picture_.box.width();
    const auto caption = drawing::broken(ruler_, says, {Role::reading, false}, drawing::kLabel_mm, width);
    if (!fits) below_caption_mm_ = caption.height_mm + kGap_mm;
    add(drawing::set(ruler_, "view-camera", caption, Ink::text, at));
  }

  /// Over the axis: a fisheye may see more than half a turn.
  double field_deg(sight::Vector3 a, sight::Vector3 b) const {
    return (angle_between(a, camera_.forward()) + angle_between(b, camera_.forward())) / kDegree;
  }

  static constexpr double kLeastCaption_mm = 40.0, kLeastList_mm = 14.0;
  const drawing::Ruler& ruler_;
  const sight::CameraModel& camera_;
  const sight::ExpectedView& view_;
  const ExpectedViewWords& words_;
  drawing::Sheet sheet_;
  drawing::TitleBlockDrawn title_;
  PictureFrame picture_;
  Group labels_;
  FlowingLists lists_;
  std::vector<Box> taken_;
  std::vector<Wanted> waiting_;
  std::vector<string> unnamed_;
  double below_caption_mm_ = 0.0;
};

}  // namespace

drawing::Sheet expected_view_sheet(const drawing::Ruler& ruler, const sight::CameraModel& camera,
                                   const sight::ExpectedView& view, const ExpectedViewWords& words) {
  return Page(ruler, camera, view, words).make();
}

}  // namespace zoneproof::sheets
