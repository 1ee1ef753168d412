// The only translation unit that includes Boost.Beast: it takes a minute and a half and over a gigabyte to compile.
#include "server/network.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/ip/v6_only.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/ssl.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <boost/beast/ssl.hpp>
#include <csignal>
#include <ctime>
#include <deque>
#include <limits>
#include <map>
#include <set>
#include <sstream>

#include "server/farewell.hpp"
#include "server/own_network.hpp"

namespace zoneproof::server {

namespace {

namespace beast = boost::beast;
namespace http = beast::http;
namespace net = boost::asio;
using net::ip::tcp;
using Error = beast::error_code;
using Parser = http::request_parser<http::string_body>;
using Span = http::span_body<const char>;
using Secure = beast::ssl_stream<beast::tcp_stream>;

constexpr std::chrono::milliseconds kAcceptAgain{100};  // where the machine has no more handles
constexpr std::chrono::seconds kFarewell{2};            // a peer that does not end its side of a connection
constexpr const char* kTurnedAway = "HTTP/1.1 503 Service Unavailable\r\nConnection: close\r\nRetry-After: 5\r\n";
constexpr const char* kGoOn = "HTTP/1.1 100 Continue\r\n\r\n";
constexpr const char* kHeartbeat = ":\n\n";

std::string_view view(beast::string_view text) { return {text.data(), text.size()}; }

std::string date_now() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  gmtime_r(&now, &parts);
  char text[64];
  // Names of days and months in English whatever the locale is: the program never sets one.
  return {text, std::strftime(text, sizeof text, "%a, %d %b %Y %H:%M:%S GMT", &parts)};
}

/// What a connection is told that there is no room for: its request is not read.
std::string turned_away_text(const Handler& handler) {
  const Response words = handler.refused(503, {});
  std::string text = kTurnedAway;
  for (const Header& header : words.headers) text += header.name + ": " + header.value + "\r\n";
  return text + "Content-Length: " + std::to_string(words.body.size()) + "\r\n\r\n" + std::string(words.body);
}

/// The head of what was parsed, without the body.
Request head_of(const Parser::value_type& message) {
  Request request;
  request.method = std::string(view(message.method_string()));
  request.target = std::string(view(message.target()));
  for (const auto& field : message)
    request.headers.push_back({std::string(view(field.name_string())), std::string(view(field.value()))});
  return request;
}

void prepare(Parser& parser, const Limits& limits) {
  parser.header_limit(static_cast<std::uint32_t>(limits.header_bytes));
  // Set when the head has told what the body is for. Boost 1.74 takes boost::none for a limit below every length.
  parser.body_limit(std::numeric_limits<std::uint64_t>::max());
}

/// The status of what could not be read; 0 where the peer just hung up.
int status_of(const Error& error) {
  if (error == http::error::header_limit || error == http::error::buffer_overflow) return 431;
  if (error == http::error::body_limit) return 413;
  if (error == http::error::end_of_stream || error == http::error::partial_message) return 0;
  return error.category() == http::make_error_code(http::error::bad_method).category() ? 400 : 0;
}

/// What is too large by its own account is refused before it is read.
bool body_allowed(Parser& parser, std::size_t limit) {
  const auto told = parser.content_length();
  if (told && *told > limit) return false;
  parser.body_limit(limit);
  return true;
}

/// What a body may come to: as long as its head says; of one that comes in chunks as much as is allowed.
std::size_t body_at_most(const Parser& parser, std::size_t limit) {
  if (const auto told = parser.content_length()) return static_cast<std::size_t>(*told);
  return parser.chunked() ? limit : 0;
}

bool expects_to_go_on(const Parser::value_type& message) {
  return beast::iequals(message[http::field::expect], "100-continue");
}

}  // namespace

/// Whoever has come in: counted, and told when the network ends.
class Guest {
 public:
  Guest(std::shared_ptr<Network::Inside> of, std::string from);
  virtual ~Guest();
  Guest(const Guest&) = delete;
  Guest& operator=(const Guest&) = delete;
  /// Ends where nothing is under way; else when that is answered.
  virtual void end_soon() = 0;
  virtual void cut() = 0;

  const std::shared_ptr<Network::Inside> network;
  const std::string peer;
};

struct Network::Inside : std::enable_shared_from_this<Network::Inside> {
  Inside(Handler& to, const Limits& within) : handler(to), limits(within), farewells(within.connections, kFarewell) {}

