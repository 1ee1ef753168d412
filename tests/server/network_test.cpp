#include "server/network.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

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
