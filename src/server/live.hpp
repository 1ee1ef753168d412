#pragma once
#include <cstddef>
#include <map>
#include <memory>
#include <mutex>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "server/http.hpp"

namespace zoneproof::server {

/// Who follows which site, and what they are told: server-sent events of a site ("revision", "people", "work"), and
/// "hello" at first. What is lost on the way is not repeated: "hello" of the next stream tells the revision, and the
/// page fetches what it lacks. May be used from any thread.
class Live {
 public:
  struct Listener {
    std::string site;
    std::string person;  ///< empty: nobody is logged in anywhere
    std::string role;
    std::string login;  ///< of the visit: when that ends, the stream does
  };

  /// Opens a stream on `reply` and tells all listeners of the site who is there now.
  void follow(const Listener& listener, const nlohmann::ordered_json& hello, Response head, Reply& reply);
  void tell(const std::string& site, const std::string& event, const nlohmann::ordered_json& data);
  void end_of_login(const std::string& login);
  void end_of_person(const std::string& person);
  void end_all();
  std::size_t listeners() const;

 private:
  struct Followed {
    Listener listener;
    std::shared_ptr<Stream> stream;  ///< null until it is open
  };
  struct Inside;
  std::shared_ptr<Inside> inside_ = make_inside();
  static std::shared_ptr<Inside> make_inside();
};

}  // namespace zoneproof::server
