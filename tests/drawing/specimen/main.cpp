// Writes the specimen into a folder, in every format and palette: PALETTE.pdf, PALETTE-1.svg, PALETTE-1.png and so on.
#include <fmt/format.h>

#include <fstream>
#include <iostream>
#include <map>

#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/specimen.hpp"
#include "drawing/svg.hpp"

int main(int count, char** arguments) {
  using namespace zoneproof::drawing;
  if (count != 3) {
    std::cerr << "drawing_specimen FOLDER DOTS_PER_INCH\n";
    return 2;
  }
  const std::string folder = arguments[1];
  const double dots_per_inch = std::stod(arguments[2]);
  const auto save = [&](const std::string& name, const std::string& bytes) {
    std::ofstream file(folder + "/" + name, std::ios::binary);
    file << bytes;
    if (!file.flush()) throw std::runtime_error("cannot write " + name);
  };
  const Document document = specimen(test_ruler());
  const std::map<std::string, Palette> palettes = {
      {"light", Palette::light}, {"dark", Palette::dark}, {"print", Palette::black_and_white}};
  for (const auto& [name, palette] : palettes) {
    save(name + ".pdf", pdf(document, test_fonts(), palette));
    for (std::size_t i = 0; i < document.sheets.size(); ++i) {
      save(fmt::format("{}-{}.svg", name, i + 1), svg(document, i, {palette, false, ""}));
      save(fmt::format("{}-{}.png", name, i + 1), png(document, i, test_fonts(), palette, dots_per_inch));
    }
  }
  save("reader-1.svg", svg(document, 0, {Palette::light, true, "a-"}));
  return 0;
}
