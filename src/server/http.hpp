#pragma once
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// Requests and responses as the rest of the server sees them: no library's types. What the network made of bytes is
/// checked text here; nothing in it has been trusted yet.
namespace zoneproof::server {

struct Header {
  std::string name;
  std::string value;
};

struct Request {
  std::string method;  ///< "GET", as it was sent
  std::string target;  ///< as it was sent: "/api/sites?x=1"
  std::vector<Header> headers;
  std::string body;
  std::string peer;       ///< address of whoever asks: "127.0.0.1", "fe80::1"
  bool loopback = false;  ///< the peer is this machine
  bool secure = false;    ///< came over TLS

  /// The value of a header, its name in any case; empty where there is none. Of several the first.
  std::string_view header(std::string_view name) const;
  /// How often a header was sent.
  std::size_t count(std::string_view name) const;
};

struct Response {
  int status = 200;
  std::vector<Header> headers;
  std::string_view body;              ///< lives as long as `keeps`
  std::shared_ptr<const void> keeps;  ///< may be null: the body is part of the program
  bool leave_body_out = false;        ///< an answer to HEAD: its length is told and it is not sent

  /// Takes a text over as the body.
  void own(std::string text);
  Response& with(std::string name, std::string value) &;
  Response&& with(std::string name, std::string value) &&;
};

/// A response without an end: server-sent events. May be used from any thread.
class Stream {
 public:
  virtual ~Stream() = default;
  /// Sends a text; false where the reader is gone, or so slow that the stream was given up.
  virtual bool send(std::shared_ptr<const std::string> text) = 0;
  /// Ends the response.
  virtual void end() = 0;
};

/// Where the answer to one request goes, once. May be used from any thread; a reply that is dropped unanswered is
/// answered with 500 by the network.
class Reply {
 public:
  virtual ~Reply() = default;
  virtual void send(Response response) = 0;
  /// Sends the head and keeps the response open. `closed` is called once when the reader is gone or the stream ended.
  virtual std::shared_ptr<Stream> stream(Response head, std::function<void()> closed) = 0;
  /// Whoever asked has hung up: the work may be left. Not every hanging up is seen.
  virtual bool gone() const = 0;
};

/// Answers requests. Called on the network's thread: must not take long, hands what does to others.
class Handler {
 public:
  virtual ~Handler() = default;
  virtual void handle(Request request, std::shared_ptr<Reply> reply) = 0;
  /// How many bytes of body a request may bring, judged by its head alone.
  virtual std::size_t body_limit(const Request& head) const = 0;
  /// The answer to what the network itself refuses (bad syntax 400, slow 408, too large 413, 431, no room 503).
  virtual Response refused(int status, const Request& head) const = 0;
};

}  // namespace zoneproof::server
