// Writes the chapters of a demo site into a folder: a4.pdf, letter.pdf, tables.xlsx and a CSV a table.
#include <fstream>
#include <iostream>

#include "drawing/pdf.hpp"
#include "drawing/specimen.hpp"
#include "handover/demo_site.hpp"
#include "handover/settings_sheet.hpp"
#include "handover/termination_schedule.hpp"
#include "paper/csv.hpp"
#include "paper/xlsx.hpp"

int main(int count, char** arguments) {
  using namespace zoneproof;
  if (count != 3) {
    std::cerr << "handover_specimen DEMO FOLDER\n";
    return 2;
  }
  const std::string name = arguments[1], folder = arguments[2], created = "2026-03-01T12:00:00Z";
  const auto save = [&](const std::string& file_name, const std::string& bytes) {
    std::ofstream file(folder + "/" + file_name, std::ios::binary);
    file << bytes;
    if (!file.flush()) throw std::runtime_error("cannot write " + file_name);
  };
  const site::Site site = handover::demo_site(name);
  const handover::Answers answers = handover::answers_of(site, handover::readings_of(site));
  const std::vector<paper::Chapter> chapters = {handover::termination_schedule(site, answers),
                                                handover::settings_sheet(site, {})};
  for (const auto& [file_name, format] : {std::pair{"a4.pdf", drawing::kA4}, std::pair{"letter.pdf", drawing::kLetter}})
    save(file_name,
         drawing::pdf(paper::document(drawing::test_ruler(), chapters, handover::demo_style(site, format), created),
                      drawing::test_fonts(), drawing::Palette::light));
  std::vector<paper::Table> tables = handover::termination_tables(site, answers);
  for (paper::Table& table : handover::settings_tables(site, {})) tables.push_back(std::move(table));
  for (const paper::Table& table : tables) save(table.id + ".csv", paper::csv(table));
  save("tables.xlsx", paper::xlsx(tables, {site.name, "Handover file", "", created}));
  return 0;
}
