#include "sheets/plan_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>
#include <stdexcept>

#include "base/message.hpp"
#include "drawing/labels.hpp"
#include "drawing/north_arrow.hpp"
#include "drawing/scale_bar.hpp"
#include "drawing/shapes.hpp"
#include "drawing/title_block.hpp"
#include "drawing/type.hpp"
#include "messages/plan.hpp"
#include "sheets/plan_density.hpp"
#include "sheets/plan_layers.hpp"
#include "sheets/plan_legend.hpp"
#include "sheets/plan_list.hpp"
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
constexpr int kMostDigits = 99;  ///< a title block is measured with numbers of two digits
constexpr double kScaleOfSmallPaper = 100.0;
constexpr double kLeastList_mm = 40.0;  ///< what a legend leaves of the column

/// What is the same on all sheets of a set.
struct Set {
  const drawing::Ruler& ruler;
  const sight::Scene& scene;
  const std::vector<sight::ZoneView>& views;
  const PlanOptions& options;
  std::string hash;
};

drawing::TitleBlockDrawn titled(const Set& set, const std::string& level, std::optional<double> scale, int number,
                                int count, const Box& frame) {
  const site::Site& site = set.scene.site();
  return drawing::title_block(set.ruler,
                              {site.name, text(say::plan_titled(site::called(site.levels, level))),
                               fmt::format("{}", site.revision), set.hash, set.options.date, scale, number, count},
                              frame);
}

/// Where the list of what is not seen stands.
enum class ListStands { beside, on_next_sheet };

class PlanPage {
 public:
  PlanPage(const Set& set, const std::string& level, const plane::Box& extent, drawing::Format format, ListStands list)
      : set_(set),
        level_(level),
        list_beside_(list == ListStands::beside),
        patches_(patches_on_level(set.scene.site(), set.views, level)),
        canvas_{set.ruler, set.scene, level, {100.0, extent, {}}, {}, {}, {}, {}, {}, {}, told_by_causes(patches_)} {
    sheet_.format = format;
    sheet_.name = {"plan-" + level, text(say::plan_titled(level_name())), {}};
    sheet_.description = text(say::plan_shows(level_name(), static_cast<long long>(patches_.size()), cameras_here()));
    lay_out();
  }

  double scale() const { return canvas_.place.scale; }

  /// Draws everything but list and title block. Whether all that must stand has room.
  bool draw() {
    PlanLayers layers = drawn_layers();
    if (legend_below()) {
      canvas_.clear();
      layers = drawn_layers();
    } else {
      legend_in_column();
    }
    PlacedLabels labels = place_labels(canvas_.labels, field(), canvas_.walls);
    nowhere_ = std::move(labels.nowhere);
    for (Group& layer : std::move(layers).in_order(std::move(labels.below), std::move(labels.names)))
      add(sheet_, std::move(layer));
    add(sheet_, foot_);
    if (!legend_apart_) add(sheet_, legend_.group);
    rows_ = plan_rows(set_.ruler, set_.scene, set_.views, level_, canvas_.unknown, set_.options.called, list_.width());
    for (PlanRow& row : plan_notes(set_.ruler, "without-room", text(say::plan_without_room()), nowhere_, list_.width()))
      rows_.push_back(std::move(row));
    return labels.all_that_must && !legend_apart_;
  }

  /// The plan with its list, then sheets with what is left of the list; `first` of `count` in the title blocks.
  std::vector<Sheet> finished(int first, int count) const {
    std::vector<Sheet> sheets = {sheet_};
    Group list;
    list.name.id = "list";
    std::size_t done = list_beside_ ? fill_column(list, rows_, 0, list_) : 0;
    add(sheets[0], std::move(list));
    add(sheets[0], lines_between());
    bool legend_left = legend_apart_;
    while (done < rows_.size()) {
      double right = 0.0;
      sheets.push_back(continued(done, static_cast<int>(sheets.size()) + 1, right));
      if (legend_left && done == rows_.size()) legend_left = !add_legend_beside(sheets.back(), right);
    }
    if (legend_left) {
      sheets.push_back(further_sheet(static_cast<int>(sheets.size()) + 1));
      add(sheets.back(), legend_.group);
    }
    for (std::size_t i = 0; i < sheets.size(); ++i) {
      const auto scale = i == 0 ? std::optional(canvas_.place.scale) : std::nullopt;
      const int number = first + static_cast<int>(i);
      sheets[i].content.items.push_back({titled(set_, level_, scale, number, count, sheets[i].frame()).group});
      sheets[i].content.items.push_back({drawing::frame_line(sheets[i])});
    }
    return sheets;
  }

