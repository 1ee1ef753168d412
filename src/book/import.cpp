#include "book/import.hpp"

#include <array>

#include "base/sha256.hpp"
#include "messages/book.hpp"
#include "site/file.hpp"
#include "site/made_id.hpp"
#include "site/patch.hpp"

namespace zoneproof::book {

namespace {

constexpr int kMostRounds = 5;  // of others who edit the same site meanwhile

/// The same import of the same file onto the same state is the same edit, so that it can be repeated.
std::string edit_id(const std::string& site, const std::string& base, const std::string& text) {
  return "import-" + sha256_hex(site + "\n" + base + "\n" + text).substr(0, 40);
}

Answered<site::Site> last_state(Book& book, const std::string& id) {
  const auto text = book.text(id);
  if (!text.answer) return {std::nullopt, text.problems};
  site::ReadResult read = site::read_site(*text.answer, id);
  return {std::move(read.site), std::move(read.messages)};
}

Answered<Imported> add(Book& book, const ImportAsked& asked, const std::string& id, const site::Site& site) {
  const NewSite made = {id, edit_id(id, "", site::write_site(site)), asked.who, asked.when, asked.why};
  auto entry = book.add_site(made, site);
  if (!entry.answer) return {std::nullopt, std::move(entry.problems)};
  return {Imported{Imported::Outcome::added, *std::move(entry.answer), {}}, {}};
}

/// Nothing where somebody else was first and it has to be tried again.
std::optional<Answered<Imported>> edit_once(Book& book, const ImportAsked& asked, const SiteEntry& entry,
                                            const site::Site& site) {
  const auto before = last_state(book, entry.id);
  if (!before.answer) return Answered<Imported>{std::nullopt, before.problems};
  auto changes = results::changes_between(*before.answer, site);
  if (changes.empty()) return Answered<Imported>{Imported{Imported::Outcome::unchanged, entry, {}}, {}};
  const std::string patch = site::patch_between(*before.answer, site);
  const site::PatchResult made = site::apply_patch(*before.answer, patch, "import");
  if (!made.site) return Answered<Imported>{std::nullopt, made.messages};
  const std::string id = edit_id(entry.id, site::site_hash(*before.answer), site::write_site(site));
  const Edit edit = {entry.id, id, before.answer->revision, patch, made.undo, asked.who, asked.when, asked.why};
  auto appended = book.append(edit, *made.site);
  if (!appended.answer) return Answered<Imported>{std::nullopt, std::move(appended.problems)};
  if (appended.answer->fate == Appended::Fate::conflict) return std::nullopt;
  auto now = book.site(entry.id);
  if (!now.answer) return Answered<Imported>{std::nullopt, std::move(now.problems)};
  return Answered<Imported>{Imported{Imported::Outcome::edited, *std::move(now.answer), std::move(changes)}, {}};
}

Answered<Imported> edit(Book& book, const ImportAsked& asked, const std::string& id, const site::Site& site) {
  for (int round = 0; round < kMostRounds; ++round) {
    const auto entry = book.site(id);
    if (!entry.answer) return {std::nullopt, entry.problems};
    if (auto told = edit_once(book, asked, *entry.answer, site)) return *std::move(told);
  }
  return {std::nullopt, {say::book_busy()}};
}

/// Whether the book says of a site what the file says.
bool says_the_same(Book& book, const std::string& id, const site::Site& site) {
  const auto last = last_state(book, id);
  return last.answer && results::changes_between(*last.answer, site).empty();
}

}  // namespace

std::string_view word_of(Imported::Outcome outcome) {
  constexpr std::array<std::string_view, 3> words = {"added", "edited", "unchanged"};
  return words[static_cast<std::size_t>(outcome)];
}

Answered<Imported> import_site(Book& book, const ImportAsked& asked, const site::Site& site) {
  const std::string id = !asked.id.empty() ? asked.id : site::MadeIds().make(site.name.empty() ? "site" : site.name);
  const auto entry = book.site(id);
  const bool missing = !entry.answer && entry.problems.front().code == say::book_no_site(id).code;
  if (!entry.answer && !missing) return {std::nullopt, entry.problems};
  if (missing) return add(book, asked, id, site);
  if (!asked.id.empty()) return edit(book, asked, id, site);
  if (!says_the_same(book, id, site)) return {std::nullopt, {say::book_site_taken(id)}};
  return {Imported{Imported::Outcome::unchanged, *entry.answer, {}}, {}};
}

}  // namespace zoneproof::book
