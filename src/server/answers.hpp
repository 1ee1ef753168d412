#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "server/http.hpp"

/// Responses as the interface has them (data/api/openapi.json): JSON, or the messages of the house.
namespace zoneproof::server {

/// JSON that no cache keeps.
Response json_response(const nlohmann::ordered_json& json, int status = 200);
/// The same of a text that is JSON already.
Response json_text_response(std::string text, int status = 200);
Response text_response(std::string text, const char* type, int status = 200);
Response empty_response(int status = 204);

/// {"problems": [...]} in the spoken language, with the HTTP status of the first error among them, or `status`.
Response problem_response(const std::vector<Message>& problems, int status = 0);
Response problem_response(const Message& problem, int status = 0);

}  // namespace zoneproof::server
