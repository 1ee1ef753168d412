// Writes expected pictures into a folder, for the eye: of the specimen LENS-PALETTE.png and LENS.svg, of the same with
// masks masked-LENS-PALETTE.png, of one alarm in time alarm-PALETTE.png, of the demo sites SITE-NUMBER.png.
#include <fmt/format.h>

#include <fstream>
#include <iostream>
#include <map>

#include "drawing/png.hpp"
#include "drawing/specimen.hpp"
#include "drawing/svg.hpp"
#include "sheets/clip_specimen.hpp"
#include "sheets/demo_views.hpp"
#include "sheets/view_specimen.hpp"

int main(int count, char** arguments) {
  using namespace zoneproof;
  if (count != 3) {
    std::cerr << "sheets_specimen FOLDER DOTS_PER_INCH\n";
    return 2;
  }
  const std::string folder = arguments[1];
  const double dots_per_inch = std::stod(arguments[2]);
  const auto save = [&](const std::string& name, const std::string& bytes) {
    std::ofstream file(folder + "/" + name, std::ios::binary);
    file << bytes;
    if (!file.flush()) throw std::runtime_error("cannot write " + name);
  };
  const std::map<std::string, sheets::SpecimenLens> lenses = {{"pinhole", sheets::SpecimenLens::pinhole},
                                                              {"barrel", sheets::SpecimenLens::barrel},
                                                              {"fisheye", sheets::SpecimenLens::fisheye}};
  const std::map<std::string, drawing::Palette> palettes = {{"light", drawing::Palette::light},
                                                            {"dark", drawing::Palette::dark},
                                                            {"print", drawing::Palette::black_and_white}};
  const auto draw = [&](const std::string& name, const drawing::Sheet& sheet) {
    drawing::Document document;
    document.title = "Ash Wharf Store";
    document.created = "2026-03-01T12:00:00Z";
    document.sheets = {sheet};
    save(name + ".svg", drawing::svg(document, 0, {drawing::Palette::light, true, {}}));
    for (const auto& [word, palette] : palettes)
      save(name + "-" + word + ".png", drawing::png(document, 0, drawing::test_fonts(), palette, dots_per_inch));
  };
  const auto draw_view = [&](const std::string& name, const sheets::ViewSpecimen& specimen) {
    draw(name, sheets::expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words));
  };
  draw("alarm", sheets::clip_sheets(drawing::test_ruler(), sheets::site_of_alarm(), {sheets::round_alarm()}, {}).at(0));
  for (const auto& [name, lens] : lenses) {
    draw_view(name, sheets::view_specimen(lens));
    draw_view("masked-" + name, sheets::view_specimen(lens, true));
  }
  for (const char* site : {"kiln-yard", "tern-hollow", "saltmarsh"}) {
    const drawing::Document document = sheets::demo_views(site);
    for (std::size_t i = 0; i < document.sheets.size(); ++i)
      save(fmt::format("{}-{}.png", site, i + 1),
           drawing::png(document, i, drawing::test_fonts(), drawing::Palette::light, dots_per_inch));
  }
  return 0;
}