 private:
  long long cameras_here() const {
    const auto& cameras = set_.scene.site().cameras;
    return std::count_if(cameras.begin(), cameras.end(),
                         [&](const auto& entry) { return entry.second.mount.level.id == level_; });
  }

  const std::string& level_name() const { return site::called(set_.scene.site().levels, level_); }

  static void add(Sheet& sheet, Group group) {
    if (!group.items.empty()) sheet.content.items.push_back({std::move(group)});
  }

  /// Plan to the left, list in a column to the right (or, on the next sheet, no column), scale and north at the foot
  /// beside the title.
  void lay_out() {
    const Box frame = sheet_.frame();
    title_ = titled(set_, level_, canvas_.place.scale, kMostDigits, kMostDigits, frame).box;
    column_ = {frame.right - kColumn_mm, frame.top, frame.right, title_.top};
    list_ = grown(column_, -kPadding_mm);
    room_ = {frame.left, frame.top, list_beside_ ? column_.left : frame.right, title_.top};
    const Box inner = grown(room_, -kNamesAbout_mm);
    canvas_.place.scale = scale_that_fits(canvas_.place.extent, inner.width(), inner.height());
    put_into(inner);
    add_foot({frame.left, title_.top, title_.left, frame.bottom});
  }

  double plan_height() const { return canvas_.place.mm(canvas_.place.extent.high.y - canvas_.place.extent.low.y); }

  void put_into(const Box& room) {
    PlanPlace& place = canvas_.place;
    const double width = place.mm(place.extent.high.x - place.extent.low.x);
    place.corner = {room.centre().x - width / 2, room.centre().y + plan_height() / 2};
  }

  void add_foot(const Box& foot) {
    const Point arrow = {foot.left + kPadding_mm + kArrow_mm, foot.centre().y + kPadding_mm / 2};
    foot_.items.push_back({drawing::north_arrow(set_.ruler, arrow, kArrow_mm, 0.0)});
    const double left = arrow.x + kArrow_mm + 2 * kPadding_mm;
    drawing::ScaleBar bar =
        drawing::scale_bar(set_.ruler, canvas_.place.scale, {left, 0.0}, foot.right - kPadding_mm - left);
    const Point by = {0.0, foot.centre().y - bar.box.centre().y};
    foot_.items.push_back(moved(drawing::Item{std::move(bar.group)}, by));
  }

  PlanLayers drawn_layers() {
    PlanLayers layers = plan_layers(canvas_, set_.views, patches_);
    layers.frame = chosen_frame();
    return layers;
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
    if (!legend_apart_) field.taken.push_back(legend_.box);
    field.lines = canvas_.lines;
    field.gap_mm = kNameGap_mm;
    return field;
  }

  /// Where the plan leaves a strip of its room free, the legend lies there in columns and the list has its whole
  /// column. Moves the plan up then.
  bool legend_below() {
    legend_ =
        drawing::legend(set_.ruler, plan_legend(canvas_.signs), {room_.left, 0.0}, room_.width(), columns_in(room_));
    const double height = legend_.box.height();
    if (plan_height() + 2 * kNamesAbout_mm + height > room_.height()) return false;
    move_legend({0.0, room_.bottom - height});
    Box inner = grown(room_, -kNamesAbout_mm);
    inner.bottom -= height;
    put_into(inner);
    return true;
  }

  /// At the foot of the list's column; where that would leave no list, on a sheet of its own.
  void legend_in_column() {
    const std::vector<drawing::LegendEntry> entries = plan_legend(canvas_.signs);
    legend_ = drawing::legend(set_.ruler, entries, {column_.left, 0.0}, kColumn_mm);
    const double height = legend_.box.height();
    legend_apart_ = !list_beside_ || column_.height() - height < kLeastList_mm;
    if (!legend_apart_) {
      move_legend({0.0, column_.bottom - height});
      list_.bottom = column_.bottom - height - kPadding_mm;
      return;
    }
    const Box frame = sheet_.frame();
    legend_ = drawing::legend(set_.ruler, entries, {frame.left, frame.top}, frame.width(), columns_in(frame));
  }

  static std::size_t columns_in(const Box& box) {
    return static_cast<std::size_t>(std::max(1.0, std::floor(box.width() / kColumn_mm)));
  }

  void move_legend(Point by) {
    legend_.group = std::get<Group>(moved(drawing::Item{std::move(legend_.group)}, by).what);
    legend_.box = moved(legend_.box, by);
  }

