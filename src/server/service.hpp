#pragma once
#include <atomic>
#include <chrono>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "book/book.hpp"
#include "server/guard.hpp"
#include "server/http.hpp"
#include "server/lane.hpp"
#include "server/live.hpp"
#include "server/metrics.hpp"
#include "server/network.hpp"
#include "server/open_sites.hpp"
#include "server/page_files.hpp"
#include "server/route.hpp"
#include "server/visits.hpp"
#include "server/works.hpp"

namespace zoneproof::server {

struct ServiceSettings {
  std::string key;  ///< of visits (secrets.hpp)
  std::string cookie = "zoneproof_visit";
  std::string page_folder;    ///< empty: the page in the program
  Names names;                ///< beside those of the loopback address
  std::string authority_pem;  ///< certificate of the program's own authority; empty: there is none
  std::string authority_der;
};

/// Answers every request. Each passes, in this order: its target and Host; its route; that it comes from the program's
/// own page; who it is; that whoever it is may; its token where it changes something; and then what the route does, on
/// the lane that is meant for it.
class Service : public Handler {
 public:
  Service(book::Book& book, ServiceSettings settings);
  ~Service() override;

  void handle(Request request, std::shared_ptr<Reply> reply) override;
  std::size_t body_limit(const Request& head) const override;
  Response refused(int status, const Request& head) const override;

  /// New requests are told to come again, streams end, long work is stopped; what was begun is answered.
  void stop_taking();
  /// Waits for what is under way. After it nothing is answered.
  void close();

  bool has_page() const { return page_.there(); }

  /// What it has become when it listens, before the first request: the network to count, and addresses of the page that
  /// leads a phone through trusting ("http://192.168.1.5:8460/trust").
  void listening(const Network* network, std::vector<std::string> trust_addresses) {
    network_ = network;
    trust_addresses_ = std::move(trust_addresses);
  }

 private:
  friend const std::vector<Route>& routes();

  void begin(std::shared_ptr<Call> call);
  void in_lane(const std::shared_ptr<Call>& call, void (Service::*next)(const std::shared_ptr<Call>&), LaneOf lane);
  void admit(const std::shared_ptr<Call>& call);
  void answer(const std::shared_ptr<Call>& call);
  std::optional<Response> not_for_this_visitor(const Call& call) const;
  std::optional<Response> not_over_plain(const Request& request, const Target& target) const;
  void finish(Call& call, Response response);
  Response outside_of_interface(const Call& call) const;

  // What the routes do (api_*.cpp). An empty answer: the reply was taken over.
  using Answer = std::optional<Response>;
  Answer health(Call& call);
  Answer metrics(Call& call);
  Answer authority(Call& call);
  Answer trust(Call& call);
  Answer visit(Call& call);
  Answer log_in(Call& call);
  Answer log_out(Call& call);
  Answer people(Call& call);
  Answer add_person(Call& call);
  Answer change_person(Call& call);
  Answer remove_person(Call& call);
  Answer sites(Call& call);
  Answer make_site(Call& call);
  Answer site(Call& call);
  Answer edit(Call& call);
  Answer revisions(Call& call);
  Answer revision(Call& call);
  Answer ask(Call& call);
  Answer trial(Call& call);
  Answer drawing(Call& call);
  Answer begin_handover(Call& call);
  Answer work(Call& call);
  Answer work_file(Call& call);
  Answer stop_work(Call& call);
  Answer live(Call& call);
  Answer keep_file(Call& call);
  Answer file(Call& call);
  Answer schema(Call& call);
  Answer parts(Call& call);
  Answer rules(Call& call);

  Response keep_edit(const Call& call, const OpenSite& open, book::Edit edit, std::string patch);
  Response visit_response(const Visitor& visitor, bool secure) const;
  std::vector<Message> last_designer_problem(const std::string& name);

  book::Book& book_;
  const ServiceSettings settings_;
  const PageFiles page_;
  Visits visits_;
  std::mutex people_turn_;  ///< "another designer is left" is looked up and acted upon in one go
  OpenSites open_sites_;
  Live live_;
  Metrics metrics_;
  const Network* network_ = nullptr;
  std::vector<std::string> trust_addresses_;
  std::atomic<bool> stopping_{false};
  Works works_;
  Lane short_, doors_, long_;
};

}  // namespace zoneproof::server
