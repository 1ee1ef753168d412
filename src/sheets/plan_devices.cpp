#include "sheets/plan_devices.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "base/message.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_lines.hpp"
#include "sheets/plan_words.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Group;
using drawing::Ink;
using drawing::Item;
using drawing::Point;
using drawing::Shape;
using drawing::Stroke;

namespace {

constexpr double kWedge_mm = 4.6, kWedgeHalf_deg = 24.0, kLens_mm = 0.55;
constexpr double kDetector_mm = 1.5, kNose_mm = 1.1, kSquare_mm = 0.95;
/// Symbols whose middles are nearer share a label.
constexpr double kTogether_mm = 4.0;

const Stroke kOutline = {Ink::line, drawing::kThin_mm, {}, drawing::Cap::round, drawing::Join::round};
const Stroke kBeamLine = {Ink::line, drawing::kThin_mm, {2.4, 0.7, 0.3, 0.7}};

/// As `at_angle` counts: 0 to the right, clockwise; north is above.
double on_paper(double bearing_deg) { return bearing_deg - 90.0; }

Group camera_drawn(const std::string& id, Point at, double bearing_deg) {
  const double toward = on_paper(bearing_deg);
  Shape wedge =
      drawing::stroked({},
                       {drawing::ring(drawing::Points{at, drawing::at_angle(at, kWedge_mm, toward - kWedgeHalf_deg),
                                                      drawing::at_angle(at, kWedge_mm, toward + kWedgeHalf_deg)})},
                       kOutline);
  wedge.fill = Ink::paper;
  Group group;
  group.name.id = id;
  group.items.push_back({std::move(wedge)});
  group.items.push_back({drawing::filled({}, {drawing::circle(at, kLens_mm)}, Ink::line)});
  return group;
}

/// A half disc and, beyond it, a short line: which way it looks.
Group detector_drawn(const std::string& id, Point at, double bearing_deg) {
  const double toward = on_paper(bearing_deg);
  drawing::Subpath half = drawing::arc(at, kDetector_mm, toward - 90.0, 180.0);
  half.closed = true;
  Group group;
  group.name.id = id;
  group.items.push_back({drawing::filled({}, {half}, Ink::line)});
  group.items.push_back({drawing::stroked(
      {}, {drawing::line_through({at, drawing::at_angle(at, kDetector_mm + kNose_mm, toward)})}, kOutline)});
  return group;
}

Group marked(const std::string& id, Point at, PlanSign sign) {
  const double turn = sign == PlanSign::contact ? 45.0 : 0.0;
  drawing::Points corners;
  for (int i = 0; i < 4; ++i) corners.push_back(drawing::at_angle(at, kSquare_mm * 1.4, turn + 90.0 * i));
  Shape shape = drawing::stroked({}, {drawing::ring(corners)}, kOutline);
  shape.fill = sign == PlanSign::contact ? Ink::line : Ink::paper;
  Group group;
  group.name.id = id;
  group.items.push_back({std::move(shape)});
  return group;
}

struct Symbol {
  Point at;  ///< the middle of its circle
  double radius_mm;
  std::vector<std::string> says;
  std::string id;
  std::optional<double> toward_deg;  ///< which way it looks, as `at_angle` counts
};

/// Middles of boxes beside a circle, the way something looks and a little to either side: its name stands in the room
/// that it looks into and not behind the wall that it hangs on. Nearest first.
drawing::Points before(const PlanLabel& label, double toward_deg) {
  drawing::Points spots;
  for (const double off_mm : {kNameGap_mm, 5.0, 9.0}) {
    for (const double turn : {0.0, -25.0, 25.0, -45.0, 45.0}) {
      const Point way = drawing::at_angle({}, 1.0, toward_deg + turn);
      const double half = std::abs(way.x) * label.width_mm() / 2 + std::abs(way.y) * label.height_mm() / 2;
      spots.push_back(label.anchor + way * (label.radius_mm + off_mm + half));
    }
  }
  return spots;
}

class Devices {
 public:
  explicit Devices(PlanCanvas& canvas) : canvas_(canvas), site_(canvas.site()) {
    layer_.name = {"devices", text(say::plan_devices()), {}};
  }

  Group draw() {
    zones_ = site::zones_of_detectors(site_);
    for (const auto& [id, camera] : site_.cameras)
      if (wanted(id)) add_camera(id, camera);
    for (const auto& [id, detector] : site_.detectors)
      if (wanted(id)) add_detector(id, detector);
    add_labels();
    return std::move(layer_);
  }

 private:
  bool wanted(const std::string& id) const { return !canvas_.only || canvas_.only->contains(id); }

  std::optional<Point> place(const site::Mount& mount, const std::string& pointer, bool heading) {
    if (mount.level.id != canvas_.level) return std::nullopt;
    if (mount.x_m.known() && mount.y_m.known() && (!heading || mount.bearing_deg.known()))
      return canvas_.place.at({mount.x_m.nominal, mount.y_m.nominal});
    canvas_.unknown.push_back(pointer + "/mount");
    return std::nullopt;
  }

  void put(Group drawn, PlanSign sign, const std::string& title) {
    drawn.name.title = title;
    canvas_.signs.insert(sign);
    layer_.items.push_back({std::move(drawn)});
  }

  void add_camera(const std::string& id, const site::Camera& camera) {
    const auto at = place(camera.mount, "/cameras/" + id, true);
    if (!at) return;
    const std::string& name = site::name_or_id(camera.name, id);
    put(camera_drawn("camera-" + id, *at, camera.mount.bearing_deg.nominal), PlanSign::camera, name);
    const double toward = on_paper(camera.mount.bearing_deg.nominal);
    const Point middle = drawing::at_angle(*at, kWedge_mm / 2, toward);
    symbols_.push_back({middle, kWedge_mm / 2 + 0.3, {name}, "camera-" + id + "-name", toward});
  }

