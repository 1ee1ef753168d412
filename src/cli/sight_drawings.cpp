#include "cli/sight_drawings.hpp"

#include <fmt/chrono.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <memory>

#include "base/file.hpp"
#include "cli/reading.hpp"
#include "drawing/fonts.hpp"
#include "drawing/pango_ruler.hpp"
#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/svg.hpp"
#include "messages/cli.hpp"
#include "sheets/expected_view_of.hpp"
#include "sheets/plan_sheet.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;

constexpr double kDotsPerInch = 150.0;  // an A4 sheet fills a screen and prints well enough; PDF is there for more

std::string extension_of(const std::string& path) {
  std::string extension = fs::path(path).extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return extension;
}

/// "plan.svg" of several sheets: "plan-1.svg", "plan-2.svg".
std::string numbered(const std::string& path, std::size_t sheet, std::size_t count) {
  if (count == 1) return path;
  const fs::path whole(path);
  return (whole.parent_path() / (whole.stem().string() + "-" + std::to_string(sheet + 1) + whole.extension().string()))
      .string();
}

/// When the site file was last saved, in UTC: what is drawn is as old as that, and the same file gives the same bytes.
std::string saved_at(const std::string& path) {
  std::error_code failed;
  const auto written = fs::last_write_time(path, failed);
  const auto since = failed ? std::chrono::seconds(0)
                            : std::chrono::duration_cast<std::chrono::seconds>(
                                  std::chrono::file_clock::to_sys(written).time_since_epoch());
  return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(static_cast<std::time_t>(since.count())));
}

class Drawer {
 public:
  Drawer(const site::Site& site, const results::SightAnswer& answer, const SightOptions& asked,
         const drawing::Fonts& fonts)
      : site_(site), asked_(asked), fonts_(fonts), ruler_(fonts), scene_(site), hash_(site::site_hash(site)) {
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
  drawing::Document document() const {
    drawing::Document document;
    document.title = site_.name;
    document.created = saved_at(asked_.site);
    return document;
  }

  void draw_plan() {
    sheets::PlanOptions options;
    options.camera = asked_.camera.empty() || cameras_.size() != 1 ? std::string() : cameras_.front();
    options.density = !options.camera.empty();
    drawing::Document plans = document();
    plans.sheets = sheets::plans_of_levels(ruler_, scene_, views_, options);
    if (plans.sheets.empty()) {
      drawn_.problems.push_back(say::plan_of_nothing());
      return;
    }
    save_all(plans, asked_.plan, extension_of(asked_.plan));
  }

  void draw_pictures() {
    std::error_code failed;
    fs::create_directories(asked_.pictures, failed);
    if (failed) {
      drawn_.problems.push_back(say::folder_not_made(asked_.pictures, failed.message()));
      return;
    }
    for (const std::string& camera : cameras_) {
      auto view = sheets::expected_view_of(scene_, views_, camera);
      if (!view) continue;
      view->words.title.name = site_.name;
      view->words.title.revision = std::to_string(site_.revision);
      view->words.title.hash = hash_;
      drawing::Document picture = document();
      picture.sheets = {sheets::expected_view_sheet(ruler_, view->camera, view->view, view->words)};
      for (const char* kind : {".svg", ".png", ".pdf"})
        save_all(picture, (fs::path(asked_.pictures) / (camera + kind)).string(), kind);
    }
  }

  void save_all(const drawing::Document& document, const std::string& path, const std::string& kind) {
    const drawing::Palette palette = drawing::Palette::light;
    if (kind == ".pdf") return save(path, drawing::pdf(document, fonts_, palette));
    for (std::size_t i = 0; i < document.sheets.size(); ++i) {
      const std::string one = numbered(path, i, document.sheets.size());
      save(one, kind == ".svg" ? drawing::svg(document, i, {palette, true, {}})
                               : drawing::png(document, i, fonts_, palette, kDotsPerInch));
    }
  }

  void save(const std::string& path, const std::string& bytes) {
    auto problem = output_problem(path, {asked_.site}, asked_.replace);
    if (!problem) problem = save_file(path, bytes);
    if (problem)
      drawn_.problems.push_back(std::move(*problem));
    else
      drawn_.paths.push_back(path);
  }

  const site::Site& site_;
  const SightOptions& asked_;
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
  if (!asked.plan.empty()) {
    const std::string kind = extension_of(asked.plan);
    if (kind != ".svg" && kind != ".pdf" && kind != ".png") problems.push_back(say::plan_kind_unknown(asked.plan));
    if (auto problem = output_problem(asked.plan, {asked.site}, asked.replace)) problems.push_back(std::move(*problem));
  }
  if (!asked.pictures.empty() && fs::exists(asked.pictures) && !fs::is_directory(asked.pictures))
    problems.push_back(say::folder_is_file(asked.pictures));
  return problems;
}

Drawn draw(const site::Site& site, const results::SightAnswer& answer, const SightOptions& asked) {
  Drawn drawn;
  if (asked.plan.empty() && asked.pictures.empty()) return drawn;
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), drawn.problems);
  if (!fonts) return drawn;
  return Drawer(site, answer, asked, *fonts).run();
}

}  // namespace zoneproof::cli
