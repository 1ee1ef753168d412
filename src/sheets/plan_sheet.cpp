#include "sheets/plan_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "base/message.hpp"
#include "drawing/labels.hpp"
#include "drawing/north_arrow.hpp"
#include "drawing/scale_bar.hpp"
#include "drawing/shapes.hpp"
#include "drawing/title_block.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_areas.hpp"
#include "sheets/plan_building.hpp"
#include "sheets/plan_density.hpp"
#include "sheets/plan_devices.hpp"
#include "sheets/plan_legend.hpp"
#include "sheets/plan_list.hpp"
#include "sheets/plan_openings.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Group;
using drawing::Ink;
using drawing::Point;
using drawing::Sheet;

namespace {

constexpr double kColumn_mm = 74.0, kPadding_mm = 3.0, kNamesAbout_mm = 9.0, kArrow_mm = 7.0;
constexpr double kScaleOfSmallPaper = 100.0;
constexpr double kLeastList_mm = 40.0;  ///< what a legend leaves of the column

/// What is the same on all sheets of a set.
struct Set {
  const drawing::Ruler& ruler;
  const sight::Scene& scene;
  const std::vector<sight::ZoneView>& views;
  const PlanOptions& options;
  std::string hash;
  int first = 1, count = 1;  ///< numbers in the title blocks
};

drawing::TitleBlockDrawn titled(const Set& set, const std::string& level, std::optional<double> scale, int number,
                                const Box& frame) {
  const site::Site& site = set.scene.site();
  return drawing::title_block(set.ruler,
                              {site.name, text(say::plan_titled(site::called(site.levels, level))),
                               fmt::format("{}", site.revision), set.hash, set.options.date, scale, number, set.count},
                              frame);
}

/// Which thing of the building a cause speaks of, and so has to be found on the plan.
std::set<std::string> told_by_causes(const std::vector<NumberedPatch>& patches) {
  std::set<std::string> told;
  for (const NumberedPatch& one : patches)
    for (const sight::Cause& cause : one.patch->causes)
      if (cause.why == sight::Why::hidden) told.insert(cause.thing);
  return told;
}

class Page {
 public:
  Page(const Set& set, const std::string& level, const plane::Box& extent, drawing::Format format)
      : set_(set), level_(level), canvas_{set.ruler, set.scene, level, {100.0, extent, {}}, {}, {}, {}, {}, {}, {}} {
    sheet_.format = format;
    const std::string& name = site::called(set.scene.site().levels, level);
    sheet_.name = {"plan-" + level, text(say::plan_titled(name)), {}};
    patches_ = patches_on_level(set.views, level);
    canvas_.told = told_by_causes(patches_);
    lay_out();
  }

  double scale() const { return canvas_.place.scale; }

  /// Draws everything but the title block's number. Whether all that must stand has room.
  bool draw() {
    Group building;
    Group areas = plan_detection(canvas_, set_.views), patches = plan_patches(canvas_, patches_);
    Group protected_places = plan_protected(canvas_), privacy = plan_privacy(canvas_);
    Group blocks = plan_blocks(canvas_), stairs = plan_stairs(canvas_), walls = plan_walls(canvas_);
    Group openings = plan_openings(canvas_);
    Group frame = chosen_frame();
    Group devices = plan_devices(canvas_);
    PlacedLabels labels = place_labels(canvas_.labels, field());
    nowhere_ = std::move(labels.nowhere);
    // Hatching lies under everything: a wall across it stays a wall.
    for (Group* layer : {&patches, &areas, &privacy, &protected_places, &stairs, &blocks, &frame, &walls, &openings,
                         &labels.below, &devices, &labels.names})
      add(std::move(*layer));
    add(std::move(north_));
    add(std::move(bar_.group));
    const bool roomy = add_legend();
    return labels.all_that_must && roomy;
  }

