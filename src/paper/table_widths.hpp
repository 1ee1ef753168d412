#pragma once
#include <vector>

#include "drawing/ruler.hpp"
#include "paper/table.hpp"

namespace zoneproof::paper {

inline constexpr drawing::Face kHeadFace{drawing::Role::reading, true};

/// The face of what stands in a cell: figures as they are looked up, words as they are read.
drawing::Face face_of(const Cell& cell, bool strong);

/// Widths of a table's columns, padding included, together at most `width_mm`.
///
/// As CSS 2.1 section 17.5.2.2 suggests for automatic layout: each column has a least width (its longest word, or what
/// its author asks for) and a natural one (its longest cell on one line). Where all natural widths fit, what is left
/// over is dealt out by the columns' weights; else each gets its least width and a share of the rest that goes with
/// what it still lacks. Columns that are not to wrap lack nothing until the page leaves no other way; where not even
/// the least widths fit, the widest are narrowed to one width, and their words are cut between letters.
/// Cost: each distinct word is measured once.
std::vector<double> column_widths(const drawing::Ruler& ruler, const Table& table, double width_mm);

}  // namespace zoneproof::paper
