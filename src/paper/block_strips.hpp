#pragma once
#include <vector>

#include "paper/strip.hpp"

namespace zoneproof::paper {

/// How large a heading is: its letters and the room above it.
struct HeadingLook {
  double size_mm = 0.0, before_mm = 0.0, after_mm = 0.0;
};
HeadingLook look_of(int level);

/// A heading with its id and its place in the outline. Stays with what follows.
std::vector<Strip> heading_strips(const drawing::Ruler& ruler, int level, const std::string& says,
                                  const std::string& id, const Room& room);

std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Paragraph& paragraph, const Room& room);
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const List& list, const Room& room);
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Caution& caution, const Room& room);
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const KeyValues& values, const Room& room);
/// Throws std::invalid_argument for one that is larger than the room.
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const Figure& figure, const Room& room);
std::vector<Strip> strips_of(const drawing::Ruler& ruler, const FillIn& fill_in, const Room& room);

}  // namespace zoneproof::paper
