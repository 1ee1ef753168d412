#pragma once
#include <map>
#include <string>
#include <string_view>

#include "browser/session.hpp"

/// Sessions by number. Every call is answered by a text, zoneproof-results as a command prints them: "results" holds
/// what is told below, or "problems". Nothing is thrown: a fault of the program itself is a problem too, and leaves
/// every session as it was.
namespace zoneproof::browser {

/// A person's own parts beside a site, as NAME.parts.json stands beside NAME.site.json.
struct OwnParts {
  std::string_view text;
  std::string name;
};

class Door {
 public:
  /// Reads a site file, `name` in its messages' places, with own parts where there are some.
  /// {"command": "open", "session": 1, "revision": {"number", "sha256"}, "notes": []}. Numbers are never used again.
  std::string open(std::string_view site, const std::string& name, const OwnParts* parts = nullptr) noexcept;

  /// {"command": "apply", "revision": {}, "undo": patch, "notes": []}; a refused patch changes nothing.
  std::string apply(long long session, std::string_view patch) noexcept;

  /// What the command of that name prints with --json, byte for byte.
  std::string ask(long long session, std::string_view question) noexcept;

  /// {"command": "site", "name": as opened, "text": the site file in its canonical form}: what a person saves.
  std::string site(long long session) noexcept;

  /// {"command": "close"}. What was not saved is gone.
  std::string close(long long session) noexcept;

  std::size_t open_sessions() const { return sessions_.size(); }

 private:
  template <class Answer>
  std::string answered(const char* command, Answer answer) noexcept;
  template <class Answer>
  std::string of_session(const char* command, long long session, Answer answer) noexcept;

  std::map<long long, Session> sessions_;
  long long last_ = 0;
};

}  // namespace zoneproof::browser
