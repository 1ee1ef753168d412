#include "handover/drawing_of_site.hpp"

#include <algorithm>

#include "drawing/pango_ruler.hpp"
#include "handover/discharge_graph.hpp"
#include "handover/terminal_figures.hpp"
#include "handover/unprintable.hpp"
#include "messages/handover.hpp"
#include "results/supply.hpp"
#include "sheets/expected_view_of.hpp"
#include "sheets/plan_sheet.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"
#include "wiring/wiring.hpp"

namespace zoneproof::handover {

namespace {

constexpr const char* kDrawings[] = {"wiring", "plan", "picture", "discharge"};
constexpr drawing::Palette kPalettes[] = {drawing::Palette::light, drawing::Palette::dark,
                                          drawing::Palette::black_and_white};
constexpr const char* kInks[] = {"light", "dark", "black_and_white"};
constexpr WiringState kStates[] = {WiringState::found, WiringState::rest, WiringState::alarm};
constexpr const char* kStateWords[] = {"found", "rest", "alarm"};

template <class Words>
std::vector<std::string> listed(const Words& words) {
  return {std::begin(words), std::end(words)};
}

template <class Words>
bool is_one_of(const std::string& word, const Words& words) {
  return std::find(std::begin(words), std::end(words), word) != std::end(words);
}

template <class Things>
std::vector<std::string> ids_of(const Things& things) {
  std::vector<std::string> ids;
  for (const auto& entry : things) ids.push_back(entry.first);
  return ids;
}

/// Draws what was asked for; a problem where the site has no such thing.
class Drawer {
 public:
  Drawer(const site::Site& site, const DrawingAsked& asked, const drawing::Fonts& fonts)
      : site_(site), asked_(asked), ruler_(fonts) {}

  std::vector<drawing::Sheet> sheets() {
    if (asked_.drawing == "wiring") return wiring();
    if (asked_.drawing == "plan") return plan();
    if (asked_.drawing == "picture") return pictures();
    return discharges();
  }
  std::vector<Message> problems;

 private:
  bool found(const std::vector<std::string>& known) {
    if (asked_.of.empty() || std::find(known.begin(), known.end(), asked_.of) != known.end()) return true;
    problems.push_back(known.empty() ? say::drawn_whole_only(asked_.drawing)
                                     : say::nothing_drawn_of(asked_.drawing, asked_.of, known));
    return false;
  }
  bool wanted(const std::string& id) const { return asked_.of.empty() || asked_.of == id; }

  std::vector<drawing::Sheet> wiring() {
    if (!found(ids_of(site_.units))) return {};
    wiring::Options options;
    for (std::size_t i = 0; i < std::size(kStates); ++i) {
      if (asked_.volts != kStateWords[i]) continue;
      options.readings = terminal_figures(site_, answers_of(site_, readings_of(site_)), kStates[i]);
      options.readings_are = figures_are(kStates[i]);
    }
    return asked_.of.empty() ? wiring::wiring_of_site(ruler_, site_, options)
                             : wiring::wiring_of_unit(ruler_, site_, asked_.of, options);
  }

  std::vector<sight::ZoneView> views(const sight::Scene& scene) const {
    std::vector<sight::ZoneView> views;
    for (const auto& entry : site_.zones)
      if (site::has_chain(site_, entry.first)) views.push_back(scene.view(entry.first, false));
    return views;
  }

  std::vector<drawing::Sheet> plan() {
    if (!found({})) return {};
    const sight::Scene scene(site_);
    return sheets::plans_of_levels(ruler_, scene, views(scene), {});
  }

  std::vector<drawing::Sheet> pictures() {
    if (!found(ids_of(site_.cameras))) return {};
    const sight::Scene scene(site_);
    const std::vector<sight::ZoneView> all = views(scene);
    std::vector<drawing::Sheet> made;
    for (const auto& entry : site_.cameras) {
      if (!wanted(entry.first)) continue;
      auto view = sheets::expected_view_of(scene, all, entry.first);
      if (!view) continue;
      view->words.title.name = site_.name;
      view->words.title.revision = std::to_string(site_.revision);
      view->words.title.hash = site::site_hash(site_);
      made.push_back(sheets::expected_view_sheet(ruler_, view->camera, view->view, view->words));
    }
    return made;
  }

  std::vector<drawing::Sheet> discharges() {
    const results::SupplyAnswer answer = results::supply_answer(site_);
    std::vector<std::string> known;
    for (const results::BatteryRun& run : answer.batteries)
      if (!run.discharge.points.empty()) known.push_back(run.supply);
    if (!found(known)) return {};
    std::vector<drawing::Sheet> made;
    for (const results::BatteryRun& run : answer.batteries)
      if (wanted(run.supply) && !run.discharge.points.empty())
        made.push_back(discharge_sheet(ruler_, site_, answer, run));
    return made;
  }

  const site::Site& site_;
  const DrawingAsked& asked_;
  drawing::PangoRuler ruler_;
};

}  // namespace

drawing::Palette palette_of(const std::string& word) {
  for (std::size_t i = 0; i < std::size(kInks); ++i)
    if (word == kInks[i]) return kPalettes[i];
  return drawing::Palette::light;
}

std::vector<Message> drawing_problems(const DrawingAsked& asked) {
  std::vector<Message> problems;
  if (!is_one_of(asked.drawing, kDrawings)) problems.push_back(say::no_such_drawing(asked.drawing, listed(kDrawings)));
  if (!asked.ink.empty() && !is_one_of(asked.ink, kInks))
    problems.push_back(say::no_such_ink(asked.ink, listed(kInks)));
  if (!asked.volts.empty() && !is_one_of(asked.volts, kStateWords))
    problems.push_back(say::no_such_wiring_state(asked.volts, listed(kStateWords)));
  else if (!asked.volts.empty() && asked.drawing != kDrawings[0])
    problems.push_back(say::volts_of_wiring_only(asked.drawing));
  return problems;
}

DrawingMade drawing_of_site(const site::Site& site, const DrawingAsked& asked, const drawing::Fonts& fonts) {
  Drawer drawer(site, asked, fonts);
  DrawingMade made;
  made.sheets = drawer.sheets();
  made.problems = std::move(drawer.problems);
  const drawing::PangoRuler ruler(fonts);
  if (const auto lacking = letters_lacking_on(ruler, made.sheets); !lacking.empty())
    if (auto notice = letters_notice(site, unprintable_in(ruler, site), lacking))
      made.notes.push_back(*std::move(notice));
  if (made.problems.empty() && made.sheets.empty()) made.problems.push_back(say::nothing_to_draw(asked.drawing));
  return made;
}

}  // namespace zoneproof::handover
