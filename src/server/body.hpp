#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"

namespace zoneproof::server {

/// The JSON object that a request brings, read member by member. What is missing, of another kind or not known is told
/// at the end, all of it at once.
class Body {
 public:
  explicit Body(std::string_view text);

  bool has(const char* key) const { return object_.contains(key) && !object_.at(key).is_null(); }
  std::string text(const char* key);                               ///< must be there
  std::string text_or(const char* key, const std::string& other);  ///< may be left out, or null
  std::optional<long long> count(const char* key);
  nlohmann::ordered_json object(const char* key);
  nlohmann::ordered_json list(const char* key);

  /// What is wrong, with members that nobody asked for; empty where all is well. After the last member was read.
  std::vector<Message> problems();

 private:
  const nlohmann::ordered_json* member(const char* key);
  void complain(const char* key, const char* wanted);

  nlohmann::ordered_json object_ = nlohmann::ordered_json::object();
  std::set<std::string> known_;
  std::vector<Message> problems_;
};

}  // namespace zoneproof::server
