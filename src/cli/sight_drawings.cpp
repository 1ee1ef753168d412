#include "cli/sight_drawings.hpp"

#include <algorithm>
#include <filesystem>
#include <memory>

#include "cli/reading.hpp"
#include "cli/saved_drawings.hpp"
#include "cli/saved_files.hpp"
#include "drawing/fonts.hpp"
#include "drawing/pango_ruler.hpp"
#include "messages/cli.hpp"
#include "results/evidence_words.hpp"
#include "sheets/expected_view_of.hpp"
#include "sheets/plan_sheet.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;

class Drawer {
 public:
  Drawer(const site::Site& site, const results::SightAnswer& answer, const SightOptions& asked,
         const drawing::Fonts& fonts, Screen& screen)
      : site_(site),
        asked_(asked),
        as_{asked.site, asked.replace, told_at_once_on(screen)},
        fonts_(fonts),
        ruler_(fonts),
        scene_(site),
        hash_(site::site_hash(site)) {
    for (const results::ZoneSeen& one : answer.zones) views_.push_back(one.view);
    std::stable_sort(views_.begin(), views_.end(), [&](const sight::ZoneView& a, const sight::ZoneView& b) {
      return site.zones.at(a.zone).number.value.value_or(0) < site.zones.at(b.zone).number.value.value_or(0);
    });
    for (const results::CameraUse& use : answer.cameras) cameras_.push_back(use.camera);
  }

  Drawn run() {
    if (!asked_.plan.empty()) draw_plan();
    if (!asked_.pictures.empty()) draw_pictures();
    return std::move(drawn_);
  }

 private:
  void draw_plan() {
    sheets::PlanOptions options;
    options.camera = asked_.camera.empty() || cameras_.size() != 1 ? std::string() : cameras_.front();
    options.density = !options.camera.empty();
    options.called = results::names_of_places(site_);
    drawing::Document plans = document_of(site_);
    plans.sheets = sheets::plans_of_levels(ruler_, scene_, views_, options);
    if (plans.sheets.empty()) {
      drawn_.problems.push_back(say::plan_of_nothing());
      return;
    }
    save(plans, asked_.plan, extension_of(asked_.plan));
  }

  void draw_pictures() {
    std::error_code failed;
    fs::create_directories(asked_.pictures, failed);
    if (failed) {
      drawn_.problems.push_back(folder_refused(asked_.pictures, failed));
      return;
    }
    for (const std::string& camera : cameras_) {
      auto view = sheets::expected_view_of(scene_, views_, camera);
      if (!view) continue;
      view->words.title.name = site_.name;
      view->words.title.revision = std::to_string(site_.revision);
      view->words.title.hash = hash_;
      drawing::Document picture = document_of(site_);
      picture.sheets = {sheets::expected_view_sheet(ruler_, view->camera, view->view, view->words)};
      for (const char* kind : {".svg", ".png", ".pdf"})
        save(picture, (fs::path(asked_.pictures) / (camera + kind)).string(), kind);
    }
  }

  void save(const drawing::Document& document, const std::string& path, const std::string& kind) {
    save_drawing(document, path, kind, fonts_, as_, drawn_);
  }

  const site::Site& site_;
  const SightOptions& asked_;
  SavedAs as_;
  const drawing::Fonts& fonts_;
  drawing::PangoRuler ruler_;
  sight::Scene scene_;
  std::string hash_;
  std::vector<sight::ZoneView> views_;
  std::vector<std::string> cameras_;
  Drawn drawn_;
};

}  // namespace

std::vector<Message> drawing_problems(const SightOptions& asked) {
  std::vector<Message> problems;
  if (!asked.plan.empty()) problems = path_problems(asked.plan, {asked.site, asked.replace});
  if (asked.pictures.empty()) return problems;
  if (auto problem = folder_problem(asked.pictures)) problems.push_back(std::move(*problem));
  return problems;
}

Drawn draw(const site::Site& site, const results::SightAnswer& answer, const SightOptions& asked, Screen& screen) {
  Drawn drawn;
  if (asked.plan.empty() && asked.pictures.empty()) return drawn;
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), drawn.problems);
  if (!fonts) return drawn;
  return Drawer(site, answer, asked, *fonts, screen).run();
}

}  // namespace zoneproof::cli
