#pragma once
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "drawing/sheet.hpp"
#include "paper/table.hpp"

/// What chapters consist of, as plain values; `pages.hpp` gives everything its place.
namespace zoneproof::paper {

/// Levels 2 to 4; level 1 is the chapter's own. Levels 2 and 3 stand in the table of contents and in the outline of the
/// PDF, level 4 in the outline. Stays with what follows it.
struct Heading {
  int level = 2;
  std::string says;
  std::string id = {};  ///< for links; empty: made of the chapter's id and a running number
};

struct Paragraph {
  std::string says;
  std::string link = {};  ///< "#id", or an https address
  bool strong = false;
  bool quiet = false;  ///< small: remarks
};

struct List {
  std::vector<std::string> items;
  bool numbered = false;
};

/// A framed box with a sign. The word comes first. Stays with what follows it.
struct Caution {
  std::string word;  ///< "Caution", "Danger"
  std::vector<std::string> says;
};

/// Names with values; a value may be a blank.
struct KeyValues {
  std::vector<std::pair<std::string, Cell>> rows;
};

/// A drawing of its own size, its upper left corner at (0, 0); all it inks lies within. Wider or higher than a page:
/// std::invalid_argument. Ids in it become "ID-THEIRS".
struct Figure {
  std::string id;
  std::string title;  ///< told by screen readers
  drawing::Group content;
  double width_mm = 0.0, height_mm = 0.0;
  std::string caption = {};
};

/// A name and ruled lines to write on. Stays with what stands before it: nobody signs an empty page.
struct FillIn {
  std::string says;
  int lines = 1;
};

struct NewPage {};

/// From here on pages stand or lie; begins a new page where the page is turned.
struct Turn {
  bool lying = true;
};

/// Pages made by others: plans, wiring, pictures. They keep their paper and get the number at their foot, below their
/// frame (10 mm of margin are asked for). Ids in them become "SHEET-THEIRS", the sheet itself is "SHEET".
struct Inserted {
  std::vector<drawing::Sheet> sheets;
};

using Block =
    std::variant<Heading, Paragraph, List, Caution, Table, KeyValues, Figure, FillIn, NewPage, Turn, Inserted>;

/// Begins on a page of its own, unless it `follows`.
struct Chapter {
  std::string id;  ///< unique in the document; begins with a letter
  std::string title;
  std::vector<Block> blocks;
  /// Begins below the chapter before it where all that stands before its first inserted sheet has room there: a list
  /// of drawings needs no page of its own.
  bool follows = false;
};

}  // namespace zoneproof::paper
