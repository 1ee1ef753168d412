#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "site/model.hpp"

/// What a site's names have and the fonts of the program have not: letters that stand on paper as empty boxes. A name
/// that nobody can read there has to be told to whoever makes the paper, and to whoever holds it.
namespace zoneproof::handover {

/// A text of the site with such letters.
struct Unprintable {
  std::string pointer;               ///< RFC 6901, into the site file
  std::vector<std::string> letters;  ///< each once, in their order; one is what a reader calls a letter
};

/// The letters of a text that no font has, each once.
std::vector<std::string> letters_lacking(const drawing::Ruler& ruler, std::string_view text);

/// Every text of the site that has some, in the order of the file. Cost: linear in the texts that are not ASCII, 20 us
/// a letter the first time.
std::vector<Unprintable> unprintable_in(const drawing::Ruler& ruler, const site::Site& site);

/// The letters without a font that stand on sheets, each once.
std::vector<std::string> letters_lacking_on(const drawing::Ruler& ruler, const std::vector<drawing::Sheet>& sheets);

/// One notice for a screen, which has other fonts: the letters themselves and where the site file has them. Only of
/// letters of `drawn`; those that are in no text of the site are told by themselves. Nothing where there are none.
std::optional<Message> letters_notice(const site::Site& site, const std::vector<Unprintable>& all,
                                      const std::vector<std::string>& drawn);

/// The same for the paper itself, where neither the letters nor a name with them can be read: by id, key and the
/// letters' numbers in Unicode. Nothing where there are none.
std::optional<Message> letters_on_paper(const std::vector<Unprintable>& all);

}  // namespace zoneproof::handover
