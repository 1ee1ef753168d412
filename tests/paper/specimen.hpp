#pragma once
#include <vector>

#include "paper/label_sheets.hpp"
#include "paper/pages.hpp"

/// An invented document in which every kind of block and cell occurs, for tests and for the eye.
namespace zoneproof::paper {

Style specimen_style(drawing::Format paper);
Table specimen_table();
std::vector<Chapter> specimen_chapters(const drawing::Ruler& ruler);
/// Labels on the generic stock, with a code each: of letters, of an address, of figures alone, of more than ASCII.
std::vector<Label> specimen_labels();

}  // namespace zoneproof::paper
