#include "server/serve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <variant>

#include "messages/server.hpp"
#include "server/authority.hpp"
#include "server/own_network.hpp"
#include "server/secrets.hpp"
#include "server/service.hpp"

namespace zoneproof::server {

namespace {

namespace fs = std::filesystem;

std::string in_url(const std::string& address) {
  return address.find(':') == std::string::npos ? address : "[" + address + "]";
}

/// One program that serves a book, from what was asked to its end.
class Serving {
 public:
  explicit Serving(const ServeAsked& asked) : asked_(asked) {}

  std::vector<Message> run(const std::function<void(const Begun&)>& begun) {
    if (!prepare()) return std::move(problems_);
    Service service(*book_, std::move(settings_));
    Network network(service, Limits{});
    told_.page = service.has_page();
    if (!open(network)) return std::move(problems_);
    service.listening(&network, told_.trust);
    begun(told_);
    network.run([&] { service.stop_taking(); });
    service.close();
    return {};
  }

 private:
  bool prepare() {
    const auto kind = asked_.address.empty() ? IpKind::loopback : kind_of_address(asked_.address);
    if (!kind) {
      problems_.push_back(say::server_address_bad(asked_.address));
      return false;
    }
    elsewhere_ = *kind != IpKind::loopback;
    if (elsewhere_ && *kind != IpKind::unspecified && !is_of_own_network(asked_.address)) {
      problems_.push_back(say::server_address_public(asked_.address));
      return false;
    }
    auto opened = book::Book::open({asked_.book, asked_.postgresql});
    if (!opened.answer) {
      problems_ = std::move(opened.problems);
      return false;
    }
    book_ = *std::move(opened.answer);
    told_.notes = book_->notes();
    const auto people = book_->people();
    if (!people.answer) {
      problems_ = people.problems;
      return false;
    }
    told_.login_needed = !people.answer->empty();
    if (elsewhere_ && people.answer->empty()) {
      problems_.push_back(say::server_needs_people(asked_.address));
      return false;
    }
    const auto key = key_of_file((fs::path(asked_.book) / "visits.key").string(), problems_);
    if (!key) return false;
    settings_.key = *key;
    settings_.page_folder = asked_.page_folder;
    settings_.names.insert(asked_.names.begin(), asked_.names.end());
    return !elsewhere_ || have_authority();
  }

  bool have_authority() {
    called_ = called_of_machine();
    called_.names.insert(asked_.names.begin(), asked_.names.end());
    if (is_of_own_network(asked_.address)) called_.addresses.insert(asked_.address);
    for (auto one = called_.addresses.begin(); one != called_.addresses.end();)
      one = is_of_own_network(*one) ? std::next(one) : called_.addresses.erase(one);
    authority_ = authority_of(asked_.book, called_, problems_);
    if (!authority_) return false;
    settings_.authority_pem = authority_->certificate;
    settings_.authority_der = authority_->der;
    settings_.names.insert(called_.names.begin(), called_.names.end());
    settings_.names.insert(called_.addresses.begin(), called_.addresses.end());
    told_.fingerprint = fingerprint(authority_->der);
    return true;
  }

  bool listen(Network& network, const std::string& address) {
    const Network::Opened opened = network.listen({address, port_, authority_.has_value()});
    if (opened.fault.empty()) {
      port_ = opened.port;
      return true;
    }
    problems_.push_back(say::server_cannot_listen(address, port_, opened.fault));
    return false;
  }

  /// The port is known when the first door is open, and what a phone is to be told needs it.
  bool open(Network& network) {
    port_ = asked_.port;
    if (authority_)
      if (const std::string fault = network.identify(authority_->identity); !fault.empty()) {
        problems_.push_back(say::server_key_file_bad(fault));
        return false;
      }
    const bool everywhere = elsewhere_ && kind_of_address(asked_.address) == IpKind::unspecified;
    if (!everywhere && !listen(network, "127.0.0.1")) return false;
    if (elsewhere_ && !listen(network, asked_.address)) return false;
    if (!everywhere) listen_to_ipv6_of_machine(network);
    told_.address = fmt::format("http://127.0.0.1:{}/", port_);
    tell_others(everywhere);
    return true;
  }

  /// A machine without IPv6 has none of that.
  void listen_to_ipv6_of_machine(Network& network) const { network.listen({"::1", port_, authority_.has_value()}); }

  void tell_others(bool everywhere) {
    if (!elsewhere_) return;
    const std::set<std::string> all = everywhere ? called_.addresses : std::set<std::string>{asked_.address};
    for (const std::string& address : all) {
      told_.elsewhere.push_back(fmt::format("https://{}:{}/", in_url(address), port_));
      told_.trust.push_back(fmt::format("http://{}:{}/trust", in_url(address), port_));
    }
  }

  const ServeAsked& asked_;
  std::vector<Message> problems_;
  std::unique_ptr<book::Book> book_;
  ServiceSettings settings_;
  bool elsewhere_ = false;
  int port_ = 0;
  Called called_;
  std::optional<Authority> authority_;
  Begun told_;
};

}  // namespace

std::vector<Message> serve(const ServeAsked& asked, const std::function<void(const Begun&)>& begun) {
  return Serving(asked).run(begun);
}

std::vector<Message> set_password(const ServeAsked& asked, const std::string& name, const std::string& role,
                                  const std::string& password) {
  std::vector<Message> problems = person_problems(name);
  for (Message& problem : password_problems(password)) problems.push_back(std::move(problem));
  const auto as = book::role_of(role.empty() ? book::word_of(book::Role::designer) : std::string_view(role));
  if (!as) problems.push_back(say::server_no_such_role(role, role_words()));
  if (!problems.empty()) return problems;
  auto opened = book::Book::open({asked.book, asked.postgresql});
  if (!opened.answer) return std::move(opened.problems);
  book::Book& book = **opened.answer;
  const auto found = book.person(name);
  if (!found.answer) return found.problems;
  if (!*found.answer) {
    const auto people = book.people();
    if (!people.answer) return people.problems;
    if (people.answer->empty() && *as != book::Role::designer) return {say::server_first_is_designer()};
    return book.add_person({name, *as, hash_of_password(password)}).problems;
  }
  book::Person person = **found.answer;
  if (!role.empty()) person.role = *as;
  person.password = hash_of_password(password);
  return book.change_person(person).problems;
}

std::string usual_book() {
  auto variable = [](const char* name) {
    const char* value = std::getenv(name);
    return std::string(value == nullptr ? "" : value);
  };
  const std::string data = variable("XDG_DATA_HOME");
  if (!data.empty()) return (fs::path(data) / "zoneproof").string();
  return (fs::path(variable("HOME")) / ".local" / "share" / "zoneproof").string();
}

}  // namespace zoneproof::server
