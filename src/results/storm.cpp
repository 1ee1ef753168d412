#include "results/storm.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <random>

#include "chain/limit.hpp"
#include "electric/naming.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"
#include "site/number_form.hpp"
#include "site/relations.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

constexpr long long kUsualRuns = 100, kMostRuns = 1'000'000;
constexpr std::size_t kMostOfLog = 100'000;

double seconds(carriage::Nanoseconds time) {
  return static_cast<double>(time) / static_cast<double>(carriage::kNanosecondsPerSecond);
}

std::optional<unsigned long long> whole_number(const std::string& text) {
  if (text.empty() || text.size() > 18 || text.find_first_not_of("0123456789") != std::string::npos)
    return std::nullopt;
  return std::stoull(text);
}

/// Clips released at random within a time; streams are there from the beginning. The remainder of a random number of
/// 64 bits is as good as even for times of seconds in nanoseconds.
void release(carriage::SiteStorm& storm, double within_s, std::mt19937_64& random) {
  const auto range = static_cast<std::uint64_t>(within_s * static_cast<double>(carriage::kNanosecondsPerSecond)) + 1;
  for (const carriage::SiteClip& clip : storm.clips)
    if (clip.flow) storm.storm.flows[*clip.flow].release = static_cast<carriage::Nanoseconds>(random() % range);
}

void take(StormAnswer& answer, const carriage::SiteStorm& storm, const carriage::Outcome& outcome) {
  for (std::size_t i = 0; i < storm.clips.size(); ++i) {
    if (!storm.clips[i].flow) continue;
    const carriage::Delivery& came = outcome.flows[*storm.clips[i].flow];
    const carriage::Nanoseconds release = storm.storm.flows[*storm.clips[i].flow].release;
    StormClip& clip = answer.clips[i];
    // What is sent when it is complete is released then, and was asked for before.
    const double since = storm.clips[i].released_s;
    clip.first_picture_s = std::max(clip.first_picture_s.value_or(0.0), since + seconds(came.first_picture - release));
    clip.complete_s = std::max(clip.complete_s.value_or(0.0), since + seconds(came.complete - release));
  }
  for (std::size_t i = 0; i < outcome.hops.size(); ++i)
    answer.queues[i].backlog_bits =
        std::max(answer.queues[i].backlog_bits, static_cast<double>(outcome.hops[i].most_bits));
}

/// What a flow is, in the log.
std::string flow_words(const site::Site& site, const carriage::SiteStorm& storm, std::size_t flow) {
  for (const carriage::SiteClip& clip : storm.clips)
    if (clip.flow == flow)
      return text(say::log_clip(electric::thing_words(site, site.triggers.at(clip.trigger).zone.id),
                                electric::thing_words(site, site.channels.at(clip.channel).camera.id)));
  for (const carriage::SiteStream& stream : storm.streams)
    if (stream.flow == flow) return text(say::log_stream(electric::thing_words(site, stream.camera)));
  return "";
}

std::string hop_words(const site::Site& site, const carriage::SiteHop& hop) {
  return electric::thing_words(site, hop.thing);
}

Message log_message(carriage::Happening what, const Measure& at, const std::string& flow, const std::string& hop) {
  using carriage::Happening;
  switch (what) {
    case Happening::released: return say::log_released(at, flow);
    case Happening::queued: return say::log_queued(at, flow, hop);
    case Happening::sent: return say::log_sent(at, flow, hop);
    case Happening::first_picture: return say::log_first_picture(at, flow);
    case Happening::complete: break;
  }
  return say::log_complete(at, flow);
}

/// Streams go on all the time: of them a log would say nothing but that.
std::vector<std::string> log_of(const site::Site& site, const carriage::SiteStorm& storm,
                                const std::vector<carriage::LogLine>& lines) {
  std::vector<std::string> log;
  for (const carriage::LogLine& line : lines) {
    const bool clip = std::any_of(storm.clips.begin(), storm.clips.end(),
                                  [&](const carriage::SiteClip& one) { return one.flow == line.flow; });
    if (!clip) continue;
    if (log.size() == kMostOfLog) {
      log.push_back(text(say::log_cut(static_cast<long long>(kMostOfLog))));
      break;
    }
    const std::string hop = line.hop ? hop_words(site, storm.hops[*line.hop]) : std::string();
    log.push_back(text(log_message(line.what, {seconds(line.time), "s", 6}, flow_words(site, storm, line.flow), hop)));
  }
  return log;
}

}  // namespace

