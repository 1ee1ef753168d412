// Any bytes as a sequence of calls at the engine's door: every call is answered by results, no call meets a fault of
// the program, what is refused changes nothing, an undo takes the content back, and no session ever loses its site or
// touches another's. The bytes are read as Calls below tells.
#include <cstdint>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "browser/door.hpp"
#include "fuzz/held.hpp"
#include "site/small_site.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;
using Json = nlohmann::ordered_json;

constexpr int kMostCalls = 8;

/// Under the sanitizers a proof takes seconds: an input makes one. Of more it would be the proofs that are tried, and
/// not the session.
constexpr int kMostProofs = 1;

/// Questions of every kind; an index beyond them takes the question from the bytes.
constexpr const char* kQuestions[] = {
    R"({"command": "check"})",
    R"({"command": "prove"})",
    R"({"command": "prove", "links": ["loop"], "zone": "1"})",
    R"({"command": "levels", "condition": "mains"})",
    R"({"command": "supply"})",
    R"({"command": "netlist"})",  // what stands before it solves networks
    R"({"command": "terminal"})",
    R"({"command": "terminal", "open": ["4.98V"], "meter": "10M/1%", "error": "0.5%+3"})",
    R"({"command": "schema", "field": "/zones/*/loop"})",
    R"({"command": "rules", "book": "none_such"})",
    R"({"command": "levels", "zone": 7})",
};

/// Operations on the small site, some of which cannot be done; an index beyond them takes them from the bytes.
constexpr const char* kOperations[] = {
    R"([{"op": "replace", "path": "/name", "value": "Another name"}])",
    R"([])",
    R"([{"op": "remove", "path": "/triggers"}])",
    R"([{"op": "add", "path": "/areas/attic", "value": {"name": "Attic"}}])",
    R"([{"op": "replace", "path": "/areas", "value": {}}])",
    R"([{"op": "replace", "path": "/cables/run/length_m", "value": {"value": 250, "tolerance_pct": 10}}])",
    R"([{"op": "replace", "path": "/cables/run/length_m", "value": null}])",
    R"([{"op": "move", "from": "/cables/run", "path": "/cables/walk"}])",
    R"([{"op": "test", "path": "/name", "value": "nobody"}])",
    R"([{"op": "replace", "path": "/zones/door/number", "value": 0.5}])",
    R"([{"op": "replace", "path": "/parts/terminal/zone_terminal/source_V", "value": {"min": -3, "value": 5, "max": 90}}])",
    R"([{"op": "replace", "path": "/revision", "value": 9}])",
};

/// The bytes as numbers and texts. What is missing at the end is 0 and "".
class Calls {
 public:
  Calls(const std::uint8_t* data, std::size_t size) : rest_(reinterpret_cast<const char*>(data), size) {}
  bool any() const { return !rest_.empty(); }
  unsigned number() {
    if (rest_.empty()) return 0;
    const auto byte = static_cast<unsigned char>(rest_.front());
    rest_.remove_prefix(1);
    return byte;
  }
  /// Up to the next zero byte.
  std::string_view text() {
    const std::size_t end = rest_.find('\0');
    const std::string_view text = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return text;
  }

 private:
  std::string_view rest_;
};

/// An answer's results; the form of every answer is held to here.
Json results_of(const std::string& answer) {
  const Json json = Json::parse(answer, nullptr, false);
  hold(json.is_object() && json.value("format", "") == "zoneproof-results", "every call is answered by results");
  Json results = json.at("results");
  hold(results.at("command").is_string(), "results name their command");
  if (!results.contains("problems") || results.at("command") == "check") return results;
  hold(!results.at("problems").empty(), "a refusal has a reason");
  for (const Json& problem : results.at("problems")) {
    if (problem.at("code") == "own_fault") std::fprintf(stderr, "%s\n", problem.dump().c_str());
    hold(problem.at("code") != "own_fault", "no call meets a fault of the program");
    hold(!problem.at("text").get<std::string>().empty(), "a problem has words");
  }
  return results;
}

/// What a session has to hold.
struct Expected {
  std::string text;            ///< of its site
  std::string undo;            ///< of the last edit; empty where there was none
  std::string content_before;  ///< what that undo leads back to
};

std::string without_revision(const std::string& text) {
  Json site = Json::parse(text);
  site.erase("revision");
  return site.dump();
}

class Played {
 public:
  void call(Calls& calls) {
    const unsigned what = calls.number() % 6, session = 1 + calls.number() % 3;
    switch (what) {
      case 0: return open(calls);
      case 1: return apply(session, calls);
      case 2: return undo(session);
      case 3: return ask(session, calls);
      case 4: return hold_site(session);
      default: return close(session);
    }
  }
  void hold_all() {
    for (const auto& entry : expected_) hold_site(entry.first);
    hold(door_.open_sessions() == expected_.size(), "as many sessions as were opened");
  }

 private:
  void open(Calls& calls) {
    const bool small = calls.number() % 2 == 0;
    const std::string text(small ? site::kSmallSite : calls.text());
    const Json results = results_of(door_.open(text, "site"));
    if (!results.contains("session")) return hold(!small, "a good site opens");
    const long long session = results.at("session");
    hold(session == ++opened_, "sessions are counted");
    expected_[session].text = text_of(session);
  }

  void apply(long long session, Calls& calls) {
    const bool right_base = calls.number() % 8 != 0;
    const unsigned which = calls.number() % (std::size(kOperations) + 1);
    const std::string operations(which < std::size(kOperations) ? kOperations[which] : calls.text());
    const auto found = expected_.find(session);
    const std::string base = found == expected_.end() ? "{}" : base_of(found->second.text, right_base);
    edit(session, R"({"format": "zoneproof-patch", "version": 1, "base_revision": )" + base + R"(, "operations": )" +
                      operations + "}");
  }

  void undo(long long session) {
    const auto found = expected_.find(session);
    if (found == expected_.end() || found->second.undo.empty()) return;
    const std::string content = found->second.content_before;
    hold(edit(session, found->second.undo), "an undo applies");
    hold(without_revision(found->second.text) == content, "an undo takes the content back");
  }

  bool edit(long long session, const std::string& patch) {
    const Json results = results_of(door_.apply(session, patch));
    const auto found = expected_.find(session);
    if (!results.contains("revision")) {
      if (found != expected_.end()) hold_site(session);
      return false;
    }
    hold(found != expected_.end(), "only an open session is edited");
    Expected& expected = found->second;
    expected.content_before = without_revision(expected.text);
    expected.undo = results.at("undo").dump();
    expected.text = text_of(session);
    hold(Json::parse(expected.text).at("revision") == results.at("revision").at("number"), "the revision is told");
    return true;
  }

  void ask(long long session, Calls& calls) {
    const unsigned which = calls.number() % (std::size(kQuestions) + 1);
    const std::string question(which < std::size(kQuestions) ? kQuestions[which] : calls.text());
    const bool solves = which < 5 || which == std::size(kQuestions);
    if (solves && ++proofs_ > kMostProofs) return;
    const std::string answer = door_.ask(session, question);
    if (answer.find("\"$schema\"") == std::string::npos) results_of(answer);
    if (expected_.count(session) != 0) hold_site(session);
  }

  void close(long long session) {
    const Json results = results_of(door_.close(session));
    hold((expected_.erase(session) == 1) != results.contains("problems"), "what is open is closed");
  }

  std::string text_of(long long session) {
    const Json results = results_of(door_.site(session));
    hold(results.contains("text"), "an open session has its site");
    return results.at("text");
  }

  void hold_site(long long session) {
    const auto found = expected_.find(session);
    if (found == expected_.end()) {
      hold(results_of(door_.site(session)).contains("problems"), "what is closed has no site");
    } else {
      hold(text_of(session) == found->second.text, "a session keeps its site");
    }
  }

  static std::string base_of(const std::string& text, bool right) {
    const site::Site site = *site::read_site(text, "site").site;
    return R"({"number": )" + std::to_string(site.revision + (right ? 0 : 1)) + R"(, "sha256": ")" +
           site::site_hash(site) + "\"}";
  }

  browser::Door door_;
  long long opened_ = 0;
  int proofs_ = 0;
  std::map<long long, Expected> expected_;
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Calls calls(data, size);
  Played played;
  for (int i = 0; i < kMostCalls && calls.any(); ++i) played.call(calls);
  played.hold_all();
  return 0;
}
