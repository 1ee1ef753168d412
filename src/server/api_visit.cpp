// Who is there: visits and people.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "messages/server.hpp"
#include "server/answers.hpp"
#include "server/body.hpp"
#include "server/secrets.hpp"
#include "server/service.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

Json json_of(const book::Person& person) {
  return {{"name", person.name}, {"role", std::string(book::word_of(person.role))}};
}

std::optional<book::Role> role_in(Body& body, const char* key, std::vector<Message>& problems) {
  const std::string word = body.text(key);
  const auto role = book::role_of(word);
  if (!role) problems.push_back(say::server_no_such_role(word, role_words()));
  return role;
}

void append(std::vector<Message>& to, std::vector<Message> more) {
  to.insert(to.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

Response Service::visit_response(const Visitor& visitor, bool secure) const {
  Response response =
      json_response({{"login_needed", visitor.login_needed && !visitor.role},
                     {"people", visitor.login_needed},
                     {"name", visitor.name.empty() ? Json(nullptr) : Json(visitor.name)},
                     {"role", visitor.role ? Json(std::string(book::word_of(*visitor.role))) : Json(nullptr)},
                     {"book", visits_.book_id()},
                     {"token", visits_.token_of(visitor)}});
  if (visitor.new_cookie) response.headers.push_back(visits_.cookie_header(visitor, secure));
  return response;
}

Service::Answer Service::visit(Call& call) { return visit_response(call.visitor, call.request.secure); }

Service::Answer Service::log_in(Call& call) {
  Body body(call.request.body);
  const std::string name = body.text("name"), password = body.text("password");
  if (const auto problems = body.problems(); !problems.empty()) return problem_response(problems);
  Visits::LoggedIn result = visits_.log_in(name, password, call.request);
  if (result.visitor) return visit_response(*result.visitor, call.request.secure);
  Response response = problem_response(result.problems);
  if (result.wait.count() > 0) response.with("Retry-After", std::to_string(result.wait.count()));
  return response;
}

Service::Answer Service::log_out(Call& call) {
  auto left = visits_.log_out(call.visitor);
  if (!left.answer) return problem_response(left.problems);
  if (!call.visitor.login.empty()) live_.end_of_login(call.visitor.login);
  Response response = empty_response();
  response.headers.push_back(visits_.cookie_header(*left.answer, call.request.secure));
  return response;
}

Service::Answer Service::people(Call&) {
  const auto people = book_.people();
  if (!people.answer) return problem_response(people.problems);
  Json list = Json::array();
  for (const book::Person& person : *people.answer) list.push_back(json_of(person));
  return json_response({{"people", std::move(list)}});
}

Service::Answer Service::add_person(Call& call) {
  const std::lock_guard in_turn(people_turn_);
  Body body(call.request.body);
  std::vector<Message> problems;
  const std::string name = body.text("name"), password = body.text("password");
  const auto role = role_in(body, "role", problems);
  append(problems, body.problems());
  if (problems.empty()) {
    append(problems, person_problems(name));
    append(problems, password_problems(password));
    const auto people = book_.people();
    if (!people.answer) return problem_response(people.problems);
    // Else nobody could ever add another.
    if (people.answer->empty() && role != book::Role::designer) problems.push_back(say::server_first_is_designer());
  }
  if (!problems.empty()) return problem_response(problems);
  const auto added = book_.add_person({name, *role, hash_of_password(password)});
  if (!added.answer) return problem_response(added.problems);
  return json_response(json_of(*added.answer), 201);
}

/// A person without whom nobody could add or change people any more.
std::vector<Message> Service::last_designer_problem(const std::string& name) {
  const auto people = book_.people();
  if (!people.answer) return people.problems;
  const bool another = std::any_of(people.answer->begin(), people.answer->end(), [&](const book::Person& person) {
    return person.role == book::Role::designer && person.name != name;
  });
  if (another) return {};
  return {say::server_last_designer(name)};
}

/// A designer changes anybody's role and password; anybody else their own password, with the old one.
Service::Answer Service::change_person(Call& call) {
  const std::lock_guard in_turn(people_turn_);
  const std::string& name = call.captured.at(0);
  const auto found = book_.person(name);
  if (!found.answer) return problem_response(found.problems);
  Body body(call.request.body);
  std::vector<Message> problems;
  const bool designer = call.visitor.role == book::Role::designer;
  const bool own = name == call.visitor.name;
  const std::string password = body.text_or("password", ""), old = body.text_or("old_password", "");
  std::optional<book::Role> role;
  if (body.has("role")) role = role_in(body, "role", problems);
  append(problems, body.problems());
  if (!problems.empty()) return problem_response(problems);
  if (!designer && (!own || role))
    return problem_response(say::server_role_needed(std::string(book::word_of(book::Role::designer)),
                                                    std::string(book::word_of(*call.visitor.role))));
  if (!*found.answer) return problem_response(say::server_no_such_person(name));
  book::Person person = **found.answer;
  const bool new_password = body.has("password");
  if (own && new_password && !password_fits(old, person.password)) return problem_response(say::server_login_wrong());
  if (role && *role != book::Role::designer && person.role == book::Role::designer)
    append(problems, last_designer_problem(name));
  if (new_password) append(problems, password_problems(password));
  if (!problems.empty()) return problem_response(problems);
  if (!new_password && (!role || *role == person.role)) return json_response(json_of(person));
  if (role) person.role = *role;
  if (new_password) person.password = hash_of_password(password);
  const auto changed = book_.change_person(person);
  if (!changed.answer) return problem_response(changed.problems);
  live_.end_of_person(name);
  return json_response(json_of(*changed.answer));
}

Service::Answer Service::remove_person(Call& call) {
  const std::lock_guard in_turn(people_turn_);
  const std::string& name = call.captured.at(0);
  const auto found = book_.person(name);
  if (!found.answer) return problem_response(found.problems);
  if (!*found.answer) return problem_response(say::server_no_such_person(name));
  if ((*found.answer)->role == book::Role::designer)
    if (const auto problems = last_designer_problem(name); !problems.empty()) return problem_response(problems);
  const auto removed = book_.remove_person(name);
  if (!removed.answer) return problem_response(removed.problems);
  live_.end_of_person(name);
  return empty_response();
}

}  // namespace zoneproof::server
