#include "handover/discharge_graph.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "drawing/line_graph.hpp"
#include "drawing/text_block.hpp"
#include "drawing/title_block.hpp"
#include "drawing/type.hpp"
#include "electric/naming.hpp"
#include "messages/handover_chapters.hpp"
#include "site/file.hpp"

namespace zoneproof::handover {

namespace {

constexpr double kWide_mm = 165.0, kHigh_mm = 62.0, kPadding_mm = 6.0;

drawing::LineGraph graph_of(const site::Site& site, const results::SupplyAnswer& answer,
                            const results::BatteryRun& run) {
  const electric::Discharge& discharge = run.discharge;
  drawing::LineGraph graph;
  graph.id = "discharge";
  graph.title = text(say::paper_discharge_of(electric::thing_words(site, run.supply)));
  double low = discharge.points.front().battery_V, high = low;
  drawing::Curve curve{"volts", {}, {drawing::Ink::line, drawing::kMedium_mm}};
  for (const electric::DischargePoint& point : discharge.points) {
    curve.points.push_back({point.hours, point.battery_V});
    low = std::min(low, point.battery_V);
    high = std::max(high, point.battery_V);
  }
  constexpr double about_V = 0.5, room = 1.03;
  graph.y = {std::floor(low - about_V), std::ceil(high + about_V), text(say::paper_axis_battery_volts())};
  graph.curves.push_back(std::move(curve));
  double end_h = discharge.points.back().hours;
  graph.upright.push_back({"autonomy",
                           text(say::paper_lasts(lowest({discharge.autonomy_h, "h"}))),
                           discharge.autonomy_h,
                           {drawing::Ink::line, drawing::kThin_mm, {1.6, 0.8}}});
  for (const chain::Evidence& evidence : answer.evidence)
    if (evidence.id == "autonomy" && evidence.subject == run.supply && evidence.limit) {
      end_h = std::max(end_h, *evidence.limit);
      graph.upright.push_back({"asked",
                               text(say::paper_asked_for({*evidence.limit, "h"})),
                               *evidence.limit,
                               {drawing::Ink::line, drawing::kThin_mm}});
    }
  graph.x = {0.0, room * end_h, text(say::paper_axis_hours())};
  return graph;
}

}  // namespace

paper::Figure discharge_figure(const drawing::Ruler& ruler, const site::Site& site, const results::SupplyAnswer& answer,
                               const results::BatteryRun& run) {
  const drawing::LineGraph graph = graph_of(site, answer, run);
  drawing::LineGraphDrawn drawn = drawing::line_graph(ruler, graph, {0.0, 0.0}, kWide_mm, kHigh_mm);
  return {"discharge-" + run.supply,           graph.title, std::move(drawn.group), kWide_mm, kHigh_mm,
          text(say::paper_discharge_caption())};
}

drawing::Sheet discharge_sheet(const drawing::Ruler& ruler, const site::Site& site, const results::SupplyAnswer& answer,
                               const results::BatteryRun& run) {
  const drawing::LineGraph graph = graph_of(site, answer, run);
  drawing::Sheet sheet;
  sheet.format = drawing::landscape(drawing::kA4);
  sheet.name = {"discharge-" + run.supply, graph.title, {}};
  sheet.description = text(say::paper_discharge_caption());
  const drawing::Box frame = sheet.frame();
  const drawing::TitleBlockDrawn title = drawing::title_block(
      ruler, {site.name, graph.title, std::to_string(site.revision), site::site_hash(site), {}, std::nullopt, 1, 1},
      frame);
  const double wide = frame.width() - 2 * kPadding_mm;
  const drawing::TextBlock caption =
      drawing::broken(ruler, sheet.description, {drawing::Role::reading, false}, drawing::kLabel_mm, wide);
  const double captioned = title.box.top - kPadding_mm - caption.height_mm;
  sheet.content.items.push_back({drawing::line_graph(ruler, graph, {frame.left + kPadding_mm, frame.top + kPadding_mm},
                                                     wide, captioned - 2 * kPadding_mm - frame.top)
                                     .group});
  sheet.content.items.push_back(
      {drawing::set(ruler, "caption", caption, drawing::Ink::text, {frame.left + kPadding_mm, captioned})});
  sheet.content.items.push_back({title.group});
  sheet.content.items.push_back({drawing::frame_line(sheet)});
  return sheet;
}

}  // namespace zoneproof::handover
