#include <algorithm>
#include <limits>

#include "base/json_text.hpp"
#include "base/sha256.hpp"
#include "book/forms.hpp"
#include "book/history.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"
#include "site/file.hpp"
#include "site/made_id.hpp"

namespace zoneproof::book {

namespace {

constexpr long long kNoNumber = std::numeric_limits<long long>::max();
constexpr std::size_t kAll = std::numeric_limits<int>::max();

/// The id of a new site: as wanted, else made from the name and free.
std::string free_id(Store& store, const NewSite& made, const std::string& name) {
  if (!made.id.empty()) return made.id;
  site::MadeIds ids;
  for (;;) {
    std::string id = ids.make(name.empty() ? "site" : name);
    if (!site_row(store, id)) return id;
  }
}

/// The same request again: the site that it made then. Nothing where it is new.
std::optional<Answered<SiteEntry>> made_before(Store& store, const NewSite& made, const std::string& sha256) {
  const std::string id = site_made_by(store, made.edit);
  if (id.empty()) return std::nullopt;
  const auto first = revision_of_edit(store, id, made.edit);
  if (!first || first->sha256 != sha256 || (!made.id.empty() && made.id != id)) {
    return refused<SiteEntry>(say::book_edit_id_used(made.edit));
  }
  return Answered<SiteEntry>{site_row(store, id), {}};
}

Answered<SiteEntry> add_new(Store& store, const NewSite& made, const site::Site& site, const std::string& text) {
  const Revision first = {site.revision, sha256_hex(text), made.edit, made.who, made.when, made.why, "", ""};
  Writing writing(store);
  if (auto before = made_before(store, made, first.sha256)) return *std::move(before);
  const std::string id = free_id(store, made, site.name);
  if (site_row(store, id)) return refused<SiteEntry>(say::book_site_taken(id));
  add_site_row(store, id, site.name, first.number);
  add_revision(store, id, site.name, first, text);
  auto entry = site_row(store, id);
  writing.commit();
  return {std::move(entry), {}};
}

/// Whether a revision is what this edit made: the same request, and not another with an id used twice.
bool same_edit(const Revision& revision, const Edit& edit, const std::string& sha256) {
  return revision.number == edit.base + 1 && revision.patch == edit.patch && revision.sha256 == sha256;
}

Answered<Appended> append_text(Store& store, const Edit& edit, const std::string& name, const std::string& text) {
  using Fate = Appended::Fate;
  const Revision made = {edit.base + 1, sha256_hex(text), edit.id,    edit.who,
                         edit.when,     edit.why,         edit.patch, edit.undo};
  Writing writing(store);
  const auto entry = site_row(store, edit.site);
  if (!entry) return refused<Appended>(say::book_no_site(edit.site));
  if (auto before = revision_of_edit(store, edit.site, edit.id)) {
    if (!same_edit(*before, edit, made.sha256)) return refused<Appended>(say::book_edit_id_used(edit.id));
    return {Appended{Fate::repeated, *std::move(before), {}}, {}};
  }
  if (edit.base > entry->revision || edit.base < first_number(store, edit.site)) {
    return refused<Appended>(say::book_no_revision(edit.site, edit.base));
  }
  if (edit.base < entry->revision) {
    return {Appended{Fate::conflict, {}, revision_rows(store, edit.site, edit.base, kNoNumber, false, kAll)}, {}};
  }
  add_revision(store, edit.site, name, made, text);
  writing.commit();
  return {Appended{Fate::kept, made, {}}, {}};
}

Forms forms_of(const std::string& edit, const std::string& who, const std::string& when, const std::string& why) {
  Forms forms;
  forms.edit_id(edit).person("who", who).time("when", when).text("why", why, kLongestWhy);
  return forms;
}

}  // namespace

Answered<std::vector<SiteEntry>> Book::sites() {
  using Answer = std::vector<SiteEntry>;
  return inside_->in_turn<Answer>([](Store& store) -> Answered<Answer> { return {site_rows(store), {}}; });
}

Answered<SiteEntry> Book::site(const std::string& id) {
  return inside_->in_turn<SiteEntry>([&](Store& store) {
    auto entry = Forms().site_id(id).good() ? site_row(store, id) : std::nullopt;
    return entry ? Answered<SiteEntry>{std::move(entry), {}} : refused<SiteEntry>(say::book_no_site(id));
  });
}

Answered<SiteEntry> Book::add_site(const NewSite& made, const site::Site& site) {
  Forms forms = forms_of(made.edit, made.who, made.when, made.why);
  if (!made.id.empty()) forms.site_id(made.id);
  const std::string text = site::write_site(site);
  forms.text("site", text, kLargestJsonText);
  if (!forms.good()) return refused<SiteEntry>(forms.problems());
  return inside_->in_turn<SiteEntry>([&](Store& store) { return add_new(store, made, site, text); });
}

Answered<Appended> Book::append(const Edit& edit, const site::Site& after) {
  Forms forms = forms_of(edit.id, edit.who, edit.when, edit.why);
  const std::string text = site::write_site(after);
  forms.text("patch", edit.patch, kLargestJsonText).text("undo", edit.undo, kLargestJsonText);
  forms.text("site", text, kLargestJsonText);
  if (!forms.good()) return refused<Appended>(forms.problems());
  if (after.revision != edit.base + 1) {
    return refused<Appended>(say::book_revision_expected(edit.base + 1, after.revision));
  }
  if (!Forms().site_id(edit.site).good()) return refused<Appended>(say::book_no_site(edit.site));
  return inside_->in_turn<Appended>([&](Store& store) { return append_text(store, edit, after.name, text); });
}

Answered<std::optional<Revision>> Book::edit_before(const std::string& site, const std::string& edit) {
  using Answer = std::optional<Revision>;
  const Forms forms = Forms().edit_id(edit);
  if (!forms.good()) return refused<Answer>(forms.problems());
  if (!Forms().site_id(site).good()) return refused<Answer>(say::book_no_site(site));
  return inside_->in_turn<Answer>([&](Store& store) -> Answered<Answer> {
    return {std::make_optional(revision_of_edit(store, site, edit)), {}};
  });
}

Answered<std::vector<Revision>> Book::revisions(const std::string& site, std::optional<long long> before,
                                                std::size_t most) {
  using Answer = std::vector<Revision>;
  if (const auto entry = this->site(site); !entry.answer) return refused<Answer>(entry.problems);
  return inside_->in_turn<Answer>([&](Store& store) -> Answered<Answer> {
    return {revision_rows(store, site, -1, before.value_or(kNoNumber), true, std::min(most, kAll)), {}};
  });
}

Answered<std::vector<Revision>> Book::revisions_since(const std::string& site, long long after) {
  using Answer = std::vector<Revision>;
  if (const auto entry = this->site(site); !entry.answer) return refused<Answer>(entry.problems);
  return inside_->in_turn<Answer>([&](Store& store) -> Answered<Answer> {
    return {revision_rows(store, site, after, kNoNumber, false, kAll), {}};
  });
}

Answered<Revision> Book::revision(const std::string& site, long long number) {
  if (const auto entry = this->site(site); !entry.answer) return refused<Revision>(entry.problems);
  return inside_->in_turn<Revision>([&](Store& store) {
    auto found = revision_row(store, site, number);
    return found ? Answered<Revision>{std::move(found), {}} : refused<Revision>(say::book_no_revision(site, number));
  });
}

Answered<std::string> Book::text(const std::string& site, std::optional<long long> number) {
  const auto entry = this->site(site);
  if (!entry.answer) return refused<std::string>(entry.problems);
  const long long wanted = number.value_or(entry.answer->revision);
  return inside_->in_turn<std::string>([&](Store& store) {
    if (!revision_row(store, site, wanted)) return refused<std::string>(say::book_no_revision(site, wanted));
    auto found = text_at(store, site, wanted);
    if (!found) return refused<std::string>(say::book_text_damaged(site, wanted));
    return Answered<std::string>{std::move(found), {}};
  });
}

}  // namespace zoneproof::book
