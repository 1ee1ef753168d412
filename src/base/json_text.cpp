#include "base/json_text.hpp"

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

#include "base/json_fault.hpp"
#include "base/json_harmless.hpp"
#include "base/json_place.hpp"
#include "base/json_pointer.hpp"
#include "messages/base.hpp"

namespace zoneproof {

namespace {

using Json = nlohmann::ordered_json;

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

/// Feeds the parser and lets the handler see how far it has read: the library does not tell a handler where it is.
class Feed {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  Feed(const char* at, const char** reached) : at_(at), reached_(reached) {}
  reference operator*() const { return *at_; }
  Feed& operator++() {
    *reached_ = ++at_;
    return *this;
  }
  Feed operator++(int) {
    Feed before = *this;
    ++*this;
    return before;
  }
  bool operator==(const Feed& other) const { return at_ == other.at_; }
  bool operator!=(const Feed& other) const { return at_ != other.at_; }

 private:
  const char* at_;
  const char** reached_;
};

/// An object or list that is being read. Members are gathered here and moved into the value when it closes: the
/// library's ordered map would search all keys at each insertion and copy all members when it grows.
struct Open {
  bool object;
  std::size_t offset;
  std::string key;  ///< of the member whose value is read now
  bool at_value = false;
  std::vector<std::pair<std::string, Json>> entries;
  std::vector<std::size_t> key_offsets;
};

enum class Last { nothing, opened, key, value };

class Handler {
 public:
  Handler(std::string_view text, std::vector<JsonFault>& findings)
      : text_(text), findings_(findings), reached_(text.data()) {}

  Feed begin() { return {text_.data(), &reached_}; }
  Feed end() { return {text_.data() + text_.size(), &reached_}; }
  Json take_root() { return std::move(root_); }

  // The library's SAX interface; false ends the parse.
  bool null() { return put(nullptr); }
  bool boolean(bool value) { return put(value); }
  bool number_integer(std::int64_t value) { return number(value); }
  bool number_unsigned(std::uint64_t value) { return number(value); }
  bool number_float(double value, const std::string&) { return number(value); }
  bool string(std::string& value) { return put(std::move(value)); }
  bool binary(Json::binary_t&) { return false; }
  bool start_object(std::size_t) { return open(true); }
  bool start_array(std::size_t) { return open(false); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool key(std::string& value) {
    Open& object = open_.back();
    object.key_offsets.push_back(next_token());
    object.key = std::move(value);
    object.at_value = true;
    return reach(Last::key);
  }

  bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) {
    JsonStop stop;
    stop.expects = expected();
    stop.token = next_token();
    stopped_ = offset();
    if (!open_.empty()) {
      const auto lines =
          std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(open_.back().offset), '\n');
      stop.opened_line = static_cast<std::size_t>(lines) + 1;
    }
    syntax_ = stop;
    broken_ = true;
    return false;
  }

  /// What can only be said when the parse has ended: the fault that ended it, and duplicates in what stayed open.
  void finish(std::string_view original) {
    for (std::size_t level = open_.size(); level > 0; --level) find_duplicates(open_[level - 1], level - 1);
    if (!broken_) return;
    JsonFault fault = describe_fault(original, syntax_);
    // Behind the first place that is no JSON nothing can be told apart, texts from what stands between them.
    const bool in_text = syntax_.token < original.size() && original[syntax_.token] == '"';
    const std::size_t end = in_text ? std::max(syntax_.token, stopped_) : syntax_.token;
    findings_.erase(std::remove_if(findings_.begin(), findings_.end(),
                                   [&](const JsonFault& finding) { return finding.offset >= end; }),
                    findings_.end());
    fault.message.place.pointer = pointer(open_.size());
    findings_.push_back({fault.offset, std::move(fault.message)});
  }

 private:
  std::size_t offset() const { return static_cast<std::size_t>(reached_ - text_.data()); }

  bool reach(Last last) {
    last_ = last;
    last_end_ = offset();
    return true;
  }

  bool number(Json value) {
    put(std::move(value));
    // The parser has looked at the character behind the number, unless the text ends there.
    while (text_[last_end_ - 1] < '0' || text_[last_end_ - 1] > '9') --last_end_;
    return true;
  }

  bool put(Json value) {
    if (open_.empty()) {
      root_ = std::move(value);
    } else {
      Open& parent = open_.back();
      parent.entries.emplace_back(std::move(parent.key), std::move(value));
      parent.key.clear();
      parent.at_value = !parent.object;
    }
    return reach(Last::value);
  }

  bool open(bool object) {
    if (open_.size() == kDeepestJson) {
      Message message = say::json_too_deep(static_cast<long long>(kDeepestJson));
      message.place.pointer = pointer(open_.size());
      findings_.push_back({offset() - 1, std::move(message)});
      return false;
    }
    open_.push_back({object, offset() - 1, {}, !object, {}, {}});
    return reach(Last::opened);
  }

  bool close() {
    Open closed = std::move(open_.back());
    open_.pop_back();
    find_duplicates(closed, open_.size());
    return put(closed.object ? object_of(closed) : list_of(closed));
  }

  static Json object_of(Open& closed) {
    Json object = Json::object();
    std::vector<Json::object_t::value_type>& members = object.get_ref<Json::object_t&>();
    members.reserve(closed.entries.size());
    for (auto& [key, value] : closed.entries) members.emplace_back(std::move(key), std::move(value));
    return object;
  }

