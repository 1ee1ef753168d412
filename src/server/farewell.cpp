#include "server/farewell.hpp"

#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/asio/steady_timer.hpp>
#include <utility>

namespace zoneproof::server {

namespace net = boost::asio;
using tcp = net::ip::tcp;
using Error = boost::system::error_code;

class Farewells::Leaving : public std::enable_shared_from_this<Leaving> {
 public:
  Leaving(Farewells& of, tcp::socket socket) : of_(&of), socket_(std::move(socket)), timer_(socket_.get_executor()) {}

  void begin() {
    timer_.expires_after(of_->longest_);
    timer_.async_wait([self = shared_from_this()](const Error& stopped) {
      if (!stopped) self->close();
    });
    read();
  }

  void close() {
    Error ignored;
    timer_.cancel();
    socket_.close(ignored);
    if (Farewells* of = std::exchange(of_, nullptr)) of->leaving_.erase(shared_from_this());
  }

 private:
  void read() {
    socket_.async_read_some(net::buffer(thrown_away_), [self = shared_from_this()](const Error& error, std::size_t) {
      error ? self->close() : self->read();
    });
  }

  Farewells* of_;  ///< nobody: it is closed
  tcp::socket socket_;
  net::steady_timer timer_;
  std::array<char, 4096> thrown_away_{};
};

Farewells::~Farewells() { cut(); }

void Farewells::say(tcp::socket socket, const std::string& words) {
  Error ignored;
  socket.non_blocking(true, ignored);
  socket.write_some(net::buffer(words), ignored);
  socket.shutdown(tcp::socket::shutdown_send, ignored);
  if (leaving_.size() >= most_) return;
  const auto one = std::make_shared<Leaving>(*this, std::move(socket));
  leaving_.insert(one);
  one->begin();
}

void Farewells::cut() {
  const std::set<std::shared_ptr<Leaving>> now = leaving_;
  for (const std::shared_ptr<Leaving>& one : now) one->close();
}

}  // namespace zoneproof::server
