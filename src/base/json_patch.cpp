#include "base/json_patch.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include <string>
#include <utility>

#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "messages/base.hpp"

namespace zoneproof {

namespace {

using Json = nlohmann::ordered_json;

Json operation(const char* op, const std::string& path, Json value) {
  return {{"op", op}, {"path", path}, {"value", std::move(value)}};
}

Json removal(const std::string& path) { return {{"op", "remove"}, {"path", path}}; }

Json move_of(const std::string& from, const std::string& path) {
  return {{"op", "move"}, {"from", from}, {"path", path}};
}

/// Where an operation works: the container and the place in it.
struct Target {
  Json* parent = nullptr;
  std::string token;
  std::size_t index = 0;  ///< in a list
  bool exists = false;
};

/// One operation on the document. Each step notes in `undo` what takes it back; the caller keeps the order.
class Operation {
 public:
  Operation(Json& document, const Json& patch, std::size_t number)
      : document_(document), operation_(patch[number]), number_(static_cast<long long>(number)) {}

  /// The operations that undo this one, in the order to apply them; nothing where it failed (see `fault()`).
  std::optional<Json> apply() {
    if (!operation_.is_object()) return refuse(say::patch_not_an_object(number_));
    const std::optional<std::string> op = member("op");
    if (!op) return std::nullopt;
    if (*op != "add" && *op != "remove" && *op != "replace" && *op != "move" && *op != "test") {
      return refuse(say::patch_operation_unknown(number_, *op));
    }
    const std::optional<std::string> path = pointer("path");
    if (!path) return std::nullopt;
    if (*op == "remove") return remove(*path);
    if (*op == "move") return move(*path);
    const auto value = operation_.find("value");
    if (value == operation_.end()) return refuse(say::patch_value_missing(number_));
    if (*op == "add") return add(*path, *value);
    return *op == "replace" ? replace(*path, *value) : test(*path, *value);
  }

  Message fault() && { return std::move(fault_); }

 private:
  std::nullopt_t refuse(Message message) {
    fault_ = std::move(message).at({"", pointer_child("", static_cast<std::size_t>(number_)), 0, 0});
    return std::nullopt;
  }

  std::optional<std::string> member(const char* name) {
    const auto found = operation_.find(name);
    if (found != operation_.end() && found->is_string()) return found->get<std::string>();
    return refuse(say::patch_member_missing(number_, name));
  }

  std::optional<std::string> pointer(const char* name) {
    std::optional<std::string> text = member(name);
    if (text && !pointer_tokens(*text)) return refuse(say::patch_pointer_malformed(number_, *text));
    return text;
  }

  /// The container that `path` (not empty) ends in. `growing` allows the place behind a list's last item.
  std::optional<Target> target(const std::string& path, bool growing) {
    Target found;
    found.parent = value_at(document_, pointer_parent(path));
    found.token = pointer_tokens(path)->back();
    if (found.parent == nullptr) return refuse(say::patch_path_missing(number_, path));
    if (found.parent->is_object()) {
      found.exists = found.parent->contains(found.token);
      return found;
    }
    if (!found.parent->is_array()) return refuse(say::patch_no_container(number_, path));
    const std::size_t count = found.parent->size();
    const auto index = growing && found.token == "-" ? count : pointer_index(found.token);
    if (!index || *index >= count + (growing ? 1 : 0)) {
      return refuse(say::patch_index_outside(number_, path, static_cast<long long>(count)));
    }
    found.index = *index;
    found.exists = *index < count;
    return found;
  }

  std::optional<Json> add(const std::string& path, Json value) {
    if (path.empty()) return replace(path, std::move(value));
    const std::optional<Target> at = target(path, true);
    if (!at) return std::nullopt;
    if (at->parent->is_array()) {
      at->parent->insert(at->parent->begin() + static_cast<Json::difference_type>(at->index), std::move(value));
      return Json::array({removal(pointer_child(pointer_parent(path), at->index))});
    }
    if (at->exists) return replace(path, std::move(value));
    (*at->parent)[at->token] = std::move(value);
    return Json::array({removal(path)});
  }

  std::optional<Json> remove(const std::string& path) {
    std::optional<Json> taken = take(path);
    if (!taken) return std::nullopt;
    return Json::array({operation("add", path, *std::move(taken))});
  }

  /// Removes what stands at `path` and gives it.
  std::optional<Json> take(const std::string& path) {
    if (path.empty()) return refuse(say::patch_whole_removed(number_));
    const std::optional<Target> at = target(path, false);
    if (!at) return std::nullopt;
    if (!at->exists) return refuse(say::patch_path_missing(number_, path));
    Json& value = at->parent->is_array() ? (*at->parent)[at->index] : (*at->parent)[at->token];
    Json taken = std::move(value);
    if (at->parent->is_array()) {
      at->parent->erase(at->index);
    } else {
      at->parent->erase(at->token);
    }
    return taken;
  }