  struct Door {
    explicit Door(net::io_context& io) : acceptor(io), again(io) {}
    tcp::acceptor acceptor;
    net::steady_timer again;
    bool tls = false;
  };

  void accept(const std::shared_ptr<Door>& door);
  void greet(tcp::socket socket, bool tls);
  void turn_away(tcp::socket socket);
  std::string turned_away_words;  ///< made once: whoever floods the program is not to keep it busy with words
  void begin_stop();
  void end_if_drained();

  void enter(Guest* guest);
  void leave(Guest* guest);
  void cut_all();

  Handler& handler;
  const Limits limits;
  net::io_context io{1};
  net::ssl::context tls{net::ssl::context::tls_server};
  std::vector<std::shared_ptr<Door>> doors;
  std::set<Guest*> guests;
  std::map<std::string, std::size_t> per_peer;
  std::size_t bodies = 0;  ///< bytes of requests that are being read or answered, at most Limits::bodies
  Farewells farewells;     ///< as many at once as there are connections
  net::steady_timer drain{io};
  std::optional<net::signal_set> signals;
  std::function<void()> when_stopping;
  bool stopping = false;

  std::atomic<std::size_t> connection_count{0}, stream_count{0};
  std::atomic<unsigned long long> accepted{0}, turned_away{0}, timed_out{0}, malformed{0};
};

Guest::Guest(std::shared_ptr<Network::Inside> of, std::string from) : network(std::move(of)), peer(std::move(from)) {
  network->enter(this);
}
Guest::~Guest() { network->leave(this); }

/// A connection of either kind as replies see it. Everything but `gone` and `backlog` is the network's thread's.
class Connection : public Guest, public std::enable_shared_from_this<Connection> {
 public:
  Connection(std::shared_ptr<Network::Inside> of, std::string from, bool local)
      : Guest(std::move(of), std::move(from)), loopback(local) {}
  virtual void answer(Response response) = 0;
  virtual void begin_stream(Response head) = 0;
  virtual void push(std::shared_ptr<const std::string> text) = 0;
  virtual void end_stream() = 0;

  const bool loopback;
  std::atomic<bool> gone{false};
  std::atomic<std::size_t> backlog{0};  ///< bytes of a stream that are not yet taken
  std::function<void()> when_closed;    ///< of a stream
};

namespace {

class ConnectionStream : public Stream {
 public:
  explicit ConnectionStream(std::shared_ptr<Connection> on) : on_(std::move(on)) {}
  bool send(std::shared_ptr<const std::string> text) override {
    if (on_->gone) return false;
    if (on_->backlog.fetch_add(text->size()) + text->size() > on_->network->limits.stream_backlog) {
      on_->gone = true;
      net::post(on_->network->io, [on = on_] { on->cut(); });
      return false;
    }
    net::post(on_->network->io, [on = on_, text = std::move(text)]() mutable { on->push(std::move(text)); });
    return true;
  }
  void end() override {
    net::post(on_->network->io, [on = on_] { on->end_stream(); });
  }

 private:
  std::shared_ptr<Connection> on_;
};

class ConnectionReply : public Reply {
 public:
  explicit ConnectionReply(std::shared_ptr<Connection> on) : on_(std::move(on)) {}
  ~ConnectionReply() override {
    if (!answered_.exchange(true)) pass_on(on_->network->handler.refused(500, {}));
  }
  void send(Response response) override {
    if (!answered_.exchange(true)) pass_on(std::move(response));
  }
  std::shared_ptr<Stream> stream(Response head, std::function<void()> closed) override {
    auto made = std::make_shared<ConnectionStream>(on_);
    answered_ = true;
    net::post(on_->network->io, [on = on_, head = std::move(head), closed = std::move(closed)]() mutable {
      on->when_closed = std::move(closed);
      on->begin_stream(std::move(head));
    });
    return made;
  }
  bool gone() const override { return on_->gone; }

 private:
  void pass_on(Response response) {
    net::post(on_->network->io,
              [on = on_, response = std::move(response)]() mutable { on->answer(std::move(response)); });
  }
  std::shared_ptr<Connection> on_;
  std::atomic<bool> answered_{false};
};

/// HTTP on a stream: read a request, have it answered, write the response, again.
template <class S>
class Served : public Connection {
 public:
  Served(std::shared_ptr<Network::Inside> of, S stream, beast::flat_buffer begun, std::string from, bool local)
      : Connection(std::move(of), std::move(from), local),
        stream_(std::move(stream)),
        buffer_(std::move(begun)),
        heart_(network->io) {}

