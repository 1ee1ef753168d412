#include "results/shelf_entries.hpp"

#include <nlohmann/json.hpp>

#include "messages/results.hpp"
#include "site/record_json.hpp"
#include "site/shelf.hpp"
#include "site/words.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

Answered<Parts> answer(const PartsQuestion& question) {
  const auto kind = site::from_word<site::PartKind>(question.kind);
  if (!question.kind.empty() && !kind) {
    std::vector<std::string> known(site::Words<site::PartKind>::all.begin(), site::Words<site::PartKind>::all.end());
    return {std::nullopt, {say::no_such_word(question.kind, "KIND", known)}};
  }
  Parts found;
  for (const auto& [id, part] : site::parts_shelf()) {
    if ((!kind || part.kind.is(*kind)) && (question.id.empty() || question.id == id)) found.emplace_back(id, &part);
  }
  if (found.empty()) return {std::nullopt, {say::no_such_part(question.id)}};
  return {std::move(found), {}};
}

Answered<Rulebooks> answer(const RulesQuestion& question) {
  const auto& shelf = site::rulebook_shelf();
  Rulebooks found;
  std::vector<std::string> known;
  for (const auto& [id, book] : shelf) {
    known.push_back(id);
    if (question.book.empty() || question.book == id) found.emplace_back(id, &book);
  }
  if (found.empty()) return {std::nullopt, {say::no_such_word(question.book, "BOOK", known)}};
  return {std::move(found), {}};
}

Json json_of(const Parts& parts) {
  Json list = Json::object();
  for (const auto& entry : parts) {
    const std::optional<site::Part> copy = site::part_for_site(entry.first);
    list[entry.first] = site::write_record(site::record_of<site::Part>(), &*copy);
  }
  return {{"parts", std::move(list)}};
}

Json json_of(const Rulebooks& books) {
  Json list = Json::object();
  for (const auto& [id, book] : books) list[id] = site::write_record(site::record_of<site::Rulebook>(), book);
  return {{"rulebooks", std::move(list)}};
}

}  // namespace zoneproof::results
