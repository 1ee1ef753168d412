#include "server/network.hpp"

#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <chrono>
#include <future>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <thread>

#include "base/file.hpp"
#include "server/route.hpp"

namespace zoneproof::server {
namespace {

/// Answers nothing; says how large a body may be.
class Silent : public Handler {
 public:
  void handle(Request, std::shared_ptr<Reply>) override {}
  std::size_t body_limit(const Request& head) const override { return head.target == "/large" ? 100 : 8; }
  Response refused(int status, const Request&) const override {
    Response response;
    response.status = status;
    return response;
  }
};

ReadRequest read(const std::string& bytes) { return read_request(bytes, Silent(), Limits{}); }

TEST(ReadRequest, HasMethodTargetHeadersAndBody) {
  const auto got =
      read("POST /a?b HTTP/1.1\r\nHost: x\r\nContent-Length: 3\r\nX-Twice: 1\r\nx-twice: 2\r\n\r\nabcmore");
  ASSERT_TRUE(got.request);
  EXPECT_EQ(got.request->method, "POST");
  EXPECT_EQ(got.request->target, "/a?b");
  EXPECT_EQ(got.request->header("HOST"), "x");
  EXPECT_EQ(got.request->count("X-TWICE"), 2u);
  EXPECT_EQ(got.request->body, "abc");
}

TEST(ReadRequest, JoinsChunks) {  // RFC 9112 section 7.1
  const auto got =
      read("POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n2;ext=1\r\nde\r\n0\r\n\r\n");
  ASSERT_TRUE(got.request);
  EXPECT_EQ(got.request->body, "abcde");
}

TEST(ReadRequest, RefusesWhatIsTooLarge) {
  EXPECT_EQ(read("POST / HTTP/1.1\r\nContent-Length: 9\r\n\r\n123456789").refused, 413);
  EXPECT_TRUE(read("POST /large HTTP/1.1\r\nContent-Length: 9\r\n\r\n123456789").request);
  EXPECT_EQ(read("POST / HTTP/1.1\r\nContent-Length: 18446744073709551615\r\n\r\n").refused, 413);
  EXPECT_EQ(read("POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n5\r\nabcde\r\n5\r\nabcde\r\n0\r\n\r\n").refused,
            413);
  EXPECT_EQ(read("GET / HTTP/1.1\r\nX: " + std::string(20000, 'x') + "\r\n\r\n").refused, 431);
}

TEST(ReadRequest, RefusesWhatIsNone) {
  for (const char* bytes :
       {"", "GET", "GET /\r\n\r\n", "GET / HTTP/2.0\r\n\r\n", "GET / HTTP/1.1\r\nA b: c\r\n\r\n",
        "GET / HTTP/1.1\r\nContent-Length: x\r\n\r\n", "POST / HTTP/1.1\r\nContent-Length: 5\r\n\r\nab",
        "POST / HTTP/1.1\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\nab",
        "POST / HTTP/1.1\r\nContent-Length: 1\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"})
    EXPECT_EQ(read(bytes).refused, 400) << bytes;
}

/// Opens a stream for whoever asks and says a word on it when it is told to.
class Streaming : public Handler {
 public:
  void handle(Request, std::shared_ptr<Reply> reply) override {
    Response head;
    head.status = 200;
    stream = reply->stream(std::move(head), [this] { closed = true; });
    opened.set_value();
  }
  std::size_t body_limit(const Request&) const override { return 0; }
  Response refused(int status, const Request&) const override {
    Response response;
    response.status = status;
    return response;
  }
  std::shared_ptr<Stream> stream;
  std::atomic<bool> closed{false};
  std::promise<void> opened;
};

int connected_to(int port) {
  const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in at{};
  at.sin_family = AF_INET;
  at.sin_port = htons(static_cast<std::uint16_t>(port));
  at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (::connect(socket, reinterpret_cast<const sockaddr*>(&at), sizeof at) != 0) throw std::runtime_error("connect");
  return socket;
}

// How long a reader may take to read what is written has nothing to do with how long there is nothing to say.
TEST(AStream, OutlivesTheTimeForWritingWhileNothingIsSaid) {
  using namespace std::chrono_literals;
  Streaming handler;
  Limits limits;
  limits.write = 100ms;
  Network network(handler, limits);
  const int port = network.listen({"127.0.0.1", 0, false}).port;
  std::thread serving([&] { network.run([] {}); });
  const int socket = connected_to(port);
  const std::string asks = "GET / HTTP/1.1\r\nHost: x\r\n\r\n";
  EXPECT_EQ(::send(socket, asks.data(), asks.size(), 0), static_cast<ssize_t>(asks.size()));
  handler.opened.get_future().wait();
  std::this_thread::sleep_for(5 * limits.write);
  EXPECT_FALSE(handler.closed);
  EXPECT_TRUE(handler.stream->send(std::make_shared<const std::string>("late")));
  std::string heard;
  std::array<char, 4096> some{};
  for (ssize_t got = 1; got > 0 && heard.find("late") == std::string::npos;) {
    got = ::recv(socket, some.data(), some.size(), 0);
    if (got > 0) heard.append(some.data(), static_cast<std::size_t>(got));
  }
  EXPECT_NE(heard.find("late"), std::string::npos) << heard;
  ::close(socket);
  network.stop();
  serving.join();
  handler.stream.reset();
}

nlohmann::json description() {
  std::vector<Message> problems;
  return nlohmann::json::parse(*read_file(ZONEPROOF_SOURCE_DIR "/data/api/openapi.json", problems));
}

constexpr const char* kAccessWords[] = {"anybody", "this machine", "reader", "technician", "designer"};

TEST(Routes, AreThoseOfTheDescription) {
  std::map<std::string, std::string> described, there;
  const nlohmann::json document = description();
  for (const auto& [path, methods] : document.at("paths").items())
    for (const auto& [method, operation] : methods.items()) {
      std::string name = method;
      for (char& letter : name) letter = static_cast<char>(std::toupper(letter));
      described[name + " " + path] =
          operation.at("x-access").get<std::string>() +
          (operation.at("security").dump().find("visitToken") != std::string::npos ? ", token" : "");
    }
  for (const Route& route : routes())
    there[std::string(route.method) + " " + route.pattern] =
        std::string(kAccessWords[static_cast<int>(route.access)]) + (route.changes ? ", token" : "");
  EXPECT_EQ(there, described);
}

TEST(Routes, WhateverIsNotGetWantsTheToken) {
  for (const Route& route : routes()) EXPECT_EQ(route.changes, std::string(route.method) != "GET") << route.pattern;
}

TEST(Routes, AreFoundByPathAndMethod) {
  const auto routed = [](const char* method, const char* target) {
    Request request;
    request.method = method;
    return route_of(request, *read_target(target));
  };
  EXPECT_EQ(routed("GET", "/api/sites/mill/revisions/7").captured, (std::vector<std::string>{"mill", "7"}));
  EXPECT_NE(routed("HEAD", "/api/sites").route, nullptr);
  EXPECT_EQ(routed("PUT", "/api/sites").route, nullptr);
  EXPECT_EQ(routed("PUT", "/api/sites").methods, (std::vector<std::string>{"GET", "POST"}));
  EXPECT_TRUE(routed("GET", "/api/sites/").methods.size() == 1) << "an id that is empty: the book refuses it";
  EXPECT_TRUE(routed("GET", "/api/nothing").methods.empty());
  EXPECT_TRUE(routed("GET", "/").methods.empty());
}

}  // namespace
}  // namespace zoneproof::server