  void begin() {
    lowest().expires_after(network->limits.head);
    if constexpr (kSecure) {
      stream_.async_handshake(net::ssl::stream_base::server, buffer_.data(),
                              [self = self()](const Error& error, std::size_t used) {
                                if (error) return self->failed(error);
                                self->buffer_.consume(used);
                                self->read_head(self->network->limits.head);
                              });
    } else {
      read_head(network->limits.head);
    }
  }

  void answer(Response response) override {
    state_ = State::writing;
    give_share_back();
    const bool stays = keep_alive_ && !network->stopping && !gone;
    kept_ = std::move(response.keeps);
    message_.emplace(static_cast<http::status>(response.status), 11);
    for (const Header& header : response.headers) message_->insert(header.name, header.value);
    message_->set(http::field::date, date_now());
    message_->keep_alive(stays);
    const bool bodiless = response.status == 204 || response.status == 304;
    if (!bodiless) message_->content_length(response.body.size());
    if (!bodiless && !response.leave_body_out) message_->body() = {response.body.data(), response.body.size()};
    lowest().expires_after(network->limits.write);
    http::async_write(stream_, *message_, [self = self(), stays](const Error& error, std::size_t) {
      self->kept_.reset();
      if (error) return self->failed(error);
      if (!stays || self->network->stopping) return self->farewell();
      self->read_head(self->network->limits.idle);
    });
  }

  void begin_stream(Response head) override {
    state_ = State::streaming;
    ++network->stream_count;
    http::response<http::empty_body> begun(static_cast<http::status>(head.status), 11);
    for (const Header& header : head.headers) begun.insert(header.name, header.value);
    begun.set(http::field::date, date_now());
    begun.keep_alive(false);  // the end of the connection is the end of the response
    auto text = std::make_shared<std::string>();
    {
      std::ostringstream words;
      words << begun.base();
      *text = words.str();
    }
    queue_.push_front(std::move(text));
    backlog += queue_.front()->size();
    lowest().expires_never();  // before the reading begins: the time that a write may take must not end a quiet reader
    listen_for_the_end();
    write_next();
    beat();
    if (network->stopping) end_stream();
  }

  void push(std::shared_ptr<const std::string> text) override {
    if (state_ == State::closed) return;
    queue_.push_back(std::move(text));
    if (state_ == State::streaming && !writing_) write_next();
  }

  void end_stream() override {
    ending_ = true;
    heart_.cancel();
    if (state_ == State::streaming && !writing_) farewell();
  }

  void end_soon() override {
    if (state_ == State::waiting) return cut();
    if (state_ == State::streaming) end_stream();
  }

  void cut() override {
    if (state_ == State::closed) return;
    const bool streamed = state_ == State::streaming;
    state_ = State::closed;
    gone = true;
    give_share_back();
    heart_.cancel();
    lowest().close();
    if (streamed) --network->stream_count;
    if (when_closed) std::exchange(when_closed, nullptr)();
  }

 private:
  static constexpr bool kSecure = std::is_same_v<S, Secure>;
  enum class State { waiting, reading, answering, writing, streaming, closed };

  std::shared_ptr<Served> self() { return std::static_pointer_cast<Served>(shared_from_this()); }
  beast::tcp_stream& lowest() { return beast::get_lowest_layer(stream_); }

  void read_head(std::chrono::milliseconds within) {
    if (network->stopping) return farewell();
    state_ = State::waiting;
    parser_.emplace();
    prepare(*parser_, network->limits);
    lowest().expires_after(within);
    http::async_read_header(stream_, buffer_, *parser_, [self = self()](const Error& error, std::size_t) {
      error ? self->failed(error) : self->read_body();
    });
  }

  void read_body() {
    state_ = State::reading;
    keep_alive_ = parser_->get().keep_alive();
    const Request head = head_now();
    const std::size_t limit = network->handler.body_limit(head);
    if (!body_allowed(*parser_, limit)) return refuse(413, head);
    if (!take_share(body_at_most(*parser_, limit))) return refuse(503, head);
    lowest().expires_after(network->limits.body);
    if (parser_->is_done()) return dispatch();
    if (!expects_to_go_on(parser_->get())) return read_rest();
    net::async_write(
        stream_, net::buffer(kGoOn, std::char_traits<char>::length(kGoOn)),
        [self = self()](const Error& error, std::size_t) { error ? self->failed(error) : self->read_rest(); });
  }

