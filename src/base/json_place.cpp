#include "base/json_place.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "base/utf8.hpp"

namespace zoneproof {

TextPosition TextWalk::to(std::size_t offset) {
  while (offset_ < offset && offset_ < text_.size()) {
    if (text_[offset_] == '\n') {
      ++position_.line;
      position_.column = 1;
      ++offset_;
    } else {
      ++position_.column;
      offset_ += utf8_at(text_, offset_).size;
    }
  }
  return position_;
}

namespace {

/// The wanted pointers as a tree of tokens, with the offsets that the walk found.
struct Wanted {
  std::map<std::string, Wanted, std::less<>> children;
  std::size_t key = 0;
  std::size_t value = 0;
  bool found = false;
};

/// Walks the text once, entering only objects and lists that hold something wanted.
class Walk {
 public:
  explicit Walk(std::string_view text) : text_(text) {}

  void document(Wanted& root) {
    if (text_.substr(0, 3) == "\xEF\xBB\xBF") at_ = 3;
    skip_space();
    root.key = at_;
    value(root, 0);
  }

 private:
  bool ended() const { return at_ >= text_.size(); }
  bool next_is(char c) const { return !ended() && text_[at_] == c; }

  void skip_space() {
    while (!ended() && (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\r' || text_[at_] == '\n')) ++at_;
  }

  bool take(char c) {
    skip_space();
    if (!next_is(c)) return false;
    ++at_;
    skip_space();
    return true;
  }

  /// From the opening to behind the closing quote; the raw text between them.
  std::string_view quoted() {
    const std::size_t begin = ++at_;
    while (!ended() && text_[at_] != '"') at_ += text_[at_] == '\\' ? 2 : 1;
    const std::size_t end = at_ < text_.size() ? at_ : text_.size();
    at_ = end + 1;
    return text_.substr(begin, end - begin);
  }

  /// Behind a value that nobody asked about.
  void skip_value() {
    std::size_t depth = 0;
    while (!ended()) {
      const char c = text_[at_];
      if (depth == 0 && (c == ',' || c == ']' || c == '}')) return;
      if (c == '"') {
        quoted();
        continue;
      }
      if (c == '{' || c == '[') ++depth;
      if (c == '}' || c == ']') --depth;
      ++at_;
    }
  }

  void value(Wanted& wanted, std::size_t depth) {
    wanted.value = at_;
    wanted.found = true;
    const bool enter = !wanted.children.empty() && depth < kDeepestJson;
    if (enter && next_is('{')) {
      members(wanted, depth);
    } else if (enter && next_is('[')) {
      items(wanted, depth);
    } else {
      skip_value();
    }
  }

  void child(Wanted& parent, std::string_view token, std::size_t key, std::size_t depth) {
    const auto found = parent.children.find(token);
    if (found == parent.children.end() || found->second.found) {
      skip_value();
      return;
    }
    found->second.key = key;
    value(found->second, depth + 1);
  }

  void members(Wanted& parent, std::size_t depth) {
    for (bool more = take('{'); more && next_is('"'); more = take(',')) {
      const std::size_t key = at_;
      const std::string_view raw = quoted();
      if (!take(':')) return;
      child(parent, decoded(raw), key, depth);
    }
    take('}');
  }

  void items(Wanted& parent, std::size_t depth) {
    std::size_t index = 0;
    for (bool more = take('['); more && !ended() && !next_is(']'); more = take(',')) {
      child(parent, std::to_string(index++), at_, depth);
    }
    take(']');
  }

  /// A key's characters. One with a wrong escape names nothing that could be asked about.
  static std::string decoded(std::string_view raw) {
    if (raw.find('\\') == std::string_view::npos) return std::string(raw);
    std::string text(1, '"');
    text.append(raw).push_back('"');
    const auto value = nlohmann::json::parse(text, nullptr, false);
    return value.is_string() ? value.get<std::string>() : std::string(raw);
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

/// The deepest part of the path that exists in the text.
const Wanted& nearest(const Wanted& root, const std::vector<std::string>& tokens, bool& exact) {
  const Wanted* at = &root;
  exact = false;
  for (const std::string& token : tokens) {
    const auto child = at->children.find(token);
    if (child == at->children.end() || !child->second.found) return *at;
    at = &child->second;
  }
  exact = true;
  return *at;
}

void quote_typed(Message& message, std::string_view text, const JsonLocation& location) {
  for (auto& [name, argument] : message.arguments) {
    if (name != "typed" || !location.found) continue;
    const std::string_view from = text.substr(location.value_offset);
    const std::size_t end = std::min(from.find_first_not_of("0123456789+-.eE"), from.size());
    if (end > 0) argument = printable(from.substr(0, end), kLongestQuote);
  }
}

}  // namespace

std::vector<JsonLocation> locate(std::string_view text, const std::vector<std::string>& pointers) {
  Wanted root;
  std::vector<std::vector<std::string>> paths;
  for (const std::string& pointer : pointers) {
    paths.push_back(pointer_tokens(pointer).value_or(std::vector<std::string>{}));
    Wanted* at = &root;
    for (const std::string& token : paths.back()) at = &at->children[token];
  }
  Walk(text).document(root);

  std::vector<JsonLocation> locations(pointers.size());
  std::vector<std::pair<std::size_t, TextPosition*>> offsets;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const Wanted& wanted = nearest(root, paths[i], locations[i].found);
    offsets.emplace_back(wanted.key, &locations[i].key);
    offsets.emplace_back(wanted.value, &locations[i].value);
    locations[i].value_offset = wanted.value;
  }
  std::sort(offsets.begin(), offsets.end());
  TextWalk walk(text);
  for (const auto& [offset, position] : offsets) *position = walk.to(offset);
  return locations;
}

void place_in_text(std::vector<Message>& messages, std::string_view text) {
  std::vector<std::string> pointers;
  std::vector<Message*> open;
  for (Message& message : messages) {
    if (message.place.line != 0) continue;
    pointers.push_back(message.place.pointer);
    open.push_back(&message);
  }
  const std::vector<JsonLocation> locations = locate(text, pointers);
  for (std::size_t i = 0; i < open.size(); ++i) {
    const TextPosition at = open[i]->place.at_key ? locations[i].key : locations[i].value;
    open[i]->place.line = at.line;
    open[i]->place.column = at.column;
    quote_typed(*open[i], text, locations[i]);
  }
}

}  // namespace zoneproof
