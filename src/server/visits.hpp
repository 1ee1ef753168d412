#pragma once
#include <chrono>
#include <optional>
#include <string>

#include "book/book.hpp"
#include "server/attempts.hpp"
#include "server/http.hpp"

/// Who is asking. While the book has no people everybody on this machine is a designer, and nobody else gets in; from
/// the first person on everybody logs in.
namespace zoneproof::server {

struct Visitor {
  std::string name;                ///< empty: the book has no people, or nobody is logged in
  std::optional<book::Role> role;  ///< nothing: has to log in
  bool login_needed = false;       ///< the book has people
  std::string cookie;              ///< that the browser holds, or is given with the answer
  bool new_cookie = false;
  std::string login;  ///< SHA-256 of the cookie where somebody is logged in

  /// What the history calls whoever does something.
  std::string who() const;
};

class Visits {
 public:
  /// `key` makes the tokens against cross-site requests; `cookie` is the cookie's name.
  Visits(book::Book& book, std::string key, std::string cookie)
      : book_(book), key_(std::move(key)), cookie_(std::move(cookie)) {}

  /// Whose request it is. Problems where the book cannot be asked.
  results::Answered<Visitor> visitor(const Request& request);

  /// The token that goes with a cookie: a page of somebody else can make a browser send the cookie, and cannot know
  /// this.
  std::string token_of(const Visitor& visitor) const;
  bool token_fits(const Visitor& visitor, const Request& request) const;

  /// Tells this book from others that are served under the same address: what a page has kept of another one must not
  /// be joined into it. The same as long as the book's folder keeps its key; a restored book has another.
  std::string book_id() const;

  /// Logs in under a new cookie, so that one that somebody has foisted on the browser is worth nothing. Slow: Argon2id.
  struct LoggedIn {
    std::optional<Visitor> visitor;
    std::vector<Message> problems;
    std::chrono::seconds wait{0};  ///< before the next try
  };
  LoggedIn log_in(const std::string& name, const std::string& password, const Request& request);
  /// Ends a login; the visitor that is left, with a new cookie.
  results::Answered<Visitor> log_out(const Visitor& visitor);

  /// The header that gives the browser its cookie.
  Header cookie_header(const Visitor& visitor, bool secure) const;

 private:
  results::Answered<Visitor> nobody();

  book::Book& book_;
  const std::string key_;
  const std::string cookie_;
  Attempts attempts_;
};

/// Why a name or password cannot be taken; empty where it can.
std::vector<Message> person_problems(const std::string& name);
std::vector<Message> password_problems(const std::string& password);

/// "reader", "technician", "designer".
std::vector<std::string> role_words();

/// A time of the book in whole seconds, as documents have it.
std::string whole_seconds(const std::string& when);
/// Now, in UTC as the book has it; `later` from now.
std::string time_text(std::chrono::seconds later = std::chrono::seconds(0));

}  // namespace zoneproof::server
