#include "carriage/storage.hpp"

#include <set>

#include "base/outward.hpp"
#include "carriage/finding.hpp"
#include "carriage/naming.hpp"
#include "carriage/undeclared_streams.hpp"
#include "electric/naming.hpp"
#include "messages/carriage.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

namespace {

using chain::Evidence;
using chain::Verdict;
using electric::Tracked;

constexpr double kHoursADay = 24.0;
constexpr double kMegabitsInKilobyte = 8.0 / 1000.0;

/// f frame + (key - frame) / T: rises with f, frame and key, falls with T where a key frame is the larger.
Tracked interleaved(const site::Stream& stream) {
  const Tracked fps = electric::tracked(stream.rate_fps, 0.0), key = electric::tracked(stream.key_frame_kB, 0.0),
                frame = electric::tracked(stream.frame_kB, 0.0), period = electric::tracked(stream.key_frame_s, 0.0);
  const auto at = [](double f, double larger, double other, double seconds) {
    return f * other + (larger - other) / seconds;
  };
  const auto &f = fps.range, &k = key.range, &o = frame.range, &t = period.range;
  Tracked rate = fps + key + frame + period;
  rate.range = {at(f.nominal, k.nominal, o.nominal, t.nominal),
                at(f.low, k.low, o.low, k.low >= o.low ? t.high : t.low),
                at(f.high, k.high, o.high, k.high >= o.high ? t.low : t.high)};
  return scaled(rate, kMegabitsInKilobyte);
}

Tracked free_rate(const site::Stream& stream) {
  for (const site::Value* needed : {&stream.rate_fps, &stream.key_frame_kB, &stream.key_frame_s})
    if (needed->unknown()) return anything(needed->pointer);
  if (stream.key_frame_s.none() || stream.frame_kB.none())
    return scaled(electric::tracked(stream.rate_fps, 0.0) * electric::tracked(stream.key_frame_kB, 0.0),
                  kMegabitsInKilobyte);
  return stream.frame_kB.unknown() ? anything(stream.frame_kB.pointer) : interleaved(stream);
}

class Disk {
 public:
  Disk(const site::Site& site, const std::string& id)
      : site_(site), id_(id), own_(site.recorders.at(id)), name_(device_words(site, id)) {
    for (const auto& [camera, one] : site.cameras)
      for (const auto& [stream, to] : one.streams) {
        if (to.to.unknown()) elsewhere_.push_back(to.to.pointer);
        if (to.to.id != id) continue;
        cameras_.insert(camera);
        rates_.push_back({stream_rate(to), true, "Mbps"});
      }
    for (const auto& [channel, one] : site.channels)
      if (one.recorder.id == id && site.cameras.count(one.camera.id) != 0 && cameras_.insert(one.camera.id).second)
        rates_.push_back({anything("/cameras/" + one.camera.id + "/streams"), true, "Mbps"});
    for (const std::string& pointer : elsewhere_) rates_.push_back({anything(pointer), true, "Mbps"});
    for (const chain::Gap& gap : undeclared_streams(site)) rates_.push_back({anything(gap.pointer), true, "Mbps"});
  }

  std::vector<Evidence> all() const {
    std::vector<Evidence> answers;
    if (!own_.keep_d.none()) answers.push_back(space());
    answers.push_back(channels());
    return answers;
  }

