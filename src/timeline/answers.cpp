#include "timeline/answers.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "base/outward.hpp"
#include "chain/channels.hpp"
#include "chain/limit.hpp"
#include "messages/timeline.hpp"
#include "site/relations.hpp"

namespace zoneproof::timeline {

using chain::Evidence;
using chain::Limit;
using chain::Link;
using chain::Verdict;
using std::string;

namespace {

Measure seconds(double value) { return {value, "s", 2}; }

Evidence asked_by(const Limit& limit, const Limit& margin, const char* id, Link link, const string& zone) {
  Evidence evidence;
  evidence.id = id;
  evidence.subject = zone;
  evidence.link = link;
  evidence.quantity = "time";
  evidence.unit = "s";
  evidence.kind = chain::BoundKind::bounded;
  evidence.limit = limit.value;
  evidence.limit_source = limit.source;
  evidence.limit_verified = limit.verified;
  evidence.required_margin = margin.value;
  evidence.margin_source = margin.source;
  evidence.margin_verified = margin.verified;
  for (const Limit* rule : {&limit, &margin})
    if (!rule->value) chain::add_gap(evidence.gaps, {rule->pointer, "no_rule"});
  return evidence;
}

/// Puts a number in and judges it; gaps leave it unanswered, and what is too late with every value of them stays so.
void judge(Evidence& evidence, const Told& told, double value, double margin) {
  for (const chain::Gap& gap : told.gaps) chain::add_gap(evidence.gaps, gap);
  evidence.origin = std::max(evidence.origin, told.origin);
  if (!told.known || !evidence.limit || !evidence.required_margin) return;
  evidence.value = evidence.bound = evidence.nominal = value;
  evidence.margin = margin;
  if (evidence.gaps.empty()) evidence.verdict = chain::judge(margin, *evidence.required_margin);
}

class ZoneTimes {
 public:
  ZoneTimes(const site::Site& site, const string& zone, const sight::ZoneView& view, const Carrying& carrying)
      : site_(site), zone_(zone), crossing_(crossing_of(site, view)) {
    logs_ = logs_of_zone(site, zone, crossing_, carrying, gaps_);
  }

  std::vector<Evidence> all() const {
    if (logs_.empty()) return without_clip();
    std::vector<Evidence> answers = {worst([&](const AlarmLog& log) { return cause_in_clip(log); }),
                                     worst([&](const AlarmLog& log) { return first_picture(log); }),
                                     worst([&](const AlarmLog& log) { return clip_complete(log); })};
    for (Evidence& answer : answers) {
      if (gaps_.empty()) continue;
      for (const chain::Gap& gap : gaps_) chain::add_gap(answer.gaps, gap);
      if (answer.verdict != Verdict::broken) answer.verdict = Verdict::unanswered;
    }
    return answers;
  }

 private:
  std::vector<Evidence> without_clip() const {
    std::vector<Evidence> answers;
    for (const auto& [id, link] : {std::pair("cause_in_clip", Link::view), std::pair("first_picture", Link::deliver),
                                   std::pair("clip_complete", Link::deliver)}) {
      Evidence evidence;
      evidence.id = id;
      evidence.subject = zone_;
      evidence.link = link;
      evidence.verdict = gaps_.empty() ? Verdict::broken : Verdict::unanswered;
      evidence.gaps = gaps_;
      evidence.says = gaps_.empty() ? say::no_clip_kept() : say::no_clip_known();
      answers.push_back(std::move(evidence));
    }
    return answers;
  }

  template <class Judged>
  Evidence worst(const Judged& judged) const {
    std::vector<Evidence> all;
    for (const AlarmLog& log : logs_) all.push_back(judged(log));
    return *std::min_element(all.begin(), all.end(), [](const Evidence& a, const Evidence& b) {
      if (a.verdict != b.verdict) return chain::rank(a.verdict) < chain::rank(b.verdict);
      return a.margin.value_or(0.0) < b.margin.value_or(0.0);
    });
  }

  Evidence cause_in_clip(const AlarmLog& log) const {
    const Evidence fast = cause_in_clip(log, crossing_.fast, true), slow = cause_in_clip(log, crossing_.slow, false);
    if (fast.verdict != slow.verdict) return chain::rank(fast.verdict) < chain::rank(slow.verdict) ? fast : slow;
    return fast.margin.value_or(0.0) <= slow.margin.value_or(0.0) ? fast : slow;
  }

  /// Who is there for less than asked has to be shown all that time, and nothing beyond it.
  Evidence cause_in_clip(const AlarmLog& log, const Told& presence, bool fast) const {
    Evidence evidence = asked_by(chain::limit_of(site_, "cause_shown_s"), chain::limit_of(site_, "cause_margin_s"),
                                 "cause_in_clip", Link::view, zone_);
    evidence.quantity = "cause_in_clip";
    evidence.condition = log.channel + (fast ? "/fast" : "/slow");
    const Told shown = shown_in_clip(log, presence);
    const string camera = site::called(site_.cameras, log.camera);
    if (evidence.limit && evidence.required_margin && presence.known) {
      const double there = presence.span.low, least = std::min(*evidence.limit, there);
      evidence.required_margin = std::min(*evidence.required_margin, there - least);
      evidence.limit = least;
    }
    judge(evidence, shown, shown.span.low, shown.span.low - evidence.limit.value_or(0.0));
    if (!evidence.value) {
      evidence.says = say::cause_in_clip_open(camera);
      return evidence;
    }
    const Measure there = lowest(seconds(presence.span.low)), way = {crossing_.way_m, "m", 2};
    evidence.says = fast ? say::cause_in_clip_fast(camera, lowest(seconds(shown.span.low)), there, way)
                         : say::cause_in_clip_slow(camera, lowest(seconds(shown.span.low)), there, way);
    if (*evidence.margin < *evidence.required_margin || presence.span.low < log.between.span.high)
      evidence.remedies.push_back(longer_clip(log, presence, *evidence.required_margin - *evidence.margin));
    return evidence;
  }

