// Writes the specimen into a folder: a4.pdf, letter.pdf, print.pdf (black and white), labels.pdf, labels-1.png,
// labels-print-1.png, table.csv, table.xlsx.
#include <fstream>
#include <iostream>

#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/specimen.hpp"
#include "paper/csv.hpp"
#include "paper/specimen.hpp"
#include "paper/xlsx.hpp"

int main(int count, char** arguments) {
  using namespace zoneproof;
  if (count != 2) {
    std::cerr << "paper_specimen FOLDER\n";
    return 2;
  }
  const std::string folder = arguments[1];
  const auto save = [&](const std::string& name, const std::string& bytes) {
    std::ofstream file(folder + "/" + name, std::ios::binary);
    file << bytes;
    if (!file.flush()) throw std::runtime_error("cannot write " + name);
  };
  const drawing::Ruler& ruler = drawing::test_ruler();
  const auto chapters = paper::specimen_chapters(ruler);
  const std::string created = "2026-03-01T12:00:00Z";
  const auto made = [&](drawing::Format format) {
    return paper::document(ruler, chapters, paper::specimen_style(format), created);
  };
  save("a4.pdf", drawing::pdf(made(drawing::kA4), drawing::test_fonts(), drawing::Palette::light));
  save("letter.pdf", drawing::pdf(made(drawing::kLetter), drawing::test_fonts(), drawing::Palette::light));
  save("print.pdf", drawing::pdf(made(drawing::kA4), drawing::test_fonts(), drawing::Palette::black_and_white));
  drawing::Document labels;
  labels.created = created;
  labels.sheets = paper::label_sheets(ruler, paper::specimen_labels(), paper::generic_label_stock(), 3).sheets;
  save("labels.pdf", drawing::pdf(labels, drawing::test_fonts(), drawing::Palette::light));
  for (const auto& [name, palette] : {std::pair{"labels-1.png", drawing::Palette::light},
                                      std::pair{"labels-print-1.png", drawing::Palette::black_and_white}})
    save(name, drawing::png(labels, 0, drawing::test_fonts(), palette, 200.0));
  save("table.csv", paper::csv(paper::specimen_table()));
  save("table.xlsx", paper::xlsx({paper::specimen_table()}, {"Saltmarsh Cold Store", "Specimen", "", created}));
  return 0;
}