  std::optional<Json> replace(const std::string& path, Json value) {
    Json* const at = value_at(document_, path);
    if (at == nullptr) return refuse(say::patch_path_missing(number_, path));
    std::swap(*at, value);
    return Json::array({operation("replace", path, std::move(value))});
  }

  std::optional<Json> test(const std::string& path, const Json& value) {
    const Json* const at = value_at(std::as_const(document_), path);
    if (at == nullptr) return refuse(say::patch_path_missing(number_, path));
    if (!same_json(*at, value)) return refuse(say::patch_test_failed(number_, path));
    return Json::array();
  }

  std::optional<Json> move(const std::string& path) {
    const std::optional<std::string> from = pointer("from");
    if (!from) return std::nullopt;
    if (value_at(document_, *from) == nullptr) return refuse(say::patch_path_missing(number_, *from));
    if (*from == path) return Json::array();
    if (pointer_within(path, *from)) return refuse(say::patch_move_into_itself(number_, path));
    if (pointer_within(*from, path)) return replace(path, *value_at(std::as_const(document_), *from));
    std::optional<Json> taken = take(*from);
    if (!taken) return std::nullopt;
    std::optional<Json> back = add(path, *taken);
    if (!back) {  // the target does not exist: the value returns to where it was
      const Message reason = std::move(fault_);
      add(*from, *std::move(taken));
      fault_ = reason;
      return std::nullopt;
    }
    // Where something was overwritten it returns first: moving the value back may shift the indices of its path.
    if (back->front().at("op") == "remove") return Json::array({move_of(back->front().at("path"), *from)});
    back->push_back(operation("add", *from, *std::move(taken)));
    return back;
  }

  Json& document_;
  const Json& operation_;
  long long number_;
  Message fault_;
};

}  // namespace

std::vector<Message> apply_patch(Json& document, const Json& patch, Json* undo) {
  if (undo != nullptr) *undo = nullptr;
  if (!patch.is_array()) return {say::patch_not_a_list()};
  std::vector<Json> steps;
  for (std::size_t number = 0; number < patch.size(); ++number) {
    Operation operation(document, patch, number);
    std::optional<Json> back = operation.apply();
    if (!back) {
      for (; !steps.empty(); steps.pop_back()) apply_patch(document, steps.back());
      return {std::move(operation).fault()};
    }
    steps.push_back(*std::move(back));
  }
  if (undo == nullptr) return {};
  *undo = Json::array();
  for (auto step = steps.rbegin(); step != steps.rend(); ++step) {
    for (Json& operation : *step) undo->push_back(std::move(operation));
  }
  return {};
}

Json inverse_patch(const Json& document, const Json& patch, std::vector<Message>& messages) {
  Json copy = document;
  Json undo;
  for (Message& message : apply_patch(copy, patch, &undo)) messages.push_back(std::move(message));
  return undo;
}

namespace {

void compare(const Json& from, const Json& to, const std::string& path, Json& patch);

void compare_objects(const Json& from, const Json& to, const std::string& path, Json& patch) {
  std::map<std::string_view, std::pair<const Json*, const Json*>> members;
  for (const auto& member : from.items()) members[member.key()].first = &member.value();
  for (const auto& member : to.items()) members[member.key()].second = &member.value();
  for (const auto& [key, sides] : members) {
    const std::string child = pointer_child(path, key);
    if (sides.second == nullptr) {
      patch.push_back(removal(child));
    } else if (sides.first == nullptr) {
      patch.push_back(operation("add", child, *sides.second));
    } else {
      compare(*sides.first, *sides.second, child, patch);
    }
  }
}

void compare_lists(const Json& from, const Json& to, const std::string& path, Json& patch) {
  const std::size_t shorter = std::min(from.size(), to.size());
  std::size_t begin = 0;
  while (begin < shorter && same_json(from[begin], to[begin])) ++begin;
  std::size_t end = 0;  // unchanged items at the end
  while (end < shorter - begin && same_json(from[from.size() - 1 - end], to[to.size() - 1 - end])) ++end;
  const std::size_t common = shorter - end;  // items up to here are changed in place
  for (std::size_t i = begin; i < common; ++i) compare(from[i], to[i], pointer_child(path, i), patch);
  for (std::size_t i = from.size() - end; i > common; --i) patch.push_back(removal(pointer_child(path, i - 1)));
  for (std::size_t i = common; i < to.size() - end; ++i) {
    patch.push_back(operation("add", pointer_child(path, i), to[i]));
  }
}

void compare(const Json& from, const Json& to, const std::string& path, Json& patch) {
  if (from.is_object() && to.is_object()) {
    compare_objects(from, to, path, patch);
  } else if (from.is_array() && to.is_array()) {
    compare_lists(from, to, path, patch);
  } else if (!same_json(from, to)) {
    patch.push_back(operation("replace", path, to));
  }
}

}  // namespace

Json difference(const Json& from, const Json& to) {
  Json patch = Json::array();
  compare(from, to, "", patch);
  return patch;
}

}  // namespace zoneproof
