#pragma once
#include <optional>
#include <string>

#include "base/message.hpp"
#include "book/book.hpp"

/// PostgreSQL's connection strings, as far as they are ours to look at.
namespace zoneproof::book {

/// Why an address cannot be used: no folder, or a password in the connection string, where the list of processes, the
/// history of a shell and every log would have it.
std::optional<Message> address_problem(const Address& address);

/// The string with a limit on how long to wait for a connection, unless it has one.
std::string with_timeout(const std::string& postgresql, int seconds);

}  // namespace zoneproof::book
