#include <termios.h>
#include <unistd.h>

#include <iostream>

#include "cli/reading.hpp"
#include "cli/serve_server.hpp"
#include "messages/serve.hpp"
#include "server/serve.hpp"

namespace zoneproof::cli {

namespace {

constexpr long long kLargestPort = 65535;
constexpr const char* kAnyPort = "0";  // the system's choice

/// While it lives the terminal does not show what is typed.
class Hidden {
 public:
  Hidden() : terminal_(tcgetattr(STDIN_FILENO, &before_) == 0) {
    if (!terminal_) return;
    termios silent = before_;
    silent.c_lflag &= static_cast<tcflag_t>(~ECHO);
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &silent);
  }
  ~Hidden() {
    if (terminal_) tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }
  Hidden(const Hidden&) = delete;
  Hidden& operator=(const Hidden&) = delete;

 private:
  termios before_{};
  bool terminal_;
};

/// A line of standard input: a secret is never an argument, which other people on the machine could see.
std::string read_password(Screen& screen) {
  if (isatty(STDIN_FILENO) == 1) screen.err() << text(say::serve_type_password()) << std::flush;
  const Hidden hidden;
  std::string line;
  std::getline(std::cin, line);
  if (isatty(STDIN_FILENO) == 1) screen.err() << '\n';
  return line;
}

void tell(const server::Begun& begun, Screen& screen) {
  for (const Message& note : begun.notes) print_problem(screen.err(), note);
  screen.line(text(say::serving_at(begun.address)));
  for (const std::string& address : begun.elsewhere) screen.line(text(say::serving_elsewhere(address)));
  for (const std::string& address : begun.trust) screen.line(text(say::serving_trust(address)));
  if (!begun.fingerprint.empty()) screen.line(text(say::serving_fingerprint(begun.fingerprint)));
  if (!begun.page) screen.line(text(say::serving_without_page()));
  if (!begun.login_needed) screen.line(text(say::serving_without_login()));
  screen.line(text(say::serving_until()));
  screen.out().flush();
}

}  // namespace

int serve_here(const ServeOptions& asked, Screen& screen) {
  server::ServeAsked wanted;
  std::vector<Message> problems;
  long long port = server::kUsualPort;
  if (asked.port == kAnyPort)
    port = 0;
  else if (!asked.port.empty())
    if (auto problem = read_whole(asked.port, "--port", kLargestPort, port)) problems.push_back(std::move(*problem));
  if (!problems.empty()) return refuse("serve", problems, false, screen);
  wanted.book = asked.book.empty() ? server::usual_book() : asked.book;
  wanted.postgresql = asked.postgresql;
  wanted.address = asked.address;
  wanted.port = static_cast<int>(port);
  wanted.names = asked.names;
  wanted.page_folder = asked.page;
  if (!asked.set_password.empty()) {
    problems = server::set_password(wanted, asked.set_password, asked.role, read_password(screen));
    if (!problems.empty()) return refuse("serve", problems, false, screen);
    screen.line(text(say::serve_password_set(asked.set_password)));
    return 0;
  }
  problems = server::serve(wanted, [&](const server::Begun& begun) { tell(begun, screen); });
  if (!problems.empty()) return refuse("serve", problems, false, screen);
  screen.line(text(say::serving_ended()));
  return 0;
}

}  // namespace zoneproof::cli
