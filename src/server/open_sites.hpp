#pragma once
#include <cstddef>
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "book/book.hpp"
#include "browser/session.hpp"

namespace zoneproof::server {

/// A site as it stood when it was asked for: what is done with it is not disturbed by edits.
struct OpenSite {
  std::shared_ptr<const browser::Session> session;
  book::SiteEntry entry;
};

/// Sites that are kept warm: parsed once, and with the answers to earlier states, so that after an edit only what rests
/// on it is proven anew. Those that were not asked for longest go when there are many. May be used from any thread.
class OpenSites {
 public:
  explicit OpenSites(book::Book& book) : book_(book) {}

  /// The site as the book has it now, whoever edited it there.
  results::Answered<OpenSite> open(const std::string& id);
  /// After an edit that the book has kept.
  void replace(const OpenSite& site);
  /// Whoever edits a site holds this: edits of one site take turns.
  std::shared_ptr<std::mutex> turn_of(const std::string& id);
  std::size_t warm() const;

 private:
  struct Warm {
    OpenSite site;
    unsigned long long used = 0;
  };
  void keep(const OpenSite& site);

  book::Book& book_;
  mutable std::mutex mutex_;
  std::map<std::string, Warm> warm_;
  std::map<std::string, std::shared_ptr<std::mutex>> turns_;
  unsigned long long uses_ = 0;
};

/// What messages call a site of the book: as its file would be called.
std::string file_name_of(const std::string& id);

}  // namespace zoneproof::server
