#include "server/live.hpp"

#include <nlohmann/json.hpp>
#include <set>

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

/// Outlives the hub where a connection ends later than that.
struct Live::Inside {
  mutable std::mutex mutex;
  std::map<long long, Followed> listeners;
  long long last = 0;

  static std::shared_ptr<const std::string> event_text(const std::string& event, const Json& data) {
    return std::make_shared<const std::string>("event: " + event + "\ndata: " + data.dump() + "\n\n");
  }

  /// Under the lock.
  void tell(const std::string& site, const std::string& event, const Json& data) {
    const auto text = event_text(event, data);
    for (const auto& entry : listeners)
      if (entry.second.listener.site == site && entry.second.stream) entry.second.stream->send(text);
  }

  /// Under the lock: each person once, with how many pages they have open.
  void tell_people(const std::string& site) {
    std::map<std::string, std::pair<std::string, int>> here;
    for (const auto& entry : listeners)
      if (entry.second.listener.site == site) {
        auto& one = here[entry.second.listener.person];
        one.first = entry.second.listener.role;
        ++one.second;
      }
    Json people = Json::array();
    for (const auto& [name, one] : here)
      people.push_back(
          {{"name", name.empty() ? Json(nullptr) : Json(name)}, {"role", one.first}, {"pages", one.second}});
    tell(site, "people", {{"people", std::move(people)}});
  }

  void left(long long number) {
    const std::lock_guard lock(mutex);
    const auto found = listeners.find(number);
    if (found == listeners.end()) return;
    const std::string site = found->second.listener.site;
    listeners.erase(found);
    tell_people(site);
  }

  template <class Which>
  void end(Which which) {
    const std::lock_guard lock(mutex);
    for (const auto& entry : listeners)
      if (which(entry.second.listener) && entry.second.stream) entry.second.stream->end();
  }
};

std::shared_ptr<Live::Inside> Live::make_inside() { return std::make_shared<Inside>(); }

void Live::follow(const Listener& listener, const Json& hello, Response head, Reply& reply) {
  const std::lock_guard lock(inside_->mutex);
  const long long number = ++inside_->last;
  auto stream = reply.stream(std::move(head), [inside = inside_, number] { inside->left(number); });
  stream->send(Inside::event_text("hello", hello));
  inside_->listeners.emplace(number, Followed{listener, std::move(stream)});
  inside_->tell_people(listener.site);
}

void Live::tell(const std::string& site, const std::string& event, const Json& data) {
  const std::lock_guard lock(inside_->mutex);
  inside_->tell(site, event, data);
}

void Live::end_of_login(const std::string& login) {
  inside_->end([&](const Listener& one) { return one.login == login; });
}

void Live::end_of_person(const std::string& person) {
  inside_->end([&](const Listener& one) { return one.person == person; });
}

void Live::end_all() {
  inside_->end([](const Listener&) { return true; });
}

std::size_t Live::listeners() const {
  const std::lock_guard lock(inside_->mutex);
  return inside_->listeners.size();
}

}  // namespace zoneproof::server
