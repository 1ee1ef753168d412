#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "drawing/fonts.hpp"
#include "drawing/sheet.hpp"
#include "handover/findings.hpp"
#include "paper/blocks.hpp"
#include "paper/label_stock.hpp"

/// The handover file: one PDF of a whole site, and its parts for those who need one of them.
namespace zoneproof::handover {

/// The formats of paper by their words: "a4" (also where the word is empty), "letter"; a problem for any other word.
std::optional<drawing::Format> paper_called(const std::string& word, std::vector<Message>& problems);

struct FileOptions {
  drawing::Format paper = drawing::kA4;    ///< upright
  std::string created;                     ///< of the revision: "2026-03-01T12:00:00Z"
  std::string date;                        ///< the same as it is to be read
  std::optional<paper::LabelStock> stock;  ///< nothing: the generic one of the paper
  std::string address;                     ///< of the site's page, for codes on labels; empty: none
};

/// All chapters in their order: what is proven, cautions, order of work, terminations, settings, supplies, network,
/// plans, zones, materials, silent faults, rules and parts. Every page is on the paper asked for, lying or upright, but
/// for sheets of wiring that it does not hold: the contents tell their size.
std::vector<paper::Chapter> chapters(const drawing::Ruler& ruler, const Findings& findings, const FileOptions& options);

struct FileMade {
  std::string name;  ///< "handover.pdf", "tables/chains.csv": below the folder that was asked for
  std::string bytes;
};

struct FilesMade {
  std::vector<FileMade> files;
  std::vector<Message> messages;  ///< labels that the stock has no room for, letters that no font has
};

/// handover.pdf; labels.pdf; tables.xlsx and tables/ID.csv of every table; drawings/ID.svg of every sheet that is a
/// drawing. The same bytes for the same site, options and release of the libraries. Cost: find(), and some 50 us a
/// word.
FilesMade handover_files(const drawing::Fonts& fonts, const Findings& findings, const FileOptions& options);

}  // namespace zoneproof::handover
