#include "book/connection_string.hpp"

#include <string_view>

#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

bool is_uri(std::string_view text) { return text.rfind("postgresql://", 0) == 0 || text.rfind("postgres://", 0) == 0; }

/// "user:secret@host", and not the colon of a port or of an address in brackets.
bool has_secret_in_uri(std::string_view text) {
  const std::size_t from = text.find("://") + 3;
  const std::string_view authority = text.substr(from, text.find_first_of("/?", from) - from);
  const std::size_t at = authority.rfind('@');
  return at != std::string_view::npos && authority.substr(0, at).find(':') != std::string_view::npos;
}

}  // namespace

std::optional<Message> address_problem(const Address& address) {
  if (address.folder.empty()) return say::book_folder_wanted();
  const std::string& text = address.postgresql;
  if (text.empty()) return std::nullopt;
  if (text.find('\0') != std::string::npos || text.find_first_not_of(' ') == std::string::npos) {
    return say::book_connection_empty();
  }
  const bool secret = text.find("password") != std::string::npos || (is_uri(text) && has_secret_in_uri(text));
  // "passfile" says where the password is, and that is well.
  if (secret) return say::book_password_in_address();
  return std::nullopt;
}

std::string with_timeout(const std::string& postgresql, int seconds) {
  if (postgresql.find("connect_timeout") != std::string::npos) return postgresql;
  const std::string timeout = "connect_timeout=" + std::to_string(seconds);
  if (!is_uri(postgresql)) return postgresql + " " + timeout;
  return postgresql + (postgresql.find('?') == std::string::npos ? "?" : "&") + timeout;
}

}  // namespace zoneproof::book
