#include "server/works.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "messages/results.hpp"
#include "results/results.hpp"

namespace zoneproof::server {

using Json = nlohmann::ordered_json;
using Clock = std::chrono::steady_clock;

namespace {

constexpr std::size_t kMostEnded = 8;  // whose files are kept
constexpr std::chrono::hours kKept{1};
constexpr std::chrono::milliseconds kBetweenWords{200};
constexpr const char* kStateWords[] = {"waiting", "running", "done", "failed", "stopped"};

}  // namespace

Works::~Works() { close(); }

Json Works::json_of(const Work& work) {
  const SpokenLanguage spoken(work.about.language);
  Json files = Json::array();
  const std::string folder = "/api/work/" + std::to_string(work.number) + "/files/";
  for (const auto& file : work.files)
    files.push_back(
        {{"name", file->name}, {"type", file->type}, {"bytes", file->bytes.size()}, {"address", folder + file->name}});
  return {{"number", work.number},
          {"kind", work.about.kind},
          {"site", work.about.site},
          {"who", work.about.who},
          {"state", kStateWords[static_cast<int>(work.state)]},
          {"done", work.state == State::done ? Json(1) : Json(nullptr)},
          {"says", work.says},
          {"problems", results::json_of(work.problems)},
          {"file", work.files.empty() ? Json(nullptr) : Json(folder + work.files.front()->name)},
          {"files", std::move(files)}};
}

std::optional<long long> Works::begin(About about, WorkToDo to_do) {
  auto work = std::make_shared<Work>();
  {
    const std::lock_guard lock(mutex_);
    forget_old();
    work->number = ++last_;
    work->about = std::move(about);
    works_.emplace(work->number, work);
  }
  if (lane_.put([this, work, to_do = std::move(to_do)] { run(work, to_do); })) return work->number;
  const std::lock_guard lock(mutex_);
  works_.erase(work->number);
  return std::nullopt;
}

void Works::run(const std::shared_ptr<Work>& work, const WorkToDo& to_do) {
  const SpokenLanguage spoken(work->about.language);
  try {
    {
      const std::lock_guard lock(mutex_);
      if (!work->stop) work->state = State::running;
    }
    progress(work, "");
    WorkMade made = to_do([this, &work](const std::string& words) { progress(work, words); });
    if (work->stop) throw Stopped();
    // What could be made is handed out beside what is wrong with the rest, as the command does.
    const State state = any_error(made.problems) && made.files.empty() ? State::failed : State::done;
    finish(work, state, std::move(made));
  } catch (const Stopped&) {
    finish(work, State::stopped, {});
  } catch (const std::exception& fault) {
    finish(work, State::failed, {{}, {say::own_fault(fault.what())}});
  }
}

void Works::progress(const std::shared_ptr<Work>& work, const std::string& words) {
  if (work->stop) throw Stopped();
  Json state;
  {
    const std::lock_guard lock(mutex_);
    work->says = words;
    const auto now = Clock::now();
    if (now - work->told < kBetweenWords) return;
    work->told = now;
    state = json_of(*work);
  }
  told_(work->about.site, state);
}

void Works::finish(const std::shared_ptr<Work>& work, State state, WorkMade made) {
  Json told;
  {
    const std::lock_guard lock(mutex_);
    work->state = state;
    work->says.clear();
    work->ended = Clock::now();
    work->problems = std::move(made.problems);
    for (WorkFile& file : made.files) work->files.push_back(std::make_shared<const WorkFile>(std::move(file)));
    told = json_of(*work);
  }
  told_(work->about.site, told);
}

/// Under the lock.
void Works::forget_old() {
  std::vector<std::pair<Clock::time_point, long long>> ended;
  for (const auto& [number, work] : works_)
    if (work->ended != Clock::time_point{}) ended.emplace_back(work->ended, number);
  std::sort(ended.rbegin(), ended.rend());
  for (std::size_t i = 0; i < ended.size(); ++i)
    if (i >= kMostEnded || Clock::now() - ended[i].first > kKept) works_.erase(ended[i].second);
}

std::shared_ptr<Works::Work> Works::find(long long number) const {
  const auto found = works_.find(number);
  return found == works_.end() ? nullptr : found->second;
}

std::optional<Json> Works::state(long long number) {
  const std::lock_guard lock(mutex_);
  forget_old();
  const auto work = find(number);
  return work ? std::optional(json_of(*work)) : std::nullopt;
}

std::shared_ptr<const WorkFile> Works::file(long long number, const std::string& name) const {
  const std::lock_guard lock(mutex_);
  const auto work = find(number);
  if (!work) return nullptr;
  for (const auto& file : work->files)
    if (file->name == name) return file;
  return nullptr;
}

bool Works::stop(long long number) {
  const std::lock_guard lock(mutex_);
  const auto work = find(number);
  if (!work) return false;
  work->stop = true;
  work->files.clear();
  return true;
}

void Works::stop_all() {
  const std::lock_guard lock(mutex_);
  for (const auto& entry : works_) entry.second->stop = true;
}

void Works::close() {
  stop_all();
  lane_.close();
}

std::size_t Works::under_way() const {
  const std::lock_guard lock(mutex_);
  return static_cast<std::size_t>(std::count_if(
      works_.begin(), works_.end(), [](const auto& entry) { return entry.second->ended == Clock::time_point{}; }));
}

}  // namespace zoneproof::server
