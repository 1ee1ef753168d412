#pragma once
#include <functional>
#include <string>
#include <vector>

#include "base/message.hpp"

/// The program as a server: `zoneproof serve`.
namespace zoneproof::server {

struct ServeAsked {
  std::string book;                ///< folder; made where it is missing
  std::string postgresql;          ///< connection string; empty: SQLite in the folder
  std::string address;             ///< beside the loopback address; empty: that one alone
  int port = 0;                    ///< 0: any free one
  std::vector<std::string> names;  ///< by which others call this machine, beside its own
  std::string page_folder;         ///< while the page is being made; empty: the page in the program
};

/// What is told of a server that has begun.
struct Begun {
  std::string address;                 ///< "http://127.0.0.1:8460/"
  std::vector<std::string> elsewhere;  ///< "https://192.168.1.5:8460/"
  std::vector<std::string> trust;      ///< "http://192.168.1.5:8460/trust"
  std::string fingerprint;             ///< of the authority; empty: there is none
  bool page = false;                   ///< there is one
  bool login_needed = false;
  std::vector<Message> notes;  ///< of the book
};

/// Serves until SIGTERM or SIGINT, then answers what is under way and returns. `begun` is called once it listens. What
/// stands in the way is returned, and then nothing was served: elsewhere than on the loopback address without a person
/// who can log in, say.
std::vector<Message> serve(const ServeAsked& asked, const std::function<void(const Begun&)>& begun);

/// Adds a person to the book, or gives one a new password: how one gets in where nobody can log in.
std::vector<Message> set_password(const ServeAsked& asked, const std::string& name, const std::string& role,
                                  const std::string& password);

/// Where the book is when nobody says: "zoneproof" in the person's own folder for data (XDG base directories).
std::string usual_book();

inline constexpr int kUsualPort = 8460;

}  // namespace zoneproof::server
