#pragma once
#include <vector>

#include "paper/pages.hpp"

/// An invented document in which every kind of block and cell occurs, for tests and for the eye.
namespace zoneproof::paper {

Style specimen_style(drawing::Format paper);
Table specimen_table();
std::vector<Chapter> specimen_chapters(const drawing::Ruler& ruler);

}  // namespace zoneproof::paper