  PlanSign sign_of(const site::Detector& detector) const {
    const site::DetectorSpec* spec = site::spec_of(site_, detector.part, &site::Part::detector);
    if (spec == nullptr || !spec->pattern || !spec->pattern->shape.known()) return PlanSign::other_detector;
    switch (*spec->pattern->shape.value) {
      case site::PatternShape::fan:
      case site::PatternShape::curtain: return PlanSign::detector;
      case site::PatternShape::beam: return PlanSign::beam;
      case site::PatternShape::opening: return PlanSign::contact;
      case site::PatternShape::ceiling:
      case site::PatternShape::panes:
      case site::PatternShape::mat: break;
    }
    return PlanSign::other_detector;
  }

  void add_detector(const std::string& id, const site::Detector& detector) {
    const PlanSign sign = sign_of(detector);
    const auto at = place(detector.mount, "/detectors/" + id, sign == PlanSign::detector);
    if (!at) return;
    const std::string drawn_id = "detector-" + id, &name = site::name_or_id(detector.name, id);
    if (sign == PlanSign::beam) {
      add_beam(drawn_id, detector, *at, name);
    } else if (sign == PlanSign::detector) {
      put(detector_drawn(drawn_id, *at, detector.mount.bearing_deg.nominal), sign, name);
    } else {
      put(marked(drawn_id, *at, sign), sign, name);
    }
    std::vector<std::string> says;
    for (const std::string& zone : zones_[id]) says.push_back(zone_words(site_, zone));
    std::optional<double> toward;
    if (sign == PlanSign::detector) toward = on_paper(detector.mount.bearing_deg.nominal);
    symbols_.push_back({*at, kDetector_mm + 0.2, says, drawn_id + "-zone", toward});
  }

  void add_beam(const std::string& id, const site::Detector& detector, Point at, const std::string& name) {
    const auto other = place(detector.beam_to, "/detectors/" + id + "/beam_to", false);
    if (!other || length(*other - at) == 0.0) return put(marked(id, at, PlanSign::beam), PlanSign::beam, name);
    Group group = marked(id, at, PlanSign::beam);
    Group far = marked({}, *other, PlanSign::beam);
    group.items.insert(group.items.begin(), {drawing::stroked({}, {drawing::line_through({at, *other})}, kBeamLine)});
    group.items.push_back({std::move(far)});
    canvas_.lines.push_back({at, *other});
    canvas_.symbols.push_back(
        {other->x - kSquare_mm, other->y - kSquare_mm, other->x + kSquare_mm, other->y + kSquare_mm});
    put(std::move(group), PlanSign::beam, name);
  }

  /// Symbols that lie together get one label, so that no name has to pass another's symbol.
  void add_labels() {
    std::vector<bool> used(symbols_.size(), false);
    for (std::size_t i = 0; i < symbols_.size(); ++i) {
      if (used[i]) continue;
      std::vector<std::size_t> members = {i};
      used[i] = true;
      for (std::size_t k = 0; k < members.size(); ++k)
        for (std::size_t j = i + 1; j < symbols_.size(); ++j)
          if (!used[j] && length(symbols_[j].at - symbols_[members[k]].at) < kTogether_mm)
            used[j] = true, members.push_back(j);
      add_label(members);
    }
  }

  void add_label(const std::vector<std::size_t>& members) {
    Point middle;
    for (const std::size_t i : members) middle = middle + symbols_[i].at * (1.0 / static_cast<double>(members.size()));
    PlanLabel label;
    label.anchor = middle;
    label.must = true;
    for (const std::size_t i : members) {
      const Symbol& symbol = symbols_[i];
      label.radius_mm = std::max(label.radius_mm, length(symbol.at - middle) + symbol.radius_mm);
      PlanLabel own = plan_label(canvas_.ruler, symbol.id, symbol.says);
      label.lines.insert(label.lines.end(), own.lines.begin(), own.lines.end());
    }
    const std::optional<double> toward = symbols_[members.front()].toward_deg;
    if (toward) label.spots = before(label, *toward);
    if (!label.lines.empty()) return canvas_.labels.push_back(std::move(label));
    const double r = label.radius_mm;
    canvas_.symbols.push_back({middle.x - r, middle.y - r, middle.x + r, middle.y + r});
  }

  PlanCanvas& canvas_;
  const site::Site& site_;
  Group layer_;
  std::map<std::string, std::vector<std::string>> zones_;  ///< of a detector
  std::vector<Symbol> symbols_;
};

}  // namespace

Group plan_devices(PlanCanvas& canvas) { return Devices(canvas).draw(); }

std::vector<Item> device_sample(PlanSign sign) {
  constexpr double middle = drawing::kSampleHeight_mm / 2;
  constexpr double east = 90.0;
  switch (sign) {
    case PlanSign::camera: return {{camera_drawn({}, {2.6, middle}, east)}};
    case PlanSign::detector: return {{detector_drawn({}, {3.8, middle}, east)}};
    case PlanSign::contact:
    case PlanSign::other_detector: return {{marked({}, {5.0, middle}, sign)}};
    case PlanSign::beam:
      return {{drawing::stroked({}, {drawing::line_through({{1.5, middle}, {8.5, middle}})}, kBeamLine)},
              {marked({}, {1.5, middle}, sign)},
              {marked({}, {8.5, middle}, sign)}};
    default: return {};
  }
}

}  // namespace zoneproof::sheets
