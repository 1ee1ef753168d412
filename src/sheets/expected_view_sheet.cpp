#include "sheets/expected_view_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/message.hpp"
#include "drawing/legend.hpp"
#include "drawing/shapes.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/sheets.hpp"
#include "sheets/flowing_lists.hpp"
#include "sheets/view_labels.hpp"
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
constexpr double kDegree = std::numbers::pi / 180.0;

class ViewPage {
 public:
  ViewPage(const drawing::Ruler& ruler, const sight::CameraModel& camera, const sight::ExpectedView& view,
           const ExpectedViewWords& words)
      : ruler_(ruler), camera_(camera), view_(view), words_(words) {}

  drawing::Sheet make() {
    sheet_.format = words_.format;
    sheet_.name = {"expected-view", text(say::sheets_expected_view(words_.camera)), {}};
    sheet_.description = description();
    drawing::TitleBlock title = words_.title;
    title.drawing = sheet_.name.title;
    title_ = drawing::title_block(ruler_, title, sheet_.frame());
    lay_out();
    add(view_lines(view_, picture_));
    ViewLabels labels = view_labels(ruler_, view_, words_, picture_);
    add(std::move(labels.group));
    unnamed_ = std::move(labels.unnamed);
    add_caption();
    add_lists();
    add(std::move(title_.group));
    sheet_.content.items.push_back({drawing::frame_line(sheet_)});
    return std::move(sheet_);
  }

 private:
  string description() const {
    const string shows = text(
        say::sheets_expected_view_shows(words_.camera, counted(words_.patches.size()), counted(words_.persons.size())));
    if (view_.masks.empty()) return shows;
    return shows + " " + text(say::sheets_expected_view_masks(counted(view_.masks.size())));
  }
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
      const bool visible = seen(view_, one.surface_id, SurfaceRole::patch) != nullptr;
      lines.push_back(text(visible ? say::sheets_patch(number_of(words_, i), one.says)
                                   : say::sheets_patch_unseen(number_of(words_, i), one.says)));
    }
    if (lines.empty() && words_.areas_known) lines.push_back(text(say::sheets_no_patches()));
    if (!words_.areas_known) lines.push_back(text(say::sheets_patches_unknown()));
    return lines;
  }

  std::vector<string> person_lines() const {
    std::vector<string> lines;
    for (std::size_t i = 0; i < words_.persons.size(); ++i) {
      const Called& one = words_.persons[i];
      const bool visible = seen(view_, one.surface_id, SurfaceRole::person) != nullptr;
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
  FlowingLists lists_;
  std::vector<string> unnamed_;
  double below_caption_mm_ = 0.0;
};

}  // namespace

drawing::Sheet expected_view_sheet(const drawing::Ruler& ruler, const sight::CameraModel& camera,
                                   const sight::ExpectedView& view, const ExpectedViewWords& words) {
  return ViewPage(ruler, camera, view, words).make();
}

}  // namespace zoneproof::sheets
