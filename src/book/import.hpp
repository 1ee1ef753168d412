#pragma once
#include <string>
#include <vector>

#include "book/book.hpp"
#include "results/changes.hpp"
#include "site/model.hpp"

/// A site file into a book: as a new site, or as the next revision of one that is there.
namespace zoneproof::book {

struct ImportAsked {
  std::string
      id;  ///< of a new site, or of the one whose next revision the file is; empty: a new one, made from its name
  std::string who, when, why;
};

struct Imported {
  enum class Outcome {
    added,      ///< a site that was not there
    edited,     ///< one revision more
    unchanged,  ///< the book says the same already
  };
  Outcome outcome = Outcome::added;
  SiteEntry entry;
  std::vector<results::Change> changes;  ///< edited
};
std::string_view word_of(Imported::Outcome outcome);

/// Where `id` is empty and a site of the id made from the name is there with other content, it is a problem: two sites
/// may have one name, and nobody's site becomes another's revision without being told so. The same file again is
/// unchanged. The revision number of the file counts for a new site only.
Answered<Imported> import_site(Book& book, const ImportAsked& asked, const site::Site& site);

}  // namespace zoneproof::book
