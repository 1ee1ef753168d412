// Plans as files: plan_specimen FOLDER DOTS [SITE [CAMERA]]. Without a site the made-up depot's.
#include <chrono>
#include <fstream>
#include <iostream>
#include <sstream>

#include "drawing/faults.hpp"
#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/specimen.hpp"
#include "drawing/svg.hpp"
#include "sheets/plan_sheet.hpp"
#include "sheets/plan_site.hpp"

using namespace zoneproof;

namespace {

void write(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

std::string read(const char* path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 3) {
    std::cerr << "plan_specimen FOLDER DOTS_PER_INCH [SITE [CAMERA]]\n";
    return 2;
  }
  const std::string folder = arguments[1];
  const double dots = std::stod(arguments[2]);
  const auto seen = count > 3 ? sheets::seen_site(read(arguments[3])) : sheets::made_up_depot();
  sheets::PlanOptions options;
  options.date = "2026-03-01";
  options.camera = count > 4 ? arguments[4] : count > 3 ? "" : "c_hall";
  options.density = true;
  const auto begin = std::chrono::steady_clock::now();
  drawing::Document document;
  document.title = seen->site.name;
  document.created = "2026-03-01T12:00:00Z";
  document.sheets = sheets::plans_of_levels(drawing::test_ruler(), *seen->scene, seen->views, options);
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
  std::cerr << document.sheets.size() << " sheets in " << took.count() << " ms\n";
  const std::vector<std::pair<drawing::Palette, std::string>> palettes = {{drawing::Palette::light, "light"},
                                                                          {drawing::Palette::dark, "dark"},
                                                                          {drawing::Palette::black_and_white, "print"}};
  for (const auto& [palette, name] : palettes) {
    write(folder + "/" + name + ".pdf", drawing::pdf(document, drawing::test_fonts(), palette));
    for (std::size_t i = 0; i < document.sheets.size(); ++i) {
      const std::string stem = folder + "/" + name + "-" + std::to_string(i + 1);
      write(stem + ".svg", drawing::svg(document, i, {palette, false, {}}));
      write(stem + ".png", drawing::png(document, i, drawing::test_fonts(), palette, dots));
    }
  }
  for (const drawing::Sheet& sheet : document.sheets)
    drawing::each(
        sheet.content, [](const drawing::Shape&) {},
        [](const drawing::TextLine& line) {
          if (line.name.id.starts_with("without-room-row")) std::cerr << "without room: " << line.content << "\n";
        });
  for (const drawing::Sheet& sheet : document.sheets)
    for (const std::string& fault : drawing::layout_faults(sheet)) std::cerr << sheet.name.id << ": " << fault << "\n";
}
