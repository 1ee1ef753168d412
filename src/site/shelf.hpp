#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "site/model.hpp"
#include "site/parts.hpp"
#include "site/rulebook.hpp"

/// The parts shelf and the rulebooks that come with the program (data/parts/, data/rulebooks/, embedded).
namespace zoneproof::site {

/// All shelf parts by id. Read once; throws std::logic_error if the embedded data are faulty (a test reads them all).
const Map<Part>& parts_shelf();
const Map<Rulebook>& rulebook_shelf();

/// A copy of a shelf part for embedding into a site, with version and hash filled in; nothing if there is none.
/// Its pointers are those it had on the shelf: "/parts/ID/..."; a rulebook's begin with "/rulebook" there.
std::optional<Part> part_for_site(std::string_view id);
std::optional<Rulebook> rulebook_for_site(std::string_view id);

/// Whether a part says that it is a copy of the shelf's (it has a shelf_hash) and its content is no longer that.
/// Cost: writing the part once.
bool is_changed_copy(const Part& part);

/// A person's own parts: same schema as the shelf ({"format": "zoneproof-parts", "version": 2, "parts": {...}}).
struct PartsResult {
  Map<Part> parts;
  std::vector<Message> messages;
};
PartsResult read_parts(std::string_view text, const std::string& name);

/// One rulebook of a file ({"format": "zoneproof-rulebook", "version": 1, "id": ..., "rulebook": {...}}).
struct RulebookResult {
  std::string id;
  Rulebook rulebook;
  std::vector<Message> messages;
};
RulebookResult read_rulebook(std::string_view text, const std::string& name);

/// The rulebook in force on a site; null where the site names none.
const Rulebook* rulebook_of(const Site& site);

/// An entry of the rulebook in force: `id` with the suffix `_grade_N` of the site's chosen grade if there is such an
/// entry, else `id` itself; null where the rulebook has none (then the question is unanswered and names it).
const RuleEntry* rule(const Site& site, std::string_view id);

}  // namespace zoneproof::site
