// Wiring sheets as files: wiring_specimen SITE FOLDER DOTS [FORMAT]. FORMAT: a4, a3, letter; none: chosen by the
// drawing.
#include <chrono>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/specimen.hpp"
#include "drawing/svg.hpp"
#include "site/file.hpp"
#include "wiring/drawn_circuit.hpp"
#include "wiring/wiring.hpp"

using namespace zoneproof;

namespace {

void write(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

std::string read_file(const char* path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

wiring::Options options_of(int count, char** arguments) {
  wiring::Options options;
  options.date = "2026-03-01";
  const std::map<std::string, drawing::Format> formats = {{"a4", drawing::landscape(drawing::kA4)},
                                                          {"a3", drawing::landscape(drawing::kA3)},
                                                          {"letter", drawing::landscape(drawing::kLetter)}};
  if (count > 4) options.format = formats.at(arguments[4]);
  if (count > 5)
    options.readings = {
        {"panel-in1", "2.31 V"}, {"unit-in1", "2.30 V"}, {"unit-arming", "11.9 V"}, {"unit-plus", "13.6 V"}};
  return options;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 4) {
    std::cerr << "wiring_specimen SITE FOLDER DOTS_PER_INCH [FORMAT]\n";
    return 2;
  }
  const site::ReadResult read = site::read_site(read_file(arguments[1]), arguments[1]);
  if (!read.site) {
    for (const Message& message : read.messages) std::cerr << full_text(message) << "\n";
    return 2;
  }
  const std::string folder = arguments[2];
  const auto begin = std::chrono::steady_clock::now();
  drawing::Document document;
  document.title = read.site->name;
  document.created = "2026-03-01T12:00:00Z";
  document.sheets = wiring::wiring_of_site(drawing::test_ruler(), *read.site, options_of(count, arguments));
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
  std::cerr << document.sheets.size() << " sheets in " << took.count() << " ms\n";
  for (const drawing::Sheet& sheet : document.sheets) {
    for (const std::string& fault : wiring::hard_to_read(sheet, 2.0))
      std::cerr << sheet.name.id << ": " << fault << "\n";
    for (const std::string& fault : wiring::nets_of(wiring::read(sheet)).faults)
      std::cerr << sheet.name.id << ": " << fault << "\n";
    std::cerr << sheet.name.id << ": " << wiring::crossings_on(sheet) << " crossings\n";
  }
  write(folder + "/light.pdf", drawing::pdf(document, drawing::test_fonts(), drawing::Palette::light));
  for (std::size_t i = 0; i < document.sheets.size(); ++i) {
    const std::string stem = folder + "/" + document.sheets[i].name.id;
    write(stem + ".svg", drawing::svg(document, i, {drawing::Palette::light, false, {}}));
    write(stem + ".png",
          drawing::png(document, i, drawing::test_fonts(), drawing::Palette::light, std::stod(arguments[3])));
    write(stem + "-dark.png",
          drawing::png(document, i, drawing::test_fonts(), drawing::Palette::dark, std::stod(arguments[3])));
  }
}
