#include "server/body.hpp"

#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "messages/server.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

constexpr const char* kRequest = "request";  // what messages call it

Place at(const std::string& pointer) { return {kRequest, pointer, 0, 0, false}; }

}  // namespace

Body::Body(std::string_view text) {
  Json json = parse_json(text, kRequest, problems_);
  if (any_error(problems_)) return;
  problems_.clear();
  if (json.is_object())
    object_ = std::move(json);
  else
    problems_.push_back(say::server_body_no_object().at(at("")));
}

const Json* Body::member(const char* key) {
  known_.insert(key);
  const auto found = object_.find(key);
  return found == object_.end() || found->is_null() ? nullptr : &*found;
}

void Body::complain(const char* key, const char* wanted) {
  problems_.push_back(say::server_member_wanted(key, wanted).at(at(pointer_child("", key))));
}

std::string Body::text(const char* key) {
  const Json* value = member(key);
  if (value != nullptr && value->is_string()) return *value;
  complain(key, "string");
  return {};
}

std::string Body::text_or(const char* key, const std::string& other) {
  const Json* value = member(key);
  if (value == nullptr) return other;
  if (value->is_string()) return *value;
  complain(key, "string");
  return {};
}

std::optional<long long> Body::count(const char* key) {
  const Json* value = member(key);
  if (value == nullptr) return std::nullopt;
  if (value->is_number_integer()) return value->get<long long>();
  complain(key, "integer");
  return std::nullopt;
}

Json Body::object(const char* key) {
  const Json* value = member(key);
  if (value != nullptr && value->is_object()) return *value;
  complain(key, "object");
  return Json::object();
}

Json Body::list(const char* key) {
  const Json* value = member(key);
  if (value != nullptr && value->is_array()) return *value;
  complain(key, "array");
  return Json::array();
}

std::vector<Message> Body::problems() {
  for (const auto& entry : object_.items())
    if (known_.count(entry.key()) == 0)
      problems_.push_back(say::server_member_unknown(entry.key()).at(at(pointer_child("", entry.key()))));
  return problems_;
}

}  // namespace zoneproof::server
