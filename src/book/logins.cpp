#include "book/forms.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

bool person_there(Store& store, const std::string& name) {
  int count = 0;
  store.sql() << "SELECT COUNT(*) FROM people WHERE name = :n", soci::use(name), soci::into(count);
  return count > 0;
}

}  // namespace

Answered<Login> Book::keep_login(const Login& login) {
  Forms forms;
  forms.sha256(login.token_sha256).person("person", login.person).time("since", login.since).time("until", login.until);
  if (!forms.good()) return refused<Login>(forms.problems());
  return inside_->in_turn<Login>([&](Store& store) -> Answered<Login> {
    Writing writing(store);
    if (!person_there(store, login.person)) return refused<Login>(say::book_no_person(login.person));
    soci::session& sql = store.sql();
    sql << "DELETE FROM logins WHERE ends_at <= :now OR token_sha256 = :t", soci::use(login.since),
        soci::use(login.token_sha256);
    sql << "INSERT INTO logins (token_sha256, person, begun_at, ends_at) VALUES (:t, :p, :s, :u)",
        soci::use(login.token_sha256), soci::use(login.person), soci::use(login.since), soci::use(login.until);
    writing.commit();
    return {login, {}};
  });
}

Answered<std::optional<Login>> Book::login(const std::string& token_sha256, const std::string& now) {
  using Answer = std::optional<Login>;
  const Forms forms = Forms().sha256(token_sha256).time("now", now);
  if (!forms.good()) return refused<Answer>(forms.problems());
  return inside_->in_turn<Answer>([&](Store& store) -> Answered<Answer> {
    Login found;
    found.token_sha256 = token_sha256;
    soci::session& sql = store.sql();
    sql << "SELECT person, begun_at, ends_at FROM logins WHERE token_sha256 = :t AND ends_at > :now",
        soci::use(token_sha256), soci::use(now), soci::into(found.person), soci::into(found.since),
        soci::into(found.until);
    return {std::make_optional(sql.got_data() ? Answer(found) : Answer()), {}};
  });
}

Answered<bool> Book::end_login(const std::string& token_sha256) {
  if (!is_sha256(token_sha256)) return {false, {}};
  return inside_->in_turn<bool>([&](Store& store) -> Answered<bool> {
    Writing writing(store);
    int there = 0;
    store.sql() << "SELECT COUNT(*) FROM logins WHERE token_sha256 = :t", soci::use(token_sha256), soci::into(there);
    store.sql() << "DELETE FROM logins WHERE token_sha256 = :t", soci::use(token_sha256);
    writing.commit();
    return {there > 0, {}};
  });
}

}  // namespace zoneproof::book
