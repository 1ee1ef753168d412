#include "server/visits.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>
#include <pwd.h>
#include <unistd.h>

#include <algorithm>
#include <array>

#include "base/sha256.hpp"
#include "base/utf8.hpp"
#include "messages/server.hpp"
#include "server/secrets.hpp"
#include "server/target.hpp"

namespace zoneproof::server {

namespace {

constexpr std::chrono::hours kLoginLasts{14 * 24};
constexpr std::size_t kCookieDigits = 64;
constexpr std::size_t kShortestPassword = 10, kLongestPassword = 200;  // characters; bytes
constexpr std::size_t kLongestName = 80;
constexpr const char* kTokenHeader = "X-Visit-Token";

bool is_cookie(const std::string& text) {
  return text.size() == kCookieDigits && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

/// Who runs the program: the one person there is while nobody has to log in.
const std::string& user_of_machine() {
  static const std::string name = [] {
    std::array<char, 4096> room{};
    passwd entry{};
    passwd* found = nullptr;
    if (::getpwuid_r(::geteuid(), &entry, room.data(), room.size(), &found) == 0 && found != nullptr)
      return std::string(found->pw_name);
    return fmt::format("{}", ::geteuid());
  }();
  return name;
}

}  // namespace

std::string time_text(std::chrono::seconds later) {
  const auto now = std::chrono::system_clock::now() + later;
  const auto since = std::chrono::duration_cast<std::chrono::milliseconds>(now.time_since_epoch());
  const auto seconds = static_cast<std::time_t>(since.count() / 1000);
  return fmt::format("{:%Y-%m-%dT%H:%M:%S}.{:03}Z", fmt::gmtime(seconds), since.count() % 1000);
}

std::string whole_seconds(const std::string& when) {
  const std::size_t point = when.find('.');
  return point == std::string::npos ? when : when.substr(0, point) + "Z";
}

std::string Visitor::who() const { return name.empty() ? user_of_machine() : name; }

results::Answered<Visitor> Visits::nobody() {
  auto people = book_.people();
  if (!people.answer) return {std::nullopt, std::move(people.problems)};
  Visitor visitor;
  visitor.login_needed = !people.answer->empty();
  return {std::move(visitor), {}};
}

results::Answered<Visitor> Visits::visitor(const Request& request) {
  const std::string cookie = cookie_of(request, cookie_);
  const bool sound = is_cookie(cookie);
  if (sound) {
    const std::string hash = sha256_hex(cookie);
    auto login = book_.login(hash, time_text());
    if (!login.answer) return {std::nullopt, std::move(login.problems)};
    if (*login.answer) {
      auto person = book_.person((*login.answer)->person);
      if (!person.answer) return {std::nullopt, std::move(person.problems)};
      if (*person.answer)
        return {Visitor{(*person.answer)->name, (*person.answer)->role, true, cookie, false, hash}, {}};
    }
  }
  auto visitor = nobody();
  if (!visitor.answer) return visitor;
  visitor.answer->cookie = sound ? cookie : random_name();
  visitor.answer->new_cookie = !sound;
  if (!visitor.answer->login_needed && request.loopback) visitor.answer->role = book::Role::designer;
  if (!request.loopback) visitor.answer->login_needed = true;
  return visitor;
}

std::string Visits::token_of(const Visitor& visitor) const { return tag_of("visit " + visitor.cookie, key_); }

std::string Visits::book_id() const { return tag_of("book", key_).substr(0, 32); }

bool Visits::token_fits(const Visitor& visitor, const Request& request) const {
  return !visitor.new_cookie && request.count(kTokenHeader) == 1 &&
         same_secret(request.header(kTokenHeader), token_of(visitor));
}

Visits::LoggedIn Visits::log_in(const std::string& name, const std::string& password, const Request& request) {
  LoggedIn result;
  result.wait = attempts_.begin(name, request.peer, Attempts::Clock::now());
  if (result.wait > std::chrono::seconds(0)) {
    result.problems = {say::server_wait_before_login(static_cast<long long>(result.wait.count()))};
    return result;
  }
  auto person = book_.person(name);
  if (!person.answer) return {std::nullopt, std::move(person.problems)};
  const bool known = person.answer->has_value();
  if (!password_fits(password, known ? (*person.answer)->password : std::string())) {
    result.problems = {say::server_login_wrong()};
    return result;
  }
  attempts_.succeeded(name, request.peer);
  const std::string old = cookie_of(request, cookie_);
  if (is_cookie(old)) book_.end_login(sha256_hex(old));
  const std::string cookie = random_name(), hash = sha256_hex(cookie);
  auto kept = book_.keep_login({hash, name, time_text(), time_text(kLoginLasts)});
  if (!kept.answer) return {std::nullopt, std::move(kept.problems)};
  result.visitor = Visitor{name, (*person.answer)->role, true, cookie, true, hash};
  return result;
}

results::Answered<Visitor> Visits::log_out(const Visitor& visitor) {
  if (!visitor.login.empty()) {
    auto ended = book_.end_login(visitor.login);
    if (!ended.answer) return {std::nullopt, std::move(ended.problems)};
  }
  auto left = nobody();
  if (left.answer) {
    left.answer->cookie = random_name();
    left.answer->new_cookie = true;
  }
  return left;
}

Header Visits::cookie_header(const Visitor& visitor, bool secure) const {
  const auto lasts = std::chrono::duration_cast<std::chrono::seconds>(kLoginLasts).count();
  return {"Set-Cookie",
          fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict{}{}", cookie_, visitor.cookie, secure ? "; Secure" : "",
                      visitor.login.empty() ? std::string() : fmt::format("; Max-Age={}", lasts))};
}

std::vector<std::string> role_words() {
  std::vector<std::string> words;
  for (const book::Role role : {book::Role::reader, book::Role::technician, book::Role::designer})
    words.emplace_back(book::word_of(role));
  return words;
}

std::vector<Message> person_problems(const std::string& name) {
  const bool sound = !name.empty() && utf8_length(name) <= kLongestName &&
                     first_invalid_utf8(name) == std::string::npos &&
                     std::none_of(name.begin(), name.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }) &&
                     name.front() != ' ' && name.back() != ' ' && name.find_first_of("/\\") == std::string::npos;
  if (sound) return {};
  return {say::server_person_name_bad(static_cast<long long>(kLongestName))};
}

std::vector<Message> password_problems(const std::string& password) {
  if (utf8_length(password) >= kShortestPassword && password.size() <= kLongestPassword) return {};
  return {
      say::server_password_length(static_cast<long long>(kShortestPassword), static_cast<long long>(kLongestPassword))};
}

}  // namespace zoneproof::server
