#include <algorithm>
#include <set>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "messages/site.hpp"
#include "site/checks.hpp"
#include "site/shelf.hpp"
#include "site/walk.hpp"

namespace zoneproof::site {

namespace {

/// Which collection an id stands in.
using Index = std::unordered_map<std::string, std::string_view>;

std::string joined(const std::vector<std::string_view>& words) {
  std::string out;
  for (const std::string_view word : words) {
    if (!out.empty()) out += ", ";
    out += word;
  }
  return out;
}

/// Parts and rulebooks have ids of their own: a part may be called like the cable that is made of it.
bool own_ids(std::string_view collection) { return collection == "parts" || collection == "rulebooks"; }

class References {
 public:
  References(const Site& site, const std::set<std::string>& skipped, Findings& findings)
      : site_(site), skipped_(skipped), findings_(findings) {
    for (const Field& field : record_of<Site>().fields) {
      if (field.shape == Shape::map) index(field);
    }
  }

  void check(const Field& field, const Ref& reference) {
    if (!reference.known()) return;
    for (const std::string_view collection : field.targets) {
      if (skipped_.count("/" + std::string(collection)) != 0) return;
      if (!stands_in(reference.id, collection)) continue;
      if (collection == "parts") check_kind(field, reference);
      return;
    }
    const auto elsewhere = ids_.find(reference.id);
    if (elsewhere != ids_.end() && !own_ids(field.targets.front())) {
      findings_.add(say::site_wrong_collection(reference.id, std::string(elsewhere->second), std::string(field.key),
                                               joined(field.targets)),
                    reference.pointer);
      return;
    }
    dangling(field, reference);
  }

 private:
  Index& index_of(std::string_view collection) {
    return collection == "parts" ? part_ids_ : collection == "rulebooks" ? rulebook_ids_ : ids_;
  }

  bool stands_in(const std::string& id, std::string_view collection) {
    const Index& ids = index_of(collection);
    const auto found = ids.find(id);
    return found != ids.end() && (found->second == collection || repeated_.count({collection, id}) != 0);
  }

  void index(const Field& field) {
    Index& ids = index_of(field.key);
    field.nested->each(field.member_of(&site_), [&](const std::string& id, const void*) {
      const auto [at, added] = ids.emplace(id, field.key);
      if (added) return;
      repeated_.emplace(field.key, id);
      findings_.add(say::site_duplicate_id(id, std::string(at->second)), "/" + std::string(field.key) + "/" + id, true);
    });
  }

  void check_kind(const Field& field, const Ref& reference) {
    const Word<PartKind>& kind = site_.parts.at(reference.id).kind;
    const auto& wanted = field.part_kinds;
    if (!kind.known() || std::find(wanted.begin(), wanted.end(), *kind.value) != wanted.end()) return;
    std::vector<std::string_view> words;
    for (const PartKind one : wanted) words.push_back(word_of(one));
    findings_.add(say::site_wrong_part_kind(reference.id, std::string(word_of(*kind.value)), std::string(field.key),
                                            joined(words)),
                  reference.pointer);
  }

  void dangling(const Field& field, const Ref& reference) {
    if (field.targets.front() == "parts" && parts_shelf().count(reference.id) != 0) {
      findings_.add(say::site_part_on_shelf(reference.id), reference.pointer);
      return;
    }
    std::vector<std::string_view> candidates;
    for (const std::string_view collection : field.targets) {
      for (const auto& [id, where] : index_of(collection)) {
        if (where == collection) candidates.push_back(id);
      }
    }
    std::sort(candidates.begin(), candidates.end());  // the hash table's order must not decide which one is suggested
    const std::string near = findings_.nearest(reference.id, candidates);
    const std::string collections = joined(field.targets);
    findings_.add(near.empty() ? say::site_dangling(reference.id, collections, std::string(field.key))
                               : say::site_dangling_near(reference.id, collections, near),
                  reference.pointer);
  }

  const Site& site_;
  const std::set<std::string>& skipped_;
  Findings& findings_;
  Index ids_;
  Index part_ids_;
  Index rulebook_ids_;
  std::set<std::pair<std::string_view, std::string>> repeated_;  ///< ids that stand in an earlier collection too
};

/// Junctions are the only things that feed and are fed, so a circle of feeds is a circle of junctions.
void check_circles(const Site& site, Findings& findings) {
  std::unordered_set<std::string> done;
  for (const auto& entry : site.junctions) {
    std::vector<std::string> path;
    std::string at = entry.first;
    while (site.junctions.count(at) != 0 && done.insert(at).second) {
      path.push_back(at);
      at = site.junctions.at(at).feed.from.id;
    }
    const auto start = std::find(path.begin(), path.end(), at);
    if (start == path.end()) continue;
    std::string circle;
    for (auto step = start; step != path.end(); ++step) circle += *step + ", ";
    findings.add(say::site_cycle(circle + at), site.junctions.at(*start).feed.from.pointer);
  }
}

}  // namespace

void check_references(const Site& site, const std::set<std::string>& skipped, Findings& findings) {
  References references(site, skipped, findings);
  each_reference(record_of<Site>(), &site,
                 [&](const Field& field, const Ref& reference) { references.check(field, reference); });
  check_circles(site, findings);
}

}  // namespace zoneproof::site
