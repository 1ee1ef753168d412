#pragma once
#include <chrono>
#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/language.hpp"
#include "server/http.hpp"
#include "server/target.hpp"
#include "server/visits.hpp"

/// The interface's table: which request does what, who may ask it, how large it may be.
namespace zoneproof::server {

class Service;
struct Call;

/// Who may ask. Each may do what stands before it.
enum class Access { anybody, on_this_machine, reader, technician, designer };

/// Which lane answers (service.hpp). `shortly` is for what takes milliseconds; what computes is `computing`.
enum class LaneOf { shortly, doors, computing };

/// What the body of a request is.
enum class BodyOf { nothing, json, bytes };

struct Route {
  const char* method;
  const char* pattern;  ///< "/api/sites/{id}/edits"
  Access access;
  LaneOf lane;
  BodyOf body;
  std::size_t body_limit;
  bool changes;  ///< wants the token against cross-site requests
  std::optional<Response> (Service::*answer)(Call&);
};

/// One request on its way.
struct Call {
  Request request;
  std::shared_ptr<Reply> reply;
  Target target;
  Language language = Language::english;
  const Route* route = nullptr;
  std::vector<std::string> captured;  ///< what stands for the pattern's {names}
  Visitor visitor;
  std::chrono::steady_clock::time_point begun = std::chrono::steady_clock::now();
};

const std::vector<Route>& routes();

struct Routed {
  const Route* route = nullptr;  ///< null: none of that method
  std::vector<std::string> captured;
  std::vector<std::string> methods;  ///< that the path has; empty: there is no such path
};
/// HEAD is GET.
Routed route_of(const Request& request, const Target& target);

}  // namespace zoneproof::server