  /// The plan with its list, then sheets with what is left of the list.
  std::vector<Sheet> finished() {
    std::vector<PlanRow> rows = plan_rows(set_.ruler, set_.scene, set_.views, level_, canvas_.unknown, list_.width());
    for (PlanRow& row : plan_notes(set_.ruler, "without-room", text(say::plan_without_room()), nowhere_, list_.width()))
      rows.push_back(std::move(row));
    Group list;
    list.name.id = "list";
    std::size_t done = fill_column(list, rows, 0, list_);
    add(std::move(list));
    add(lines_between());
    close(sheet_, scale(), 0);
    sheet_.description =
        text(say::plan_shows(site::called(set_.scene.site().levels, level_), static_cast<long long>(patches_.size()),
                             static_cast<long long>(set_.scene.site().cameras.size())));
    std::vector<Sheet> sheets = {std::move(sheet_)};
    while (done < rows.size()) sheets.push_back(continued(rows, done, static_cast<int>(sheets.size())));
    return sheets;
  }

 private:
  void add(Group group) {
    if (!group.items.empty()) sheet_.content.items.push_back({std::move(group)});
  }

  /// Plan to the left, list and legend in a column to the right, scale and north at the foot beside the title.
  void lay_out() {
    const Box frame = sheet_.frame();
    title_ = titled(set_, level_, canvas_.place.scale, set_.count, frame).box;
    column_ = {frame.right - kColumn_mm, frame.top, frame.right, title_.top};
    room_ = {frame.left, frame.top, column_.left, title_.top};
    const Box inner = grown(room_, -kNamesAbout_mm);
    PlanPlace& place = canvas_.place;
    place.scale = scale_that_fits(place.extent, inner.width(), inner.height());
    const double width = place.mm(place.extent.high.x - place.extent.low.x);
    const double height = place.mm(place.extent.high.y - place.extent.low.y);
    place.corner = {inner.centre().x - width / 2, inner.centre().y + height / 2};
    const Box foot = {frame.left, title_.top, title_.left, frame.bottom};
    const Point arrow = {foot.left + kPadding_mm + kArrow_mm, foot.centre().y + kPadding_mm / 2};
    north_ = drawing::north_arrow(set_.ruler, arrow, kArrow_mm, 0.0);
    const double left = arrow.x + kArrow_mm + 2 * kPadding_mm;
    bar_ = drawing::scale_bar(set_.ruler, place.scale, {left, 0.0}, foot.right - kPadding_mm - left);
    bar_.group =
        std::get<Group>(moved(drawing::Item{std::move(bar_.group)}, {0.0, foot.centre().y - bar_.box.centre().y}).what);
    list_ = grown(column_, -kPadding_mm);
  }

  Group chosen_frame() {
    const std::string& camera = set_.options.camera;
    if (camera.empty()) return {};
    const sight::WatchingFound& found = set_.scene.cameras().at(camera);
    const site::Mount& mount = set_.scene.site().cameras.at(camera).mount;
    if (mount.level.id != level_) return {};
    if (!found.watching) {
      for (const chain::Gap& gap : found.gaps) canvas_.unknown.push_back(gap.pointer);
      return {};
    }
    return plan_frame(canvas_, *found.watching,
                      set_.options.density ? density_steps(set_.scene.site()) : std::vector<double>());
  }

  drawing::LabelField field() const {
    drawing::LabelField field;
    field.area = grown(room_, -1.0);
    field.taken = canvas_.symbols;
    field.lines = canvas_.lines;
    return field;
  }

  /// At the foot of the column. Whether it leaves room for a list.
  bool add_legend() {
    const std::vector<drawing::LegendEntry> entries = plan_legend(canvas_.signs);
    drawing::Legend legend = drawing::legend(set_.ruler, entries, {column_.left, 0.0}, kColumn_mm);
    const double height = legend.box.height();
    Point to = {0.0, column_.bottom - height};
    sheet_.content.items.push_back(moved(drawing::Item{std::move(legend.group)}, to));
    list_.bottom = column_.bottom - height - kPadding_mm;
    return list_.height() >= kLeastList_mm;
  }

  Group lines_between() const {
    Group lines;
    const drawing::Stroke stroke = {Ink::line, drawing::kFine_mm};
    lines.items.push_back(
        {drawing::stroked({},
                          {drawing::line_through({{column_.left, column_.top}, {column_.left, column_.bottom}}),
                           drawing::line_through({{room_.left, room_.bottom}, {room_.right, room_.bottom}})},
                          stroke)});
    return lines;
  }

  void close(Sheet& sheet, std::optional<double> scale, int further) const {
    sheet.content.items.push_back({titled(set_, level_, scale, set_.first + further, sheet.frame()).group});
    sheet.content.items.push_back({drawing::frame_line(sheet)});
  }

