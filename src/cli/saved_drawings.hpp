#pragma once
#include <functional>
#include <optional>
#include <string>

#include "cli/drawn.hpp"
#include "drawing/fonts.hpp"
#include "drawing/sheet.hpp"
#include "site/model.hpp"

/// How drawings become files. Only where letters can be set: used by *_drawings.cpp.
namespace zoneproof::cli {

struct SavedAs {
  std::string site;                               ///< path of the site file: nothing is written over it
  bool replace = false;                           ///< files that are there already are written over
  std::function<void(const Message&)> tell = {};  ///< is told at once that another run is waited for
};

/// ".svg", in small letters.
std::string extension_of(const std::string& path);

/// Why a drawing may not be written to a path: of a kind that is none, or there is a file.
std::vector<Message> path_problems(const std::string& path, const SavedAs& as);

/// Without sheets: called as the site. It bears no date: a site file has none, and that of the file is another in each
/// copy (docs/decisions/024-the-date-of-a-paper.md).
drawing::Document document_of(const site::Site& site);

/// Writes a document as `kind` says: ".pdf" all of it into one file, ".svg" and ".png" a file for each sheet, numbered
/// where there are several.
void save_drawing(const drawing::Document& document, const std::string& path, const std::string& kind,
                  const drawing::Fonts& fonts, const SavedAs& as, Drawn& drawn,
                  drawing::Palette palette = drawing::Palette::light);

}  // namespace zoneproof::cli
