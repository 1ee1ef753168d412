#include "server/route.hpp"

#include "server/service.hpp"

namespace zoneproof::server {

namespace {

constexpr std::size_t kNoBody = 0;
constexpr std::size_t kSmall = std::size_t{16} << 10U;
constexpr std::size_t kQuestion = std::size_t{1} << 20U;  // with a costs file inside
constexpr std::size_t kEdit = std::size_t{8} << 20U;
constexpr std::size_t kSite = std::size_t{64} << 20U;  // as much as is read (base/json_text.hpp)
constexpr std::size_t kFile = std::size_t{32} << 20U;

std::vector<std::string_view> segments(std::string_view pattern) {
  std::vector<std::string_view> parts;
  while (!pattern.empty()) {
    pattern.remove_prefix(1);
    const std::size_t end = std::min(pattern.find('/'), pattern.size());
    parts.push_back(pattern.substr(0, end));
    pattern.remove_prefix(end);
  }
  return parts;
}

bool matches(const char* pattern, const std::vector<std::string>& path, std::vector<std::string>& captured) {
  const auto parts = segments(pattern);
  if (parts.size() != path.size()) return false;
  captured.clear();
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].front() == '{')
      captured.push_back(path[i]);
    else if (parts[i] != path[i])
      return false;
  }
  return true;
}

}  // namespace

const std::vector<Route>& routes() {
  using A = Access;
  using L = LaneOf;
  using B = BodyOf;
  using S = Service;
  static const std::vector<Route> table = {
      {"GET", "/api/health", A::anybody, L::shortly, B::nothing, kNoBody, false, &S::health},
      {"GET", "/metrics", A::on_this_machine, L::shortly, B::nothing, kNoBody, false, &S::metrics},
      {"GET", "/api/authority", A::anybody, L::shortly, B::nothing, kNoBody, false, &S::authority},
      {"GET", "/trust", A::anybody, L::shortly, B::nothing, kNoBody, false, &S::trust},
      {"GET", "/api/visit", A::anybody, L::shortly, B::nothing, kNoBody, false, &S::visit},
      {"POST", "/api/visit", A::anybody, L::doors, B::json, kSmall, true, &S::log_in},
      {"DELETE", "/api/visit", A::anybody, L::shortly, B::nothing, kNoBody, true, &S::log_out},
      {"GET", "/api/people", A::reader, L::shortly, B::nothing, kNoBody, false, &S::people},
      {"POST", "/api/people", A::designer, L::doors, B::json, kSmall, true, &S::add_person},
      {"PATCH", "/api/people/{name}", A::reader, L::doors, B::json, kSmall, true, &S::change_person},
      {"DELETE", "/api/people/{name}", A::designer, L::shortly, B::nothing, kNoBody, true, &S::remove_person},
      {"GET", "/api/sites", A::reader, L::shortly, B::nothing, kNoBody, false, &S::sites},
      {"POST", "/api/sites", A::designer, L::computing, B::json, kSite, true, &S::make_site},
      {"GET", "/api/sites/{id}", A::reader, L::shortly, B::nothing, kNoBody, false, &S::site},
      {"POST", "/api/sites/{id}/edits", A::technician, L::shortly, B::json, kEdit, true, &S::edit},
      {"GET", "/api/sites/{id}/revisions", A::reader, L::shortly, B::nothing, kNoBody, false, &S::revisions},
      {"GET", "/api/sites/{id}/revisions/{number}", A::reader, L::computing, B::nothing, kNoBody, false, &S::revision},
      {"POST", "/api/sites/{id}/ask", A::reader, L::computing, B::json, kQuestion, true, &S::ask},
      {"POST", "/api/sites/{id}/trial", A::reader, L::computing, B::json, kEdit, true, &S::trial},
      {"GET", "/api/sites/{id}/drawings/{drawing}", A::reader, L::computing, B::nothing, kNoBody, false, &S::drawing},
      {"POST", "/api/sites/{id}/handover", A::reader, L::shortly, B::json, kQuestion, true, &S::begin_handover},
      {"GET", "/api/sites/{id}/live", A::reader, L::shortly, B::nothing, kNoBody, false, &S::live},
      {"GET", "/api/work/{number}", A::reader, L::shortly, B::nothing, kNoBody, false, &S::work},
      {"DELETE", "/api/work/{number}", A::reader, L::shortly, B::nothing, kNoBody, true, &S::stop_work},
      {"GET", "/api/work/{number}/files/{name}", A::reader, L::shortly, B::nothing, kNoBody, false, &S::work_file},
      {"POST", "/api/files", A::technician, L::shortly, B::bytes, kFile, true, &S::keep_file},
      {"GET", "/api/files/{sha256}", A::reader, L::shortly, B::nothing, kNoBody, false, &S::file},
      {"GET", "/api/schema", A::reader, L::shortly, B::nothing, kNoBody, false, &S::schema},
      {"GET", "/api/parts", A::reader, L::shortly, B::nothing, kNoBody, false, &S::parts},
      {"GET", "/api/rules", A::reader, L::shortly, B::nothing, kNoBody, false, &S::rules},
  };
  return table;
}

Routed route_of(const Request& request, const Target& target) {
  Routed routed;
  const std::string method = request.method == "HEAD" ? "GET" : request.method;
  std::vector<std::string> captured;
  for (const Route& route : routes()) {
    if (!matches(route.pattern, target.path, captured)) continue;
    routed.methods.emplace_back(route.method);
    if (route.method != method) continue;
    routed.route = &route;
    routed.captured = captured;
  }
  return routed;
}

}  // namespace zoneproof::server
