#pragma once
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::paper {

/// What every page tells of the document.
struct Stamp {
  std::string name;      ///< of the site
  std::string title;     ///< of the document
  std::string revision;  ///< running number
  std::string hash;      ///< SHA-256 of the revision, all 64 digits: the foot has the first 12, the first page all
  std::string date;      ///< as it is to be read; empty: not known, a blank
};

struct Style {
  Stamp stamp;
  drawing::Format paper = drawing::kA4;  ///< upright
  bool contents = true;                  ///< a first page with what the document is, and the table of contents
};

/// The pages of a document, ready for the writers of `drawing`.
///
/// Every baseline of running text stands on a grid of 0.9 mm from the upper edge of the text; blocks are whole
/// multiples of it high. A table that does not fit on a page goes on on the next one under the same head; a row is
/// divided only where it is higher than a page; a heading, a table's title and a sub-heading stay with what follows.
/// Nothing is cut: what is long takes more lines, what is wider than its column even as a single letter is set smaller.
/// Of the running head a name beyond two lines ends in an ellipsis; it stands in full on the first page.
///
/// Ids: chapters, headings, tables (`table.id`), rows (`row_id`), figures; pages "page-N". The same input gives the
/// same pages. Throws std::invalid_argument for a table that is none, a figure that fits no page, an id used twice, a
/// link that leads nowhere. Cost: some 50 us a word of text.
std::vector<drawing::Sheet> pages(const drawing::Ruler& ruler, const std::vector<Chapter>& chapters,
                                  const Style& style);

/// The same as a document: with title, subject and the hash as keyword. `created` as in `drawing::Document`.
drawing::Document document(const drawing::Ruler& ruler, const std::vector<Chapter>& chapters, const Style& style,
                           const std::string& created);

}  // namespace zoneproof::paper
