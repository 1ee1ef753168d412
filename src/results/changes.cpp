#include "results/changes.hpp"

#include <map>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/json_patch.hpp"
#include "base/json_pointer.hpp"
#include "messages/results.hpp"
#include "results/field_words.hpp"
#include "results/results.hpp"
#include "site/definitions.hpp"
#include "site/document.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

/// One of the two states: the document that tells exactly, and the words that people read.
class State {
 public:
  explicit State(const site::Site& site)
      : site_(site), document_(site::write_document(site::site_format(), &site, site::Written::complete)) {
    document_.erase("revision");
    document_.erase("version");
    for (FieldRow& row : rows_of(site::record_of<site::Site>(), &site)) words_["/" + row.key] = std::move(row.value);
  }

  const Json& document() const { return document_; }

  /// What stands at a pointer; null where nothing does.
  const Json* at(const std::string& pointer) const {
    const auto tokens = pointer_tokens(pointer);
    const Json* here = &document_;
    for (const std::string& token : *tokens) {
      if (here->is_object() && here->contains(token)) {
        here = &(*here)[token];
      } else if (here->is_array() && is_index(token) && std::stoull(token) < here->size()) {
        here = &(*here)[std::stoull(token)];
      } else {
        return nullptr;
      }
    }
    return here->is_null() ? nullptr : here;
  }

  std::string words(const std::string& pointer) const {
    const auto found = words_.find(pointer);
    return found == words_.end() ? "" : found->second;
  }
  /// As the file says it: for what two states say in the same words, a note of a figure or its eighth digit.
  std::string exactly(const std::string& pointer) const {
    const Json* found = at(pointer);
    return found == nullptr ? "" : found->dump();
  }

  const site::Site& site() const { return site_; }

 private:
  static bool is_index(const std::string& token) {
    return !token.empty() && token.size() < 10 && token.find_first_not_of("0123456789") == std::string::npos;
  }

  const site::Site& site_;
  Json document_;
  std::map<std::string, std::string> words_;
};

/// The longest beginning of a pointer that names a field or a thing of the definitions: what stands inside of a number
/// ("/plus") or of a list of references belongs to that.
std::pair<std::string, FieldPlace> named_place(std::string pointer) {
  for (;;) {
    if (const auto place = place_of(site::record_of<site::Site>(), pointer)) return {std::move(pointer), *place};
    pointer.resize(pointer.rfind('/'));
  }
}

/// "loop/eol_ohm" of /zones/z6/loop/eol_ohm.
std::string inside_of_owner(const std::string& pointer, const FieldPlace& place) {
  if (place.owner.empty()) return pointer.substr(1);
  const std::size_t head = place.collection.size() + place.owner.size() + 3;  // and three slashes
  return pointer.size() > head ? pointer.substr(head) : "";
}

/// What a thing is called; by its own name where the sentences of the engines have no word for it.
std::string thing_of(const FieldPlace& place, const State& state) {
  std::string words = owner_words(state.site(), place);
  if (words != place.owner) return words;
  const std::string name = state.words(pointer_child("/" + place.collection, place.owner) + "/name");
  return name.empty() ? words : name;
}

Change change_at(const std::string& pointer, const FieldPlace& place, const State& from, const State& to) {
  Change change;
  const bool was = from.at(pointer) != nullptr, is = to.at(pointer) != nullptr;
  change.pointer = pointer;
  change.field = inside_of_owner(pointer, place);
  change.thing = thing_of(place, is ? to : from);
  const bool thing = place.field == nullptr;  // an entry of a map or a list: a whole thing
  if (was != is && thing) {
    change.kind = is ? Change::Kind::added : Change::Kind::removed;
    return change;
  }
  change.before = from.words(pointer);
  change.after = to.words(pointer);
  if (change.before == change.after) {
    change.before = from.exactly(pointer);
    change.after = to.exactly(pointer);
  }
  return change;
}

std::string what_of(const Change& change) {
  if (change.field.empty()) return change.thing;
  return text(say::field_of_thing(change.thing, change.field));
}

std::string_view word_of(Change::Kind kind) {
  switch (kind) {
    case Change::Kind::added: return "added";
    case Change::Kind::removed: return "removed";
    default: return "changed";
  }
}

Json json_or_null(const std::string& text) { return text.empty() ? Json() : Json(text); }

}  // namespace

std::vector<Change> changes_between(const site::Site& from, const site::Site& to) {
  const State before(from), after(to);
  std::vector<Change> changes;
  std::string last;
  for (const Json& operation : difference(before.document(), after.document())) {
    const auto [pointer, place] = named_place(operation.at("path").get<std::string>());
    if (pointer == last) continue;  // a number whose value and tolerance have changed is one change
    last = pointer;
    changes.push_back(change_at(pointer, place, before, after));
  }
  return changes;
}

std::string sentence_of(const Change& change) {
  const std::string what = what_of(change);
  if (change.kind == Change::Kind::added) return text(say::change_added(what));
  if (change.kind == Change::Kind::removed) return text(say::change_removed(what));
  if (change.before.empty()) return text(say::change_entered(what, change.after));
  if (change.after.empty()) return text(say::change_taken_out(what, change.before));
  return text(say::change_replaced(what, change.before, change.after));
}

Json json_of(const std::vector<Change>& changes) {
  Json list = Json::array();
  for (const Change& change : changes) {
    list.push_back({{"after", json_or_null(change.after)},
                    {"before", json_or_null(change.before)},
                    {"field", json_or_null(change.field)},
                    {"kind", word_of(change.kind)},
                    {"pointer", change.pointer},
                    {"text", sentence_of(change)},
                    {"thing", change.thing}});
  }
  return list;
}

}  // namespace zoneproof::results