bool StormAnswer::all_bounded() const {
  return !clips.empty() && std::all_of(clips.begin(), clips.end(), [](const StormClip& clip) {
    return clip.bound.gaps.empty() && clip.bound.first_picture_s && clip.bound.complete_s;
  });
}

Answered<StormAnswer> answer(const site::Site& site, const StormQuestion& question, const Progress& progress) {
  Answered<StormAnswer> out;
  const auto runs = question.runs.empty() ? kUsualRuns : whole_number(question.runs);
  const auto seed = question.seed.empty() ? 1 : whole_number(question.seed);
  if (!runs || *runs < 1 || *runs > static_cast<unsigned long long>(kMostRuns))
    out.problems.push_back(say::runs_wanted(question.runs, kMostRuns));
  if (!seed) out.problems.push_back(say::seed_wanted(question.seed));
  if (!out.problems.empty()) return out;
  carriage::SiteStorm storm = carriage::storm_of(site);
  StormAnswer answer;
  answer.runs = static_cast<long long>(*runs);
  answer.seed = *seed;
  answer.within_s = chain::limit_of(site, "storm_s").value.value_or(0.0);
  answer.first_picture_limit_s = chain::limit_of(site, "first_picture_s").value;
  answer.complete_limit_s = chain::limit_of(site, "clip_complete_s").value;
  for (carriage::ClipBound& bound : carriage::clip_bounds(storm)) answer.clips.push_back({std::move(bound), {}, {}});
  for (std::size_t i = 0; i < storm.hops.size(); ++i)
    answer.queues.push_back({storm.hops[i], static_cast<double>(storm.storm.hops[i].rate_bps), 0.0, 0.0});
  std::mt19937_64 random(answer.seed);
  for (long long run = 0; run < answer.runs && !storm.storm.flows.empty(); ++run) {
    release(storm, answer.within_s, random);
    std::vector<carriage::LogLine> log;
    const bool wanted = question.log && run == 0;
    take(answer, storm, carriage::simulate(storm.storm, wanted ? &log : nullptr));
    if (wanted) answer.log = log_of(site, storm, log);
    if (progress) progress(text(say::progress_runs(run + 1, answer.runs)));
  }
  std::erase_if(answer.queues, [](const StormQueue& queue) { return !queue.hop.known; });
  for (StormQueue& queue : answer.queues) queue.waits_s = queue.backlog_bits / queue.rate_bps;
  std::stable_sort(answer.queues.begin(), answer.queues.end(),
                   [](const StormQueue& a, const StormQueue& b) { return a.waits_s > b.waits_s; });
  out.answer = std::move(answer);
  return out;
}

Json json_of(const site::Site& site, const StormAnswer& answer) {
  Json clips = Json::array(), queues = Json::array();
  for (const StormClip& clip : answer.clips) {
    Json gaps = Json::array();
    for (const chain::Gap& gap : clip.bound.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
    const site::Ref& zone = site.triggers.at(clip.bound.trigger).zone;
    clips.push_back({{"trigger", clip.bound.trigger},
                     {"zone", zone.known() ? Json(zone.id) : Json(nullptr)},
                     {"channel", clip.bound.channel},
                     {"first_picture_s", json_of_number(clip.first_picture_s)},
                     {"first_picture_bound_s", json_of_number(clip.bound.first_picture_s)},
                     {"complete_s", json_of_number(clip.complete_s)},
                     {"complete_bound_s", json_of_number(clip.bound.complete_s)},
                     {"never_for_sure", clip.bound.swamped},
                     {"gaps", std::move(gaps)}});
  }
  for (const StormQueue& queue : answer.queues)
    queues.push_back({{"thing", queue.hop.thing},
                      {"from", queue.hop.from.empty() ? Json(nullptr) : Json(queue.hop.from)},
                      {"rate_bps", queue.rate_bps},
                      {"backlog_bits", queue.backlog_bits},
                      {"waits_s", queue.waits_s}});
  return {{"runs", answer.runs},
          {"seed", answer.seed},
          {"within_s", answer.within_s},
          {"all_bounded", answer.all_bounded()},
          {"clips", std::move(clips)},
          {"queues", std::move(queues)},
          {"log", answer.log}};
}

}  // namespace zoneproof::results
