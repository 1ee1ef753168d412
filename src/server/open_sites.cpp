#include "server/open_sites.hpp"

#include <algorithm>

#include "site/file.hpp"

namespace zoneproof::server {

namespace {

constexpr std::size_t kMostWarm = 16;

}  // namespace

std::string file_name_of(const std::string& id) { return id + ".site.json"; }

results::Answered<OpenSite> OpenSites::open(const std::string& id) {
  auto entry = book_.site(id);
  if (!entry.answer) return {std::nullopt, std::move(entry.problems)};
  {
    const std::lock_guard lock(mutex_);
    const auto found = warm_.find(id);
    if (found != warm_.end() && found->second.site.entry.sha256 == entry.answer->sha256 &&
        found->second.site.entry.revision == entry.answer->revision) {
      found->second.used = ++uses_;
      return {found->second.site, {}};
    }
  }
  // The revision that was told, and not whatever is the last by now.
  auto text = book_.text(id, entry.answer->revision);
  if (!text.answer) return {std::nullopt, std::move(text.problems)};
  site::ReadResult read = site::read_site(*text.answer, file_name_of(id));
  if (!read.site) return {std::nullopt, std::move(read.messages)};
  OpenSite opened = {
      std::make_shared<const browser::Session>(*std::move(read.site), file_name_of(id), std::move(read.messages)),
      *std::move(entry.answer)};
  keep(opened);
  return {std::move(opened), {}};
}

void OpenSites::keep(const OpenSite& site) {
  const std::lock_guard lock(mutex_);
  Warm& warm = warm_[site.entry.id];
  if (!warm.site.session || warm.site.entry.revision <= site.entry.revision) warm.site = site;
  warm.used = ++uses_;
  if (warm_.size() <= kMostWarm) return;
  warm_.erase(std::min_element(warm_.begin(), warm_.end(),
                               [](const auto& a, const auto& b) { return a.second.used < b.second.used; }));
}

void OpenSites::replace(const OpenSite& site) { keep(site); }

std::shared_ptr<std::mutex> OpenSites::turn_of(const std::string& id) {
  const std::lock_guard lock(mutex_);
  auto& turn = turns_[id];
  if (!turn) turn = std::make_shared<std::mutex>();
  return turn;
}

std::size_t OpenSites::warm() const {
  const std::lock_guard lock(mutex_);
  return warm_.size();
}

}  // namespace zoneproof::server