  /// A clip that reaches back beyond whoever enters at the latest ends too early, and more of that would not help.
  Message longer_clip(const AlarmLog& log, const Told& presence, double more_s) const {
    const double between = log.between.span.high, lag = log.response.span.high + log.asked.span.high;
    if (presence.span.low < between)
      return say::more_pictures(site::called(site_.cameras, log.camera), seconds(between));
    return log.pre.span.low >= lag ? say::longer_post_event(seconds(more_s))
                                   : say::longer_pre_event(seconds(more_s), seconds(lag));
  }

  Evidence late(const AlarmLog& log, Happens what, const char* rule, const char* id) const {
    Evidence evidence =
        asked_by(chain::limit_of(site_, rule), chain::limit_of(site_, "delivery_margin_s"), id, Link::deliver, zone_);
    evidence.quantity = "delay";
    evidence.condition = log.channel + "/storm";
    const Told& at = log.find(what)->at;
    if (log.swamped) {
      evidence.verdict = Verdict::broken;
      evidence.gaps.clear();
      evidence.says = say::never_for_sure(site::called(site_.cameras, log.camera));
      return evidence;
    }
    judge(evidence, at, at.span.high, evidence.limit.value_or(0.0) - at.span.high);
    return evidence;
  }

  Evidence first_picture(const AlarmLog& log) const {
    Evidence evidence = late(log, Happens::picture_shown, "first_picture_s", "first_picture");
    const string camera = site::called(site_.cameras, log.camera);
    evidence.says = evidence.value
                        ? say::first_picture_within(camera, highest(seconds(*evidence.value)), seconds(*evidence.limit))
                        : say::first_picture_open(camera);
    return evidence;
  }

  Evidence clip_complete(const AlarmLog& log) const {
    Evidence evidence = late(log, Happens::clip_at_station, "clip_complete_s", "clip_complete");
    const string camera = site::called(site_.cameras, log.camera);
    evidence.says = evidence.value
                        ? say::clip_complete_within(camera, highest(seconds(*evidence.value)), seconds(*evidence.limit))
                        : say::clip_complete_open(camera);
    return evidence;
  }

  const site::Site& site_;
  string zone_;
  Crossing crossing_;
  std::vector<chain::Gap> gaps_;
  std::vector<AlarmLog> logs_;
};

}  // namespace

std::vector<AlarmLog> logs_of_zone(const site::Site& site, const string& zone, const Crossing& crossing,
                                   const Carrying& carrying, std::vector<chain::Gap>& gaps) {
  std::vector<AlarmLog> logs;
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id != zone) continue;
    for (const string& channel : chain::channels_of_trigger(site, id, gaps)) {
      const site::Flag& live_only = site.channels.at(channel).live_only;
      if (live_only.yes()) continue;
      if (!live_only.known()) chain::add_gap(gaps, {live_only.pointer, "unknown"});
      logs.push_back(alarm_log(site, id, channel, crossing, carrying(id, channel)));
    }
  }
  return logs;
}

Carrying carrying_of(std::vector<carriage::ClipBound> bounds) {
  std::map<std::pair<string, string>, carriage::ClipBound> by_clip;
  for (carriage::ClipBound& bound : bounds) by_clip.emplace(std::pair(bound.trigger, bound.channel), std::move(bound));
  return [by_clip = std::move(by_clip)](const string& trigger, const string& channel) {
    const auto found = by_clip.find({trigger, channel});
    if (found == by_clip.end()) return Carried{not_told("/channels/" + channel), not_told("/channels/" + channel)};
    const carriage::ClipBound& bound = found->second;
    const auto time = [&](std::optional<double> seconds) {
      return Told{{0.0, seconds.value_or(0.0)}, seconds.has_value(), bound.gaps, bound.origin};
    };
    return Carried{time(bound.first_picture_s), time(bound.complete_s), bound.swamped};
  };
}

std::vector<Evidence> evidence_of_zone(const site::Site& site, const sight::ZoneView& view, const Carrying& carrying) {
  return ZoneTimes(site, view.zone, view, carrying).all();
}

std::vector<Evidence> timeline_answers(const site::Site& site, const string& zone, const Carrying& carrying,
                                       sight::KeptViews* kept) {
  const sight::Scene scene(site, kept);
  std::vector<Evidence> all;
  for (const auto& entry : site.zones) {
    if (!site::has_chain(site, entry.first) || (!zone.empty() && entry.first != zone)) continue;
    chain::append(all, evidence_of_zone(site, scene.view(entry.first, false), carrying));
  }
  return all;
}

}  // namespace zoneproof::timeline