  /// Whoever is answered or gone holds no body any more.
  bool take_share(std::size_t bytes) {
    give_share_back();
    if (bytes > network->limits.bodies - std::min(network->bodies, network->limits.bodies)) return false;
    share_ = bytes;
    network->bodies += bytes;
    return true;
  }
  void give_share_back() { network->bodies -= std::exchange(share_, 0); }

  void read_rest() {
    http::async_read(stream_, buffer_, *parser_, [self = self()](const Error& error, std::size_t) {
      error ? self->failed(error) : self->dispatch();
    });
  }

  Request head_now() const {
    Request head = head_of(parser_->get());
    head.peer = peer;
    head.loopback = loopback;
    head.secure = kSecure;
    return head;
  }

  void dispatch() {
    Request request = head_now();
    request.body = std::move(parser_->get().body());
    state_ = State::answering;
    lowest().expires_never();
    watch();
    network->handler.handle(std::move(request), std::make_shared<ConnectionReply>(shared_from_this()));
  }

  /// Notices that the peer hangs up while its answer is being made. A peer that sends more is not watched further.
  void watch() {
    if (std::exchange(watching_, true)) return;
    lowest().socket().async_wait(tcp::socket::wait_read, [self = self()](const Error& error) {
      self->watching_ = false;
      if (error || self->state_ != State::answering) return;
      char byte = 0;
      if (::recv(self->lowest().socket().native_handle(), &byte, 1, MSG_PEEK | MSG_DONTWAIT) == 0) self->gone = true;
    });
  }

  void refuse(int status, const Request& head) {
    keep_alive_ = false;  // what follows of this request is not read
    ++network->malformed;
    answer(network->handler.refused(status, head));
  }

  void failed(const Error& error) {
    if (state_ == State::closed) return;
    if (error == beast::error::timeout) ++network->timed_out;
    const int status = status_of(error);
    if (status != 0 && (state_ == State::waiting || state_ == State::reading)) return refuse(status, head_now());
    cut();
  }

  void write_next() {
    if (queue_.empty()) {
      if (ending_) farewell();
      return;
    }
    writing_ = true;
    lowest().expires_after(network->limits.write);
    net::async_write(stream_, net::buffer(*queue_.front()), [self = self()](const Error& error, std::size_t) {
      self->writing_ = false;
      if (error || self->state_ != State::streaming) return self->cut();
      self->backlog -= self->queue_.front()->size();
      self->queue_.pop_front();
      self->lowest().expires_never();
      self->write_next();
    });
  }

  void beat() {
    heart_.expires_after(network->limits.heartbeat);
    heart_.async_wait([self = self()](const Error& error) {
      if (error || self->state_ != State::streaming || self->ending_) return;
      static const auto beat = std::make_shared<const std::string>(kHeartbeat);
      if (self->queue_.empty()) {
        self->backlog += beat->size();
        self->push(beat);
      }
      self->beat();
    });
  }

  /// A reader of a stream has nothing more to say: whatever comes is its end.
  void listen_for_the_end() {
    stream_.async_read_some(net::buffer(&last_byte_, 1), [self = self()](const Error&, std::size_t) {
      if (self->state_ == State::streaming) self->cut();
    });
  }

  void farewell() {
    if (state_ == State::closed) return;
    lowest().expires_after(kFarewell);
    if constexpr (kSecure) {
      stream_.async_shutdown([self = self()](const Error&) { self->cut(); });
    } else {
      Error ignored;
      lowest().socket().shutdown(tcp::socket::shutdown_send, ignored);
      drop_rest();
    }
  }

  /// Reads what is still on its way: closing before would take the answer from a peer that is still sending.
  void drop_rest() {
    stream_.async_read_some(net::buffer(rest_), [self = self()](const Error& error, std::size_t) {
      error || self->state_ == State::closed ? self->cut() : self->drop_rest();
    });
  }

