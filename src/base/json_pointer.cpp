#include "base/json_pointer.hpp"

#include <nlohmann/json.hpp>

namespace zoneproof {

std::string pointer_escaped(std::string_view token) {
  std::string out;
  for (const char c : token) {
    if (c == '~') {
      out += "~0";
    } else if (c == '/') {
      out += "~1";
    } else {
      out += c;
    }
  }
  return out;
}

std::string pointer_child(std::string_view parent, std::string_view key) {
  return std::string(parent) + "/" + pointer_escaped(key);
}

std::string pointer_child(std::string_view parent, std::size_t index) {
  return std::string(parent) + "/" + std::to_string(index);
}

std::string pointer_parent(std::string_view pointer) {
  const std::size_t slash = pointer.rfind('/');
  return slash == std::string_view::npos ? std::string() : std::string(pointer.substr(0, slash));
}

namespace {

std::optional<std::string> unescaped(std::string_view token) {
  std::string out;
  for (std::size_t i = 0; i < token.size(); ++i) {
    if (token[i] != '~') {
      out += token[i];
      continue;
    }
    ++i;
    if (i == token.size() || (token[i] != '0' && token[i] != '1')) return std::nullopt;
    out += token[i] == '0' ? '~' : '/';
  }
  return out;
}

const nlohmann::ordered_json* child_of(const nlohmann::ordered_json& parent, const std::string& token) {
  if (parent.is_object()) {
    const auto found = parent.find(token);
    return found == parent.end() ? nullptr : &*found;
  }
  if (!parent.is_array()) return nullptr;
  const std::optional<std::size_t> index = pointer_index(token);
  return index && *index < parent.size() ? &parent[*index] : nullptr;
}

}  // namespace

std::optional<std::vector<std::string>> pointer_tokens(std::string_view pointer) {
  std::vector<std::string> tokens;
  if (pointer.empty()) return tokens;
  if (pointer.front() != '/') return std::nullopt;
  for (std::size_t begin = 1;;) {
    const std::size_t end = pointer.find('/', begin);
    std::optional<std::string> token = unescaped(pointer.substr(begin, end - begin));
    if (!token) return std::nullopt;
    tokens.push_back(*std::move(token));
    if (end == std::string_view::npos) return tokens;
    begin = end + 1;
  }
}

bool pointer_within(std::string_view pointer, std::string_view ancestor) {
  return pointer.substr(0, ancestor.size()) == ancestor &&
         (pointer.size() == ancestor.size() || pointer[ancestor.size()] == '/');
}

std::optional<std::size_t> pointer_index(std::string_view token) {
  constexpr std::size_t kMostDigits = 9;  // fits 32 bits; no readable text has more items
  if (token.empty() || token.size() > kMostDigits || (token.size() > 1 && token[0] == '0')) return std::nullopt;
  std::size_t index = 0;
  for (const char c : token) {
    if (c < '0' || c > '9') return std::nullopt;
    index = index * 10 + static_cast<std::size_t>(c - '0');
  }
  return index;
}

const nlohmann::ordered_json* value_at(const nlohmann::ordered_json& document, std::string_view pointer) {
  const auto tokens = pointer_tokens(pointer);
  if (!tokens) return nullptr;
  const nlohmann::ordered_json* at = &document;
  for (const std::string& token : *tokens) {
    at = child_of(*at, token);
    if (at == nullptr) return nullptr;
  }
  return at;
}

nlohmann::ordered_json* value_at(nlohmann::ordered_json& document, std::string_view pointer) {
  return const_cast<nlohmann::ordered_json*>(value_at(std::as_const(document), pointer));
}

}  // namespace zoneproof
