#include "server/answers.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "results/results.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

constexpr int kOwnFault = 500;

int status_of(const std::vector<Message>& problems) {
  const auto error = std::find_if(problems.begin(), problems.end(), [](const Message& problem) {
    return kind_of(problem.code).severity == Severity::error;
  });
  return error == problems.end() ? kOwnFault : kind_of(error->code).http_status;
}

}  // namespace

Response text_response(std::string text, const char* type, int status) {
  Response response;
  response.status = status;
  response.with("Content-Type", type).with("Cache-Control", "no-store");
  response.own(std::move(text));
  return response;
}

Response json_text_response(std::string text, int status) {
  return text_response(std::move(text), "application/json; charset=utf-8", status);
}

Response json_response(const Json& json, int status) { return json_text_response(json.dump(2) + "\n", status); }

Response empty_response(int status) {
  Response response;
  response.status = status;
  response.with("Cache-Control", "no-store");
  return response;
}

Response problem_response(const std::vector<Message>& problems, int status) {
  return json_response({{"problems", results::json_of(problems)}}, status == 0 ? status_of(problems) : status);
}

Response problem_response(const Message& problem, int status) {
  return problem_response(std::vector<Message>{problem}, status);
}

}  // namespace zoneproof::server
