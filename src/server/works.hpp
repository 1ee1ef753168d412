#pragma once
#include <atomic>
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/language.hpp"
#include "base/message.hpp"
#include "base/parallel_for.hpp"
#include "results/questions.hpp"
#include "server/lane.hpp"

/// Work that takes longer than a person waits for an answer: begun, looked at, stopped, its files fetched.
namespace zoneproof::server {

struct WorkFile {
  std::string name;  ///< "handover.zip"
  std::string type;  ///< media type
  std::string bytes;
};

/// What work comes to: files, or problems.
struct WorkMade {
  std::vector<WorkFile> files;
  std::vector<Message> problems;
};

/// Calls `progress` now and then, which throws Stopped.
using WorkToDo = std::function<WorkMade(const results::Progress& progress)>;

class Works {
 public:
  struct About {
    std::string kind;  ///< "handover"
    std::string site;
    std::string who;
    Language language = Language::english;
  };
  /// `told` hears of every change, not more than some times a second while work goes on.
  using Told = std::function<void(const std::string& site, const nlohmann::ordered_json& state)>;

  explicit Works(Told told) : told_(std::move(told)) {}
  ~Works();

  /// Its number; nothing where too much is waiting already.
  std::optional<long long> begin(About about, WorkToDo work);
  /// {"number", "kind", "site", "who", "state", "says", "done", "problems", "files", "file"}; nothing where there is
  /// none of that number, or it was forgotten (an hour after its end, or when many came after it).
  std::optional<nlohmann::ordered_json> state(long long number);
  std::shared_ptr<const WorkFile> file(long long number, const std::string& name) const;
  /// Asks it to stop, and forgets its files where it had ended; false where there is none of that number.
  bool stop(long long number);
  /// Asks all to stop.
  void stop_all();
  /// The same, and waits for them.
  void close();
  std::size_t under_way() const;

 private:
  enum class State { waiting, running, done, failed, stopped };
  struct Work {
    long long number = 0;
    About about;
    State state = State::waiting;
    std::string says;
    std::vector<Message> problems;
    std::vector<std::shared_ptr<const WorkFile>> files;
    std::atomic<bool> stop{false};
    std::chrono::steady_clock::time_point ended{}, told{};
  };
  static nlohmann::ordered_json json_of(const Work& work);
  std::shared_ptr<Work> find(long long number) const;
  void run(const std::shared_ptr<Work>& work, const WorkToDo& to_do);
  void progress(const std::shared_ptr<Work>& work, const std::string& words);
  void finish(const std::shared_ptr<Work>& work, State state, WorkMade made);
  void forget_old();

  const Told told_;
  mutable std::mutex mutex_;
  std::map<long long, std::shared_ptr<Work>> works_;
  long long last_ = 0;
  Lane lane_{1, 8};
};

}  // namespace zoneproof::server