 private:
  Evidence space() const {
    const Asked asked{"disk_space", id_, "disk_space", "GB", ""};
    const chain::Limit reserve = chain::limit_of(site_, "disk_reserve_pct");
    Threshold usable = limit_from(own_.disk_GB, &site::Value::low, reserve.source);
    usable.verified = reserve.verified;
    if (!reserve.value) usable.gaps.push_back({reserve.pointer, "no_rule"});
    if (usable.value) *usable.value *= 1.0 - reserve.value.value_or(0.0) / 100.0;
    if (rates_.empty()) return without_number(asked, {{"/cameras", "unknown"}}, say::disk_open(name_));
    const Tracked days = electric::tracked(own_.keep_d, 0.0);
    Number filled{scaled(sum_of(rates_).value, stored_GB(1.0, kHoursADay, 1.0)) * days, rates_};
    filled.terms.push_back({days, true, "d"});
    Evidence evidence = held(asked, filled, Side::at_most, usable);
    if (!evidence.value) return without_number(asked, evidence.gaps, say::disk_open(name_));
    const double most_a_day = stored_GB(sum_of(rates_).value.range.high, kHoursADay, 1.0);
    evidence.says = say::disk_fills(name_, highest({*evidence.value, "GB"}), Measure{days.range.high, "d"},
                                    Measure{*evidence.limit, "GB"});
    if (evidence.verdict == Verdict::broken) {
      evidence.remedies.push_back(
          say::fit_disk(name_, Measure{*evidence.value / (1.0 - reserve.value.value_or(0.0) / 100.0), "GB"}));
      if (most_a_day < circuit::infinite)
        evidence.remedies.push_back(say::keep_shorter(name_, Measure{*evidence.limit / most_a_day, "d"}));
    }
    return evidence;
  }

  Evidence channels() const {
    const Asked asked{"recorder_channels", id_, "count", "", ""};
    const site::RecorderSpec* spec = site::spec_of(site_, own_.part, &site::Part::recorder);
    if (spec == nullptr) return without_number(asked, {{own_.part.pointer, "unknown"}}, say::recorder_open(name_));
    if (!spec->channels.known())
      return without_number(asked, {{spec->channels.pointer, "unknown"}}, say::recorder_open(name_));
    Threshold takes;
    takes.value = static_cast<double>(*spec->channels.value);
    takes.source = electric::part_source(site_, own_.part.id);
    takes.verified = true;  // the part's own sheet
    const auto count = static_cast<long long>(cameras_.size());
    std::vector<Term> cameras{{Tracked::fact(static_cast<double>(count)), true, ""}};
    for (const std::string& pointer : elsewhere_) cameras.push_back({anything(pointer), true, ""});
    Evidence evidence = held(asked, sum_of(cameras), Side::at_most, takes);
    if (!evidence.value) return without_number(asked, evidence.gaps, say::recorder_open(name_));
    evidence.says = say::recorder_takes(name_, count, *spec->channels.value);
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::second_recorder(name_));
    return evidence;
  }

  static Evidence without_number(const Asked& asked, std::vector<chain::Gap> gaps, Message says) {
    Evidence evidence = open(asked, std::move(gaps));
    evidence.says = std::move(says);
    return evidence;
  }

  const site::Site& site_;
  const std::string& id_;
  const site::Recorder& own_;
  std::string name_;
  std::set<std::string> cameras_;
  std::vector<std::string> elsewhere_;  ///< pointers: streams that may come here, as nobody says where they go
  std::vector<Term> rates_;
};

}  // namespace

double stored_GB(double rate_Mbps, double hours_a_day, double days) {
  constexpr double bits_in_byte = 8.0, seconds_in_hour = 3600.0, megabytes_in_gigabyte = 1000.0;
  return rate_Mbps / bits_in_byte * seconds_in_hour * hours_a_day * days / megabytes_in_gigabyte;
}

Tracked stream_rate(const site::Stream& stream) {
  if (!stream.rate_control.known()) return anything(stream.rate_control.pointer);
  if (stream.rate_control.is(site::RateControl::free)) return free_rate(stream);
  return stream.rate_kbps.known() ? scaled(electric::tracked(stream.rate_kbps, 0.0), 1e-3)
                                  : anything(stream.rate_kbps.pointer);
}

std::vector<Evidence> check_storage(const site::Site& site) {
  std::vector<Evidence> all;
  for (const auto& entry : site.recorders) chain::append(all, Disk(site, entry.first).all());
  return all;
}

}  // namespace zoneproof::carriage