  S stream_;
  beast::flat_buffer buffer_;
  net::steady_timer heart_;
  std::optional<Parser> parser_;
  std::optional<http::response<Span>> message_;
  std::shared_ptr<const void> kept_;
  std::deque<std::shared_ptr<const std::string>> queue_;
  State state_ = State::waiting;
  bool keep_alive_ = false, watching_ = false, writing_ = false, ending_ = false;
  std::size_t share_ = 0;  ///< of the bytes of all bodies
  char last_byte_ = 0;
  std::array<char, 4096> rest_{};
};

/// A connection whose first byte will tell whether it speaks TLS.
class Undecided : public Guest, public std::enable_shared_from_this<Undecided> {
 public:
  Undecided(std::shared_ptr<Network::Inside> of, tcp::socket socket, std::string from, bool local)
      : Guest(std::move(of), std::move(from)), stream_(std::move(socket)), loopback_(local) {}
  void begin() {
    stream_.expires_after(network->limits.head);
    beast::async_detect_ssl(stream_, buffer_, [self = shared_from_this()](const Error& error, bool tls) {
      if (error == beast::error::timeout) ++self->network->timed_out;
      if (error || self->network->stopping) return;
      tls ? self->go_on(Secure(std::move(self->stream_), self->network->tls)) : self->go_on(std::move(self->stream_));
    });
  }
  void end_soon() override { stream_.close(); }
  void cut() override { stream_.close(); }

 private:
  template <class S>
  void go_on(S stream) {
    std::make_shared<Served<S>>(network, std::move(stream), std::move(buffer_), peer, loopback_)->begin();
  }
  beast::tcp_stream stream_;
  beast::flat_buffer buffer_;
  const bool loopback_;
};

}  // namespace

void Network::Inside::accept(const std::shared_ptr<Door>& door) {
  door->acceptor.async_accept([self = shared_from_this(), door](const Error& error, tcp::socket socket) {
    if (error == net::error::operation_aborted || !door->acceptor.is_open()) return;
    if (!error) {
      ++self->accepted;
      self->greet(std::move(socket), door->tls);
      return self->accept(door);
    }
    door->again.expires_after(kAcceptAgain);
    door->again.async_wait([self, door](const Error& stopped) {
      if (!stopped) self->accept(door);
    });
  });
}

namespace {

/// IPv4 written as IPv6, as a door for both has it, is IPv4; at which cable an address of a link lies is left out.
net::ip::address plain(const net::ip::address& address) {
  if (!address.is_v6()) return address;
  net::ip::address_v6 six = address.to_v6();
  if (six.is_v4_mapped()) return net::ip::make_address_v4(net::ip::v4_mapped, six);
  six.scope_id(0);
  return six;
}

}  // namespace

void Network::Inside::greet(tcp::socket socket, bool with_tls) {
  Error fault;
  const tcp::endpoint remote = socket.remote_endpoint(fault);
  if (fault) return;
  const tcp::endpoint here = socket.local_endpoint(fault);
  if (fault) return;
  // A door at every address is also open at one that the whole world reaches: nobody is answered there.
  const net::ip::address at = plain(here.address());
  if (!at.is_loopback() && !is_of_own_network(at.to_string())) return;
  const net::ip::address address = plain(remote.address());
  const std::string peer = address.to_string();
  const auto known = per_peer.find(peer);
  const std::size_t of_peer = known == per_peer.end() ? 0 : known->second;
  if (guests.size() >= limits.connections || of_peer >= limits.connections_per_peer)
    return turn_away(std::move(socket));
  socket.set_option(tcp::no_delay(true), fault);
  if (with_tls)
    return std::make_shared<Undecided>(shared_from_this(), std::move(socket), peer, address.is_loopback())->begin();
  std::make_shared<Served<beast::tcp_stream>>(shared_from_this(), beast::tcp_stream(std::move(socket)),
                                              beast::flat_buffer(), peer, address.is_loopback())
      ->begin();
}

void Network::Inside::turn_away(tcp::socket socket) {
  ++turned_away;
  if (turned_away_words.empty()) turned_away_words = turned_away_text(handler);
  if (stopping) return;
  farewells.say(std::move(socket), turned_away_words);
}

void Network::Inside::enter(Guest* guest) {
  guests.insert(guest);
  ++per_peer[guest->peer];
  connection_count = guests.size();
}

void Network::Inside::leave(Guest* guest) {
  guests.erase(guest);
  const auto found = per_peer.find(guest->peer);
  if (--found->second == 0) per_peer.erase(found);
  connection_count = guests.size();
  if (stopping) end_if_drained();
}

void Network::Inside::cut_all() {
  const std::set<Guest*> left = guests;
  for (Guest* one : left) one->cut();
}

