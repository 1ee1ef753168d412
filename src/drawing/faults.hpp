#pragma once
#include <string>
#include <vector>

#include "drawing/sheet.hpp"

namespace zoneproof::drawing {

/// What makes a list no drawing: a place that is no number, an empty paper, a width or size that is not above 0, an id
/// that is badly formed or used twice on a sheet, a text with control characters, a link that leads nowhere or to
/// anything but an id, http, https or mailto, a date that is none. Sentences for those who write drawings, not for
/// those who read them: a list is made by code, so a fault in it is a fault of the program.
std::vector<std::string> faults(const Document& document);

/// Throws std::invalid_argument with the faults; every writer calls it first.
void require_sound(const Document& document);

/// Texts that overlap another or leave the frame, each as a sentence with both texts. Touching is allowed.
std::vector<std::string> layout_faults(const Sheet& sheet);

}  // namespace zoneproof::drawing