  static Json list_of(Open& closed) {
    Json list = Json::array();
    Json::array_t& items = list.get_ref<Json::array_t&>();
    items.reserve(closed.entries.size());
    for (auto& entry : closed.entries) items.push_back(std::move(entry.second));
    return list;
  }

  /// The pointer of what is read inside the first `levels` open objects and lists.
  std::string pointer(std::size_t levels) const {
    std::string out;
    for (std::size_t i = 0; i < levels && open_[i].at_value; ++i) {
      out = open_[i].object ? pointer_child(out, open_[i].key) : pointer_child(out, open_[i].entries.size());
    }
    return out;
  }

  /// `levels`: how many open objects and lists the object is inside of.
  void find_duplicates(const Open& object, std::size_t levels) {
    if (!object.object || all_differ(object.entries)) return;
    std::vector<std::pair<std::string_view, std::size_t>> keys;
    for (std::size_t i = 0; i < object.entries.size(); ++i) {
      keys.emplace_back(object.entries[i].first, object.key_offsets[i]);
    }
    std::sort(keys.begin(), keys.end());
    for (std::size_t i = 1; i < keys.size(); ++i) {
      if (keys[i].first != keys[i - 1].first) continue;
      Message message = say::json_duplicate_key(std::string(keys[i].first));
      message.place.pointer = pointer_child(pointer(levels), keys[i].first);
      findings_.push_back({keys[i].second, std::move(message)});
    }
  }

  /// The usual case, a handful of keys, without the cost of sorting; false where it is not known.
  static bool all_differ(const std::vector<std::pair<std::string, Json>>& entries) {
    constexpr std::size_t kHandful = 12;
    if (entries.size() > kHandful) return false;
    for (std::size_t i = 1; i < entries.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (entries[i].first == entries[j].first) return false;
      }
    }
    return true;
  }

  std::size_t behind_space(std::size_t at) const {
    while (at < text_.size() && is_space(text_[at])) ++at;
    return at;
  }

  /// Whether the character behind the last token is the comma or colon that belongs there.
  bool separated() const {
    const std::size_t at = behind_space(last_end_);
    if (open_.empty() || at == text_.size()) return false;
    return (text_[at] == ':' && last_ == Last::key) || (text_[at] == ',' && last_ == Last::value);
  }

  std::size_t next_token() const {
    const std::size_t at = behind_space(last_end_);
    return separated() ? behind_space(at + 1) : at;
  }

  JsonExpects expected() const {
    if (open_.empty()) return last_ == Last::nothing ? JsonExpects::value : JsonExpects::end;
    const bool object = open_.back().object;
    if (last_ == Last::key) return separated() ? JsonExpects::value : JsonExpects::colon;
    if (last_ == Last::opened) return object ? JsonExpects::key_or_end : JsonExpects::item_or_end;
    if (object) return separated() ? JsonExpects::key : JsonExpects::comma_in_object;
    return separated() ? JsonExpects::item : JsonExpects::comma_in_list;
  }

  std::string_view text_;
  std::vector<JsonFault>& findings_;
  const char* reached_;
  Json root_;
  std::vector<Open> open_;
  Last last_ = Last::nothing;
  std::size_t last_end_ = 0;
  bool broken_ = false;
  std::size_t stopped_ = 0;  ///< offset behind the last character the parser read
  JsonStop syntax_;
};

/// Findings in the order of the text, with their places, no more than a person can use.
void report(std::vector<JsonFault> findings, std::string_view text, const std::string& file,
            std::vector<Message>& messages) {
  std::stable_sort(findings.begin(), findings.end(),
                   [](const JsonFault& a, const JsonFault& b) { return a.offset < b.offset; });
  TextWalk walk(text);
  for (std::size_t i = 0; i < std::min(findings.size(), kMostJsonFaults); ++i) {
    Place& place = findings[i].message.place;
    const TextPosition position = walk.to(findings[i].offset);
    place.file = file;
    place.line = position.line;
    place.column = position.column;
    messages.push_back(std::move(findings[i].message));
  }
  if (findings.size() <= kMostJsonFaults) return;
  const auto left = static_cast<long long>(findings.size() - kMostJsonFaults);
  messages.push_back(say::json_more_faults(left).at({file, "", 0, 0}));
}

bool starts_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

/// Faults of the text as a whole, for which nothing needs to be read.
std::optional<Message> refused_as_a_whole(std::string_view text) {
  if (text.size() > kLargestJsonText) {
    return say::json_too_large(static_cast<long long>(text.size()), static_cast<long long>(kLargestJsonText));
  }
  if (starts_with(text, "\xFF\xFE") || starts_with(text, "\xFE\xFF")) return say::json_utf16();
  if (std::all_of(text.begin(), text.end(), is_space)) return say::json_empty();
  return std::nullopt;
}

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

}  // namespace

Json parse_json(std::string_view text, const std::string& file, std::vector<Message>& messages) {
  if (starts_with(text, kByteOrderMark)) {
    text.remove_prefix(kByteOrderMark.size());
    messages.push_back(say::json_byte_order_mark().at({file, "", 1, 1}));
  }
  if (std::optional<Message> refused = refused_as_a_whole(text)) {
    messages.push_back(std::move(*refused).at({file, "", 0, 0}));
    return nullptr;
  }
  std::vector<JsonFault> findings;
  const HarmlessText harmless(text, findings);
  Handler handler(harmless.text(), findings);
  const bool read = Json::sax_parse(handler.begin(), handler.end(), &handler);
  handler.finish(text);
  if (read && findings.empty()) return handler.take_root();
  report(std::move(findings), text, file, messages);
  return nullptr;
}

}  // namespace zoneproof
