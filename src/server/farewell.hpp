#pragma once
#include <boost/asio/ip/tcp.hpp>
#include <chrono>
#include <cstddef>
#include <memory>
#include <set>
#include <string>

/// Last words to connections that there is no room for.
namespace zoneproof::server {

/// Says them, ends its own side and throws away what still comes until the peer has ended its side too: closing with
/// bytes unread resets the connection, and the peer may lose the words that came before (RFC 9112, section 9.6). All in
/// the thread of the sockets' io_context, which it keeps running as long as somebody is leaving.
class Farewells {
 public:
  /// `most`: so many leave in their own time; who comes beyond is closed at once. `longest`: who has not ended his side
  /// by then is closed.
  Farewells(std::size_t most, std::chrono::milliseconds longest) : most_(most), longest_(longest) {}
  ~Farewells();
  Farewells(const Farewells&) = delete;
  Farewells& operator=(const Farewells&) = delete;

  /// What the peer's window does not take at once is not said.
  void say(boost::asio::ip::tcp::socket socket, const std::string& words);
  /// Closes all at once.
  void cut();
  std::size_t count() const { return leaving_.size(); }

 private:
  class Leaving;
  const std::size_t most_;
  const std::chrono::milliseconds longest_;
  std::set<std::shared_ptr<Leaving>> leaving_;
};

}  // namespace zoneproof::server