  Group lines_between() const {
    Group lines;
    const drawing::Stroke stroke = {Ink::line, drawing::kFine_mm};
    std::vector<drawing::Subpath> paths = {
        drawing::line_through({{room_.left, room_.bottom}, {room_.right, room_.bottom}})};
    if (list_beside_)
      paths.insert(paths.begin(), drawing::line_through({{column_.left, column_.top}, {column_.left, column_.bottom}}));
    lines.items.push_back({drawing::stroked({}, std::move(paths), stroke)});
    return lines;
  }

  Sheet further_sheet(int further) const {
    Sheet sheet;
    sheet.format = sheet_.format;
    sheet.name = {fmt::format("plan-{}-{}", level_, further), text(say::plan_continued(level_name())), {}};
    sheet.description = text(say::plan_continued_shows(level_name()));
    return sheet;
  }

  /// In columns; `right`: how far they reach.
  Sheet continued(std::size_t& done, int further, double& right) const {
    Sheet sheet = further_sheet(further);
    const Box frame = sheet.frame();
    const double bottom = title_.top - kPadding_mm, step = list_.width() + 2 * kPadding_mm;
    const std::size_t before = done;
    Group list;
    list.name.id = "list";
    right = frame.left;
    for (double left = frame.left + kPadding_mm; left + list_.width() <= frame.right && done < rows_.size();
         left += step, right += step)
      done = fill_column(list, rows_, done, {left, frame.top + kPadding_mm, left + list_.width(), bottom});
    if (done == before) throw std::logic_error("a row of the list is higher than a sheet");
    sheet.content.items.push_back({std::move(list)});
    return sheet;
  }

  /// Right of the list, where that leaves a column of its height free.
  bool add_legend_beside(Sheet& sheet, double left) const {
    const Box frame = sheet.frame();
    const double width = frame.right - left;
    if (width < kColumn_mm) return false;
    const Box room = {left, frame.top, frame.right, title_.top};
    drawing::Legend legend =
        drawing::legend(set_.ruler, plan_legend(canvas_.signs), {left, frame.top}, width, columns_in(room));
    if (legend.box.bottom > title_.top) return false;
    add(sheet, std::move(legend.group));
    return true;
  }

  const Set& set_;
  std::string level_;
  bool list_beside_;
  std::vector<NumberedPatch> patches_;
  PlanCanvas canvas_;
  Sheet sheet_;
  Box title_, column_, room_, list_;
  Group foot_;
  drawing::Legend legend_;
  bool legend_apart_ = false;
  std::vector<std::string> nowhere_;
  std::vector<PlanRow> rows_;
};

/// On paper that was asked for the list goes to the next sheet where the plan is larger for it.
std::unique_ptr<PlanPage> page_on(const Set& set, const std::string& level, const plane::Box& extent,
                                  drawing::Format format) {
  auto beside = std::make_unique<PlanPage>(set, level, extent, format, ListStands::beside);
  const bool all_told = beside->draw();
  if (all_told && beside->scale() <= kScaleOfSmallPaper) return beside;
  auto alone = std::make_unique<PlanPage>(set, level, extent, format, ListStands::on_next_sheet);
  if (alone->scale() >= beside->scale() && all_told) return beside;
  return alone->draw() || !all_told ? std::move(alone) : std::move(beside);
}

/// A level on the smaller paper where it has room, else on the larger.
std::unique_ptr<PlanPage> page_of(const Set& set, const std::string& level) {
  const auto extent = extent_of_level(set.scene, set.views, level);
  if (!extent) return nullptr;
  if (set.options.format) return page_on(set, level, *extent, *set.options.format);
  const auto page = [&](drawing::Format format) {
    return std::make_unique<PlanPage>(set, level, *extent, format, ListStands::beside);
  };
  auto small = page(drawing::landscape(drawing::kA4));
  if (small->scale() <= kScaleOfSmallPaper && small->draw()) return small;
  auto large = page(drawing::landscape(drawing::kA3));
  large->draw();
  return large;
}

/// Numbered through: how many there are stands on each of them.
std::vector<Sheet> sheets_of(const Set& set, const std::vector<std::string>& levels) {
  std::vector<std::unique_ptr<PlanPage>> pages;
  for (const std::string& level : levels)
    if (auto page = page_of(set, level)) pages.push_back(std::move(page));
  int count = 0;
  for (const auto& page : pages) count += static_cast<int>(page->finished(1, 1).size());
  std::vector<Sheet> sheets;
  for (const auto& page : pages)
    for (Sheet& sheet : page->finished(static_cast<int>(sheets.size()) + 1, count)) sheets.push_back(std::move(sheet));
  return sheets;
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
  return sheets_of(set_of(ruler, scene, views, options), {level});
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
  return sheets_of(set_of(ruler, scene, views, options), levels);
}

}  // namespace zoneproof::sheets
