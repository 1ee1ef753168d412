#include <array>

#include "book/forms.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

constexpr std::array<std::string_view, 3> kRoles = {"reader", "technician", "designer"};
constexpr std::size_t kLongestHash = 500;

/// SOCI binds what it can refer to.
std::string role_text(const Person& person) { return std::string(word_of(person.role)); }

std::vector<Person> person_rows(Store& store, const std::string& name) {
  Person row;
  std::string role;
  soci::statement statement(store.sql());
  if (!name.empty()) statement.exchange(soci::use(name));
  statement.exchange(soci::into(row.name));
  statement.exchange(soci::into(role));
  statement.exchange(soci::into(row.password));
  statement.alloc();
  statement.prepare(std::string("SELECT name, role, password FROM people ") +
                    (name.empty() ? "ORDER BY name" : "WHERE name = :n"));
  statement.define_and_bind();
  statement.execute();
  std::vector<Person> rows;
  while (statement.fetch()) {
    row.role = role_of(role).value_or(Role::reader);  // the table holds no other word than these
    rows.push_back(row);
  }
  return rows;
}

std::vector<Message> problems_of(const Person& person) {
  return Forms().person("name", person.name).text("password", person.password, kLongestHash).problems();
}

void forget_logins(Store& store, const std::string& person) {
  store.sql() << "DELETE FROM logins WHERE person = :p", soci::use(person);
}

}  // namespace

std::string_view word_of(Role role) { return kRoles[static_cast<std::size_t>(role)]; }

std::optional<Role> role_of(std::string_view word) {
  for (std::size_t i = 0; i < kRoles.size(); ++i) {
    if (kRoles[i] == word) return static_cast<Role>(i);
  }
  return std::nullopt;
}

Answered<std::vector<Person>> Book::people() {
  using Answer = std::vector<Person>;
  return inside_->in_turn<Answer>([](Store& store) -> Answered<Answer> { return {person_rows(store, ""), {}}; });
}

Answered<std::optional<Person>> Book::person(const std::string& name) {
  using Answer = std::optional<Person>;
  if (!Forms().person("name", name).good()) return {std::make_optional(Answer()), {}};
  return inside_->in_turn<Answer>([&](Store& store) -> Answered<Answer> {
    const std::vector<Person> rows = person_rows(store, name);
    return {std::make_optional(rows.empty() ? Answer() : Answer(rows.front())), {}};
  });
}

Answered<Person> Book::add_person(const Person& person) {
  if (auto problems = problems_of(person); !problems.empty()) return refused<Person>(std::move(problems));
  return inside_->in_turn<Person>([&](Store& store) -> Answered<Person> {
    const std::string role = role_text(person);
    Writing writing(store);
    if (!person_rows(store, person.name).empty()) return refused<Person>(say::book_person_taken(person.name));
    store.sql() << "INSERT INTO people (name, role, password) VALUES (:n, :r, :p)", soci::use(person.name),
        soci::use(role), soci::use(person.password);
    writing.commit();
    return {person, {}};
  });
}

Answered<Person> Book::change_person(const Person& person) {
  if (auto problems = problems_of(person); !problems.empty()) return refused<Person>(std::move(problems));
  return inside_->in_turn<Person>([&](Store& store) -> Answered<Person> {
    const std::string role = role_text(person);
    Writing writing(store);
    if (person_rows(store, person.name).empty()) return refused<Person>(say::book_no_person(person.name));
    store.sql() << "UPDATE people SET role = :r, password = :p WHERE name = :n", soci::use(role),
        soci::use(person.password), soci::use(person.name);
    forget_logins(store, person.name);
    writing.commit();
    return {person, {}};
  });
}

Answered<bool> Book::remove_person(const std::string& name) {
  if (!Forms().person("name", name).good()) return {false, {}};
  return inside_->in_turn<bool>([&](Store& store) -> Answered<bool> {
    Writing writing(store);
    const bool there = !person_rows(store, name).empty();
    forget_logins(store, name);
    store.sql() << "DELETE FROM people WHERE name = :n", soci::use(name);
    writing.commit();
    return {there, {}};
  });
}

}  // namespace zoneproof::book