void Network::Inside::begin_stop() {
  if (std::exchange(stopping, true)) return;
  if (when_stopping) when_stopping();
  Error ignored;
  for (const auto& door : doors) {
    door->acceptor.close(ignored);
    door->again.cancel();
  }
  farewells.cut();
  const std::set<Guest*> now = guests;
  for (Guest* one : now) one->end_soon();
  drain.expires_after(limits.drain);
  drain.async_wait([self = shared_from_this()](const Error& error) {
    if (error) return;
    self->cut_all();
    if (self->signals) self->signals->cancel();
  });
  end_if_drained();
}

void Network::Inside::end_if_drained() {
  if (!guests.empty()) return;
  drain.cancel();
  if (signals) signals->cancel();
}

Network::Network(Handler& handler, Limits limits) : inside_(std::make_shared<Inside>(handler, limits)) {
  SSL_CTX* context = inside_->tls.native_handle();
  SSL_CTX_set_min_proto_version(context, TLS1_2_VERSION);
  SSL_CTX_set_options(context, SSL_OP_NO_RENEGOTIATION | SSL_OP_CIPHER_SERVER_PREFERENCE);
  SSL_CTX_set_session_cache_mode(context, SSL_SESS_CACHE_OFF);
}

Network::~Network() {
  // Replies that came after the end hold their connections: they are let go here.
  inside_->io.restart();
  inside_->io.poll();
}

Network::Opened Network::listen(const Listening& where) {
  Error fault;
  const auto address = net::ip::make_address(where.address, fault);
  if (fault) return {0, fault.message()};
  const tcp::endpoint endpoint(address, static_cast<unsigned short>(where.port));
  auto door = std::make_shared<Inside::Door>(inside_->io);
  door->tls = where.tls;
  door->acceptor.open(endpoint.protocol(), fault);
  if (!fault) door->acceptor.set_option(net::socket_base::reuse_address(true), fault);
  if (!fault && address.is_v6()) door->acceptor.set_option(net::ip::v6_only(!address.is_unspecified()), fault);
  if (!fault) door->acceptor.bind(endpoint, fault);
  if (!fault) door->acceptor.listen(net::socket_base::max_listen_connections, fault);
  if (fault) return {0, fault.message()};
  const int port = door->acceptor.local_endpoint(fault).port();
  inside_->doors.push_back(door);
  inside_->accept(door);
  return {port, ""};
}

std::string Network::identify(const Identity& identity) {
  Error fault;
  inside_->tls.use_certificate_chain(net::buffer(identity.chain), fault);
  if (!fault) inside_->tls.use_private_key(net::buffer(identity.key), net::ssl::context::pem, fault);
  return fault ? fault.message() : std::string();
}

void Network::run(std::function<void()> stopping) {
  inside_->when_stopping = std::move(stopping);
  inside_->signals.emplace(inside_->io, SIGTERM, SIGINT);
  inside_->signals->async_wait([inside = inside_](const Error& error, int) {
    if (error) return;
    inside->begin_stop();
    if (inside->guests.empty()) return;
    inside->signals->async_wait([inside](const Error& again, int) {  // asked twice: at once
      if (!again) inside->cut_all();
    });
  });
  inside_->io.run();
  inside_->signals.reset();
}

void Network::stop() {
  net::post(inside_->io, [inside = inside_] { inside->begin_stop(); });
}

NetworkCounts Network::counts() const {
  const Inside& at = *inside_;
  return {at.connection_count, at.stream_count, at.accepted, at.turned_away, at.timed_out, at.malformed};
}

ReadRequest read_request(std::string_view bytes, const Handler& handler, const Limits& limits) {
  Parser parser;
  prepare(parser, limits);
  Error fault;
  auto refused = [&](int status) { return ReadRequest{std::nullopt, status == 0 ? 400 : status}; };
  while (!parser.is_header_done()) {
    const std::size_t used = parser.put(net::buffer(bytes.data(), bytes.size()), fault);
    bytes.remove_prefix(used);
    if (fault == http::error::need_more) return refused(400);
    if (fault) return refused(status_of(fault));
  }
  const Request head = head_of(parser.get());
  if (!body_allowed(parser, handler.body_limit(head))) return refused(413);
  parser.eager(true);
  while (!parser.is_done()) {
    const std::size_t used = parser.put(net::buffer(bytes.data(), bytes.size()), fault);
    bytes.remove_prefix(used);
    if (fault == http::error::need_more || (!fault && used == 0)) return refused(400);
    if (fault) return refused(status_of(fault));
  }
  Request request = head;
  request.body = std::move(parser.get().body());
  return {std::move(request), 0};
}

}  // namespace zoneproof::server
