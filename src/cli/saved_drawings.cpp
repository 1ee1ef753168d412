#include "cli/saved_drawings.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>

#include "cli/reading.hpp"
#include "cli/saved_files.hpp"
#include "drawing/pdf.hpp"
#include "drawing/png.hpp"
#include "drawing/svg.hpp"
#include "messages/base.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

namespace fs = std::filesystem;

constexpr double kDotsPerInch = 150.0;  // an A4 sheet fills a screen and prints well enough; PDF is there for more

/// "plan.svg" of several sheets: "plan-1.svg", "plan-2.svg".
std::string numbered(const std::string& path, std::size_t sheet, std::size_t count) {
  if (count == 1) return path;
  const fs::path whole(path);
  return (whole.parent_path() / (whole.stem().string() + "-" + std::to_string(sheet + 1) + whole.extension().string()))
      .string();
}

void save(std::vector<FileToSave> files, const SavedAs& as, Drawn& drawn) {
  Saving saving(std::move(files), {{as.site}, as.replace, {}, {as.tell}});
  const bool written = saving.ready() && saving.write();
  std::vector<Message>& told = written ? drawn.notes : drawn.problems;
  std::copy(saving.problems().begin(), saving.problems().end(), std::back_inserter(told));
  if (!written) return;
  for (const FileToSave& file : saving.files()) drawn.paths.push_back(file.path);
}

/// Of several sheets of which one cannot be written the others would be taken for the whole: a folder is not made here,
/// for a slip of the pen would be one.
std::optional<Message> folder_missing_for(const std::string& path) {
  const std::string folder = fs::path(path).parent_path().string();
  std::error_code failed;
  if (folder.empty() || fs::exists(folder, failed)) return std::nullopt;
  return say::folder_missing(folder).at({path, "", 0, 0});
}

}  // namespace

std::string extension_of(const std::string& path) {
  std::string extension = fs::path(path).extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return extension;
}

std::vector<Message> path_problems(const std::string& path, const SavedAs& as) {
  std::vector<Message> problems;
  const std::string kind = extension_of(path);
  if (kind != ".svg" && kind != ".pdf" && kind != ".png") problems.push_back(say::plan_kind_unknown(path));
  if (auto problem = output_problem(path, {as.site}, as.replace)) problems.push_back(std::move(*problem));
  return problems;
}

drawing::Document document_of(const site::Site& site) {
  drawing::Document document;
  document.title = site.name;
  return document;
}

void save_drawing(const drawing::Document& document, const std::string& path, const std::string& kind,
                  const drawing::Fonts& fonts, const SavedAs& as, Drawn& drawn, drawing::Palette palette) {
  if (auto missing = folder_missing_for(path)) return drawn.problems.push_back(std::move(*missing));
  if (kind == ".pdf") return save({{path, drawing::pdf(document, fonts, palette)}}, as, drawn);
  std::vector<FileToSave> files;
  for (std::size_t i = 0; i < document.sheets.size(); ++i)
    files.push_back({numbered(path, i, document.sheets.size()),
                     kind == ".svg" ? drawing::svg(document, i, {palette, true, {}})
                                    : drawing::png(document, i, fonts, palette, kDotsPerInch)});
  save(std::move(files), as, drawn);
}

}  // namespace zoneproof::cli
