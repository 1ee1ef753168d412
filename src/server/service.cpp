#include "server/service.hpp"

#include <algorithm>
#include <thread>

#include "messages/results.hpp"
#include "messages/server.hpp"
#include "server/answers.hpp"

namespace zoneproof::server {

namespace {

constexpr int kShortThreads = 3;  // edits and whatever takes milliseconds
constexpr std::size_t kShortWaiting = 512;
constexpr std::size_t kAtTheDoor = 16;  // each takes 64 MB and some tenth of a second
constexpr std::size_t kLongWaiting = 64;
constexpr std::size_t kNoBody = 1024;  // of a request that has none to bring: what it brings is read and dropped

int computing_threads() { return std::max(2, static_cast<int>(std::thread::hardware_concurrency())); }

bool is_of_interface(const Target& target) { return target.path.front() == "api"; }

bool may(const Visitor& visitor, Access access) {
  switch (access) {
    case Access::anybody:
    case Access::on_this_machine: return true;
    case Access::reader: return visitor.role.has_value();
    case Access::technician: return visitor.role && *visitor.role != book::Role::reader;
    case Access::designer: return visitor.role == book::Role::designer;
  }
  return false;
}

std::string word_of(Access access) {
  switch (access) {
    case Access::technician: return std::string(book::word_of(book::Role::technician));
    case Access::designer: return std::string(book::word_of(book::Role::designer));
    default: return std::string(book::word_of(book::Role::reader));
  }
}

bool is_json(std::string_view type) { return type.substr(0, type.find(';')) == "application/json"; }

/// "GET, POST" of a path that is there.
std::string joined(const std::vector<std::string>& methods) {
  std::string all;
  for (const std::string& method : methods) all += (all.empty() ? "" : ", ") + method;
  return all;
}

}  // namespace

Service::Service(book::Book& book, ServiceSettings settings)
    : book_(book),
      settings_(std::move(settings)),
      page_(settings_.page_folder),
      visits_(book, settings_.key, settings_.cookie),
      open_sites_(book),
      works_([this](const std::string& site, const nlohmann::ordered_json& state) { live_.tell(site, "work", state); }),
      short_(kShortThreads, kShortWaiting),
      doors_(1, kAtTheDoor),
      long_(computing_threads(), kLongWaiting) {}

Service::~Service() { close(); }

void Service::stop_taking() {
  stopping_ = true;
  live_.end_all();
  works_.stop_all();
}

void Service::close() {
  stopping_ = true;
  works_.close();
  long_.close();
  doors_.close();
  short_.close();
}

std::size_t Service::body_limit(const Request& head) const {
  const auto target = read_target(head.target);
  if (!target) return kNoBody;
  // What the head alone decides: nobody sends megabytes first to be refused afterwards.
  const bool refused = host_problem(head, settings_.names) || not_over_plain(head, *target) ||
                       (is_of_interface(*target) && origin_problem(head));
  if (refused) return kNoBody;
  const Route* route = route_of(head, *target).route;
  return route == nullptr ? kNoBody : std::max(kNoBody, route->body_limit);
}

Response Service::refused(int status, const Request& head) const {
  const SpokenLanguage spoken(language_of(head.header("Accept-Language")));
  Message message = say::server_request_unreadable();
  if (status == 413) message = say::server_too_large(static_cast<long long>(body_limit(head)));
  if (status == 431) message = say::server_head_too_large();
  if (status == 500) message = say::own_fault("");
  if (status == 503) message = head.method.empty() ? say::server_full() : say::server_busy();
  Response response = problem_response(message, status);
  add_security_headers(response);
  return response;
}

void Service::handle(Request request, std::shared_ptr<Reply> reply) {
  auto call = std::make_shared<Call>();
  call->request = std::move(request);
  call->reply = std::move(reply);
  call->language = language_of(call->request.header("Accept-Language"));
  const SpokenLanguage spoken(call->language);
  try {
    begin(call);
  } catch (const std::exception& fault) {
    finish(*call, problem_response(say::own_fault(fault.what())));
  }
}

/// On the network's thread: only what needs neither the book nor time.
void Service::begin(std::shared_ptr<Call> call) {
  const Request& request = call->request;
  auto target = read_target(request.target);
  if (!target) return finish(*call, problem_response(say::server_request_unreadable()));
  call->target = std::move(*target);
  if (auto problem = host_problem(request, settings_.names)) return finish(*call, problem_response(*problem));
  if (auto elsewhere = not_over_plain(request, call->target)) return finish(*call, std::move(*elsewhere));
  Routed routed = route_of(request, call->target);
  if (routed.methods.empty()) return finish(*call, outside_of_interface(*call));
  if (routed.route == nullptr) {
    Response response = problem_response(say::server_no_such_method(request.method, routed.methods));
    return finish(*call, std::move(response).with("Allow", joined(routed.methods)));
  }
  call->route = routed.route;
  call->captured = std::move(routed.captured);
  if (is_of_interface(call->target))
    if (auto problem = origin_problem(request)) return finish(*call, problem_response(*problem));
  if (stopping_) return finish(*call, problem_response(say::server_stopping()).with("Retry-After", "5"));
  if (call->route->body == BodyOf::json && !is_json(request.header("Content-Type")))
    return finish(*call, problem_response(say::server_json_wanted(std::string(request.header("Content-Type")))));
  in_lane(call, &Service::admit, LaneOf::shortly);
}

void Service::in_lane(const std::shared_ptr<Call>& call, void (Service::*next)(const std::shared_ptr<Call>&),
                      LaneOf lane) {
  auto work = [this, call, next] {
    const SpokenLanguage spoken(call->language);
    try {
      (this->*next)(call);
    } catch (const Stopped&) {  // whoever asked has hung up
      finish(*call, problem_response(say::server_stopping()));
    } catch (const std::exception& fault) {
      finish(*call, problem_response(say::own_fault(fault.what())));
    }
  };
  Lane& to = lane == LaneOf::doors ? doors_ : lane == LaneOf::computing ? long_ : short_;
  if (!to.put(std::move(work))) finish(*call, problem_response(say::server_busy()).with("Retry-After", "2"));
}

/// Finds out who is asking, and whether they may.
void Service::admit(const std::shared_ptr<Call>& call) {
  auto visitor = visits_.visitor(call->request);
  if (!visitor.answer) return finish(*call, problem_response(visitor.problems));
  call->visitor = *std::move(visitor.answer);
  if (auto no = not_for_this_visitor(*call)) return finish(*call, std::move(*no));
  if (call->route->lane == LaneOf::shortly) return answer(call);
  in_lane(call, &Service::answer, call->route->lane);
}

std::optional<Response> Service::not_for_this_visitor(const Call& call) const {
  const Route& route = *call.route;
  const Visitor& visitor = call.visitor;
  if (route.access == Access::on_this_machine && !call.request.loopback && !visitor.role)
    return problem_response(say::server_login_needed());
  if (!may(visitor, route.access)) {
    if (!visitor.role) return problem_response(say::server_login_needed());
    return problem_response(say::server_role_needed(word_of(route.access), std::string(book::word_of(*visitor.role))));
  }
  if (route.changes && !visits_.token_fits(visitor, call.request)) return problem_response(say::server_token_wrong());
  return std::nullopt;
}

/// Over the air no password and no site goes unencrypted: what comes plainly from elsewhere is led to TLS. Only what a
/// phone needs before it can trust that is told.
std::optional<Response> Service::not_over_plain(const Request& request, const Target& target) const {
  if (request.secure || request.loopback) return std::nullopt;
  if (request.target == "/trust" || request.target == "/api/authority" || request.target == "/api/health")
    return std::nullopt;
  if (is_of_interface(target) || request.method != "GET") return problem_response(say::server_tls_wanted());
  Response response = empty_response(307);
  return std::move(response).with("Location", "https://" + std::string(request.header("Host")) + request.target);
}

Response Service::outside_of_interface(const Call& call) const {
  const Request& request = call.request;
  if (is_of_interface(call.target)) return problem_response(say::server_no_such_path(request.target));
  if (request.method != "GET" && request.method != "HEAD")
    return problem_response(say::server_no_such_method(request.method, {"GET"})).with("Allow", "GET");
  if (!page_.there()) return problem_response(say::server_page_not_built());
  auto found = page_.find(call.target, request);
  return found ? std::move(*found) : problem_response(say::server_no_such_path(request.target));
}

void Service::answer(const std::shared_ptr<Call>& call) {
  if (call->reply->gone()) return finish(*call, problem_response(say::server_stopping()));
  if (auto response = (this->*call->route->answer)(*call)) finish(*call, std::move(*response));
}

void Service::finish(Call& call, Response response) {
  add_security_headers(response);
  if (call.request.method == "HEAD") response.leave_body_out = true;
  metrics_.answered(call.route != nullptr ? call.route->method : "GET",
                    call.route != nullptr ? call.route->pattern : "other", response.status,
                    std::chrono::steady_clock::now() - call.begun);
  call.reply->send(std::move(response));
}

}  // namespace zoneproof::server
