// Any bytes as what comes over a connection: read as the network reads them, and answered by the whole interface over a
// book. Every request is answered once, with a status that HTTP has, with the headers that every answer carries; what
// is refused is told in the messages of the house, and nothing meets a fault of the program. The first byte says who is
// asking (Asking below), the rest are the bytes of the connection.
#include <condition_variable>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <mutex>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "book/book.hpp"
#include "fuzz/held.hpp"
#include "server/network.hpp"
#include "server/service.hpp"
#include "site/small_site.hpp"

namespace {

using namespace zoneproof;
using namespace zoneproof::server;
using fuzz::hold;
using Json = nlohmann::ordered_json;

/// Takes the one answer, and hands it to whoever waits.
class Taken : public Reply, public Stream, public std::enable_shared_from_this<Taken> {
 public:
  void send(Response response) override { take(std::move(response)); }
  std::shared_ptr<Stream> stream(Response head, std::function<void()> closed) override {
    closed_ = std::move(closed);
    streams_ = true;
    take(std::move(head));
    return shared_from_this();
  }
  bool gone() const override { return false; }
  bool send(std::shared_ptr<const std::string> text) override {
    hold(text->rfind("event: ", 0) == 0 && text->find("\n\n") == text->size() - 2, "an event is one");
    return true;
  }
  void end() override {}

  Response wait() {
    std::unique_lock lock(mutex_);
    came_.wait(lock, [this] { return answers_ > 0; });
    hold(answers_ == 1, "a request is answered once");
    return std::move(response_);
  }
  bool streams() const { return streams_; }
  void leave() {
    if (closed_) std::exchange(closed_, nullptr)();
  }

 private:
  void take(Response response) {
    const std::lock_guard lock(mutex_);
    response_ = std::move(response);
    ++answers_;
    came_.notify_all();
  }
  std::mutex mutex_;
  std::condition_variable came_;
  Response response_;
  int answers_ = 0;
  bool streams_ = false;
  std::function<void()> closed_;
};

std::string header_of(const Response& response, const std::string& name) {
  for (const Header& header : response.headers)
    if (header.name == name) return header.value;
  return {};
}

/// One book with one small site for all inputs; it goes with the program.
class World {
 public:
  World() {
    std::string name = (std::filesystem::temp_directory_path() / "zoneproof-fuzz-XXXXXX").string();
    folder_ = mkdtemp(name.data());
    auto opened = book::Book::open({folder_, ""});
    hold(opened.answer.has_value(), "a book is made");
    book_ = *std::move(opened.answer);
    hold(book_
             ->add_site({"mill", "first", "ada", "2026-03-01T12:00:00Z", ""},
                        *site::read_site(site::kSmallSite, "site").site)
             .answer.has_value(),
         "a site is kept");
    ServiceSettings settings;
    settings.key = std::string(32, 'k');
    service_ = std::make_unique<Service>(*book_, settings);
    learn_to_visit();
  }
  ~World() {
    service_->close();
    std::filesystem::remove_all(folder_);
  }

  Service& service() { return *service_; }
  const std::string& cookie() const { return cookie_; }
  const std::string& token() const { return token_; }

  Response answer(Request request, bool& streamed) {
    const auto taken = std::make_shared<Taken>();
    service_->handle(std::move(request), taken);
    Response response = taken->wait();
    streamed = taken->streams();
    taken->leave();
    return response;
  }

 private:
  void learn_to_visit() {
    Request request;
    request.method = "GET";
    request.target = "/api/visit";
    request.headers = {{"Host", "localhost"}};
    request.loopback = true;
    bool streamed = false;
    const Response response = answer(request, streamed);
    cookie_ = header_of(response, "Set-Cookie");
    cookie_ = cookie_.substr(0, cookie_.find(';'));
    token_ = Json::parse(response.body).at("token");
  }

  std::string folder_;
  std::unique_ptr<book::Book> book_;
  std::unique_ptr<Service> service_;
  std::string cookie_, token_;
};

/// Bits of the first byte.
enum Asking : unsigned { from_here = 1, over_tls = 2, with_visit = 4, with_host = 8 };

/// Work that takes seconds under the sanitizers is tried elsewhere.
bool takes_long(const Request& request) {
  if (request.method != "GET" && request.target.find("handover") != std::string::npos) return true;
  if (request.target.find("/drawings/") != std::string::npos) return true;
  for (const char* command : {"prove", "faults", "remedies", "storm", "sight", "clip", "levels", "password"})
    if (request.body.find(command) != std::string::npos) return true;
  return false;
}

void hold_answer(const Response& response) {
  hold(response.status >= 200 && response.status <= 599, "a status that HTTP has");
  hold(!header_of(response, "Content-Security-Policy").empty(), "a policy");
  hold(header_of(response, "X-Content-Type-Options") == "nosniff", "a type that is meant");
  for (const Header& header : response.headers)
    hold(header.name.find_first_of("\r\n:") == std::string::npos &&
             header.value.find_first_of(std::string_view("\r\n\0", 3)) == std::string::npos,
         "headers of one line");
  if (response.status < 400) return;
  const Json json = Json::parse(response.body, nullptr, false);
  hold(json.is_object(), "a refusal is JSON");
  const Json& problems = json.contains("problems") ? json.at("problems") : json.at("results").at("problems");
  hold(!problems.empty(), "a refusal has a reason");
  for (const Json& problem : problems) {
    if (problem.at("code") == "own_fault") std::fprintf(stderr, "%s\n", problem.dump().c_str());
    hold(problem.at("code") != "own_fault", "nothing meets a fault of the program");
    hold(!problem.at("text").get<std::string>().empty(), "a problem has words");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static World world;
  if (size == 0) return 0;
  const unsigned asking = data[0];
  ReadRequest read = read_request({reinterpret_cast<const char*>(data) + 1, size - 1}, world.service(), Limits{});
  if (!read.request) {
    hold_answer(world.service().refused(read.refused, {}));
    return 0;
  }
  Request& request = *read.request;
  if (takes_long(request)) return 0;
  request.loopback = (asking & from_here) != 0;
  request.secure = (asking & over_tls) != 0;
  if ((asking & with_host) != 0 && request.count("Host") == 0) request.headers.push_back({"Host", "localhost"});
  if ((asking & with_visit) != 0) {
    request.headers.push_back({"Cookie", world.cookie()});
    request.headers.push_back({"X-Visit-Token", world.token()});
  }
  bool streamed = false;
  hold_answer(world.answer(std::move(request), streamed));
  return 0;
}