  Sheet continued(const std::vector<PlanRow>& rows, std::size_t& done, int further) const {
    Sheet sheet;
    sheet.format = sheet_.format.width_mm > 0 ? sheet_.format : drawing::landscape(drawing::kA4);
    const std::string& name = site::called(set_.scene.site().levels, level_);
    sheet.name = {fmt::format("plan-{}-list-{}", level_, further + 1), text(say::plan_list_continued(name)), {}};
    sheet.description = text(say::plan_list_shows(name));
    const Box frame = sheet.frame();
    const double bottom = titled(set_, level_, std::nullopt, set_.count, frame).box.top - kPadding_mm;
    const std::size_t before = done;
    Group list;
    list.name.id = "list";
    for (double left = frame.left + kPadding_mm; left + list_.width() <= frame.right;
         left += list_.width() + 2 * kPadding_mm)
      done = fill_column(list, rows, done, {left, frame.top + kPadding_mm, left + list_.width(), bottom});
    if (done == before) throw std::logic_error("a row of the list is higher than a sheet");
    sheet.content.items.push_back({std::move(list)});
    close(sheet, std::nullopt, further);
    return sheet;
  }

  const Set& set_;
  std::string level_;
  PlanCanvas canvas_;
  Sheet sheet_;
  std::vector<NumberedPatch> patches_;
  std::vector<std::string> nowhere_;
  Box title_, column_, room_, list_;
  Group north_;
  drawing::ScaleBar bar_;
};

std::vector<Sheet> sheets_of(const Set& set, const std::string& level) {
  const auto extent = extent_of_level(set.scene, set.views, level);
  if (!extent) return {};
  if (set.options.format) {
    Page page(set, level, *extent, *set.options.format);
    page.draw();
    return page.finished();
  }
  Page small(set, level, *extent, drawing::landscape(drawing::kA4));
  if (small.scale() <= kScaleOfSmallPaper && small.draw()) return small.finished();
  Page large(set, level, *extent, drawing::landscape(drawing::kA3));
  large.draw();
  return large.finished();
}

Set set_of(const drawing::Ruler& ruler, const sight::Scene& scene, const std::vector<sight::ZoneView>& views,
           const PlanOptions& options) {
  if (!options.camera.empty() && !scene.site().cameras.contains(options.camera))
    throw std::invalid_argument("the site has no camera " + options.camera);
  return {ruler, scene, views, options, site::site_hash(scene.site())};
}

}  // namespace

std::vector<Sheet> plan_of_level(const drawing::Ruler& ruler, const sight::Scene& scene,
                                 const std::vector<sight::ZoneView>& views, const std::string& level,
                                 const PlanOptions& options) {
  if (!scene.site().levels.contains(level)) throw std::invalid_argument("the site has no level " + level);
  Set set = set_of(ruler, scene, views, options);
  std::vector<Sheet> sheets = sheets_of(set, level);
  if (sheets.size() <= 1) return sheets;
  set.count = static_cast<int>(sheets.size());
  return sheets_of(set, level);
}

std::vector<Sheet> plans_of_levels(const drawing::Ruler& ruler, const sight::Scene& scene,
                                   const std::vector<sight::ZoneView>& views, const PlanOptions& options) {
  std::vector<std::string> levels;
  for (const auto& [id, level] : scene.site().levels) levels.push_back(id);
  const auto height = [&](const std::string& id) {
    const site::Value& elevation = scene.site().levels.at(id).elevation_m;
    return elevation.known() ? elevation.nominal : 0.0;
  };
  std::stable_sort(levels.begin(), levels.end(),
                   [&](const std::string& a, const std::string& b) { return height(a) < height(b); });
  Set set = set_of(ruler, scene, views, options);
  std::vector<Sheet> sheets;
  // Twice: how many there are stands on each of them.
  for (const bool counted : {false, true}) {
    sheets.clear();
    for (const std::string& level : levels) {
      set.first = static_cast<int>(sheets.size()) + 1;
      for (Sheet& sheet : sheets_of(set, level)) sheets.push_back(std::move(sheet));
    }
    if (counted || sheets.size() <= 1) break;
    set.count = static_cast<int>(sheets.size());
  }
  return sheets;
}

}  // namespace zoneproof::sheets
