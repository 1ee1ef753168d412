#pragma once
#include <chrono>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "server/http.hpp"

/// The network: connections, HTTP/1.1, TLS. The one place that knows Boost.Beast (network.cpp); nothing of it is seen
/// here.
namespace zoneproof::server {

struct Limits {
  std::size_t header_bytes = std::size_t{16} << 10U;
  std::size_t connections = 256;                 ///< at once; what comes beyond is told 503 and closed
  std::size_t bodies = std::size_t{256} << 20U;  ///< bytes of all requests under way; what comes beyond is told 503
  std::size_t connections_per_peer = 96;         ///< a browser opens six, and one for live events
  std::chrono::milliseconds head{10'000};        ///< from the first wait to the end of a request's head
  std::chrono::milliseconds body{60'000};        ///< from there to the end of its body
  std::chrono::milliseconds idle{60'000};        ///< between two requests of a connection
  std::chrono::milliseconds write{60'000};       ///< until a reader has taken a response
  std::chrono::milliseconds heartbeat{15'000};   ///< of streams; a reader that is gone is found so
  std::chrono::milliseconds drain{10'000};       ///< what is under way has so long to end after stop()
  std::size_t stream_backlog = std::size_t{1} << 20U;  ///< bytes that a slow reader of a stream may be behind
};

/// Certificate chain and key as PEM.
struct Identity {
  std::string chain;
  std::string key;
};

struct Listening {
  std::string address;  ///< "127.0.0.1"
  int port = 0;         ///< 0: any free one
  bool tls = false;     ///< TLS and plain on one port: what a connection speaks is seen from its first byte
};

struct NetworkCounts {
  std::size_t connections = 0, streams = 0;
  unsigned long long accepted = 0, turned_away = 0, timed_out = 0, malformed = 0;
};

class Network {
 public:
  Network(Handler& handler, Limits limits);
  ~Network();
  Network(const Network&) = delete;
  Network& operator=(const Network&) = delete;

  /// Starts to listen; the port that it has become, or why not, in the system's words.
  struct Opened {
    int port = 0;
    std::string fault;
  };
  Opened listen(const Listening& where);

  /// What TLS connections are told from now on. Returns why not, empty where it is well.
  std::string identify(const Identity& identity);

  /// Serves on this thread until stop() has been called and everything under way is answered (Limits::drain at most).
  /// SIGTERM and SIGINT call stop() while it runs; `stopping` is called when that begins.
  void run(std::function<void()> stopping);

  /// Ends run() in good order. From any thread, and more than once.
  void stop();

  NetworkCounts counts() const;

  struct Inside;  ///< network.cpp's own

 private:
  std::shared_ptr<Inside> inside_;
};

/// One request as a connection would read it, or the status that it is refused with (400, 413, 431). `bytes` may hold
/// more behind it. For tests: connections read piece by piece with the same parser and limits.
struct ReadRequest {
  std::optional<Request> request;
  int refused = 0;
};
ReadRequest read_request(std::string_view bytes, const Handler& handler, const Limits& limits);

}  // namespace zoneproof::server
