#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "book/store.hpp"

/// Rows of the tables sites and revisions. Nothing here decides; callers hold the transaction.
namespace zoneproof::book {

/// A site's row; nothing where there is none.
std::optional<SiteEntry> site_row(Store& store, const std::string& id);
std::vector<SiteEntry> site_rows(Store& store);

/// One revision; nothing where there is none.
std::optional<Revision> revision_row(Store& store, const std::string& site, long long number);
/// The revision that an edit made, in a site or, where `site` is empty, as the first of any.
std::optional<Revision> revision_of_edit(Store& store, const std::string& site, const std::string& edit);
/// The site whose first revision that edit made; empty where there is none.
std::string site_made_by(Store& store, const std::string& edit);

/// Revisions of a site with numbers above `above` and below `below`, oldest or newest first.
std::vector<Revision> revision_rows(Store& store, const std::string& site, long long above, long long below,
                                    bool newest_first, std::size_t most);
long long first_number(Store& store, const std::string& site);

/// The text of a revision, held against its SHA-256; nothing where it is damaged.
std::optional<std::string> text_at(Store& store, const std::string& site, long long number);

/// Adds a revision with its text, and makes it the site's last.
void add_revision(Store& store, const std::string& site, const std::string& name, const Revision& revision,
                  std::string_view text);
void add_site_row(Store& store, const std::string& id, const std::string& name, long long revision);

}  // namespace zoneproof::book
