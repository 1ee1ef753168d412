#include "carriage/site_storm.hpp"

#include <algorithm>
#include <map>

#include "carriage/clip_traffic.hpp"
#include "carriage/hop_groups.hpp"
#include "carriage/route.hpp"
#include "carriage/site_hops.hpp"
#include "carriage/undeclared_streams.hpp"
#include "chain/channels.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

using std::string;

namespace {

constexpr double kBitsPerKilobyte = 8'000.0;  // 1,000 bytes
constexpr double kMega = 1e6, kKilo = 1e3, kPercent = 100.0;
constexpr Bits kPacketBits = 1'500 * 8;  // the largest payload of Ethernet, IEEE 802.3 clause 3.2.7

class Builder {
 public:
  explicit Builder(const site::Site& site) : site_(site), routes_(site), hops_(site) {
    overhead_ = 1.0 + rules_.rule(site, "packet_overhead_pct") / kPercent;
    storm_s_ = rules_.rule(site, "storm_s");
    out_.storm.piece_bits = kPacketBits;
  }

  SiteStorm make() {
    find_clips();
    find_streams();
    ask_for_streams();
    for (const HopOfSite& hop : hops_.all()) {
      out_.storm.hops.push_back({hop.rate_bps, hop.latency});
      out_.hops.push_back(hop.what);
      out_.hop_gaps.push_back(hop.rests_on.gaps());
    }
    spread_gaps();
    keep_known_flows();
    if (!order_of_hops(out_.storm)) leave_rings_open();
    return std::move(out_);
  }

 private:
  /// Something on its way: the hops that it takes, and what it is made of.
  struct Draft {
    std::vector<std::size_t> path;
    ValueReader reader;
    bool whole_way = true;  ///< whether all of its hops are known
  };

  // ---- ways ---------------------------------------------------------------------------------------------------------

  void go(Draft& draft, const string& from, const string& to) {
    const Route way = routes_.route(from, to);
    draft.reader.add(way.gaps);
    if (!way.found()) draft.whole_way = false;
    for (const Leg& leg : way.legs)
      for (const std::size_t hop : hops_.of(leg)) {
        if (std::find(draft.path.begin(), draft.path.end(), hop) != draft.path.end()) {
          draft.reader.missing("/data_links/" + leg.link, "undecided");  // sent over a link twice
          continue;
        }
        draft.path.push_back(hop);
      }
  }

  // ---- streams -----------------------------------------------------------------------------------------------------

  ClipStream traffic_of(const site::Stream& stream, ValueReader& reader) const {
    ClipStream traffic;
    traffic.frames_per_s = reader.between(stream.rate_fps);
    traffic.inter_frames = !stream.key_frame_s.none();
    if (traffic.inter_frames) traffic.key_interval_s = reader.between(stream.key_frame_s);
    const Between key = reader.between(stream.key_frame_kB);
    traffic.key_frame_bits = {key.low * kBitsPerKilobyte, key.high * kBitsPerKilobyte * overhead_};
    if (traffic.inter_frames) {
      const Between other = reader.between(stream.frame_kB);
      traffic.inter_frame_bits = Between{other.low * kBitsPerKilobyte, other.high * kBitsPerKilobyte * overhead_};
    }
    if (!stream.rate_control.known()) reader.missing(stream.rate_control.pointer);
    if (stream.rate_control.is(site::RateControl::capped)) {
      // The most of any key interval: of a stretch across two of them twice that.
      const double rate = reader.high(stream.rate_kbps) * kKilo * overhead_;
      const double interval = traffic.inter_frames ? traffic.key_interval_s.high : 1.0 / traffic.frames_per_s.low;
      traffic.cap = RateCap{rate, std::max(rate * interval, traffic.key_frame_bits.high)};
    }
    return traffic;
  }

  static std::optional<Curve> live(const ClipStream& traffic) {
    return stream_arrival(traffic, traffic.inter_frames ? traffic.key_interval_s.high : 1.0);
  }

  void find_streams() {
    for (const auto& [camera, entry] : site_.cameras) {
      for (const auto& [id, stream] : entry.streams) {
        Draft draft;
        draft.reader = rules_;
        const ClipStream traffic = traffic_of(stream, draft.reader);
        if (stream.to.known())
          go(draft, camera, stream.to.id);
        else
          draft.reader.missing(stream.to.pointer);
        const ClipSettings all_the_time = {0.0, storm_s_ + longest_post_s_, ClipSent::while_recording};
        SiteStream one = {camera, id, std::nullopt, 0.0, draft.path, draft.reader.gaps()};
        if (draft.reader.complete()) {
          const std::optional<Curve> arrival = live(traffic);
          one.flow = add_flow(draft, largest_clip(traffic, all_the_time), arrival);
          if (arrival) one.rate_bps = arrival->last_slope_bps();
        }
        if (!one.flow) taint(draft);
        out_.streams.push_back(std::move(one));
      }
    }
  }

  /// What a camera sends beside its streams is not known; where it goes is not either, so that all rests on it.
  void ask_for_streams() {
    for (const chain::Gap& gap : undeclared_streams(site_)) chain::add_gap(everywhere_, gap);
    for (HopOfSite& hop : hops_.all()) hop.rests_on.add(everywhere_);
  }

  std::optional<std::size_t> add_flow(const Draft& draft, std::optional<std::vector<Frame>> frames,
                                      std::optional<Curve> arrival) {
    if (!frames || frames->empty() || draft.path.empty()) return std::nullopt;
    const auto too_large = [](const Frame& frame) { return frame.bits > kMostBitsOfFrame; };
    if (std::any_of(frames->begin(), frames->end(), too_large)) return std::nullopt;
    out_.storm.flows.push_back({draft.path, 0, std::move(*frames), 0, std::move(arrival)});
    return out_.storm.flows.size() - 1;
  }

  // ---- clips -------------------------------------------------------------------------------------------------------

  void find_clips() {
    for (const auto& [id, trigger] : site_.triggers) {
      std::vector<chain::Gap> gaps;
      for (const string& channel : chain::channels_of_trigger(site_, id, gaps))
        if (!site_.channels.at(channel).live_only.yes()) add_clip(id, trigger, channel);
    }
  }

  const site::Clip* settings_of(const site::Trigger& trigger, const site::Channel& channel, ValueReader& reader) const {
    if (const auto recorder = site_.recorders.find(channel.recorder.id); recorder != site_.recorders.end())
      return &recorder->second.clip;
    const auto unit = site_.units.find(trigger.unit.id);
    if (channel.recorder.none() && unit != site_.units.end()) return &unit->second.clip;
    reader.missing(channel.recorder.none() ? trigger.unit.pointer : channel.recorder.pointer);
    return nullptr;
  }

  const site::Stream* stream_of(const string& channel_id, ValueReader& reader) const {
    const site::Channel& channel = site_.channels.at(channel_id);
    const auto camera = site_.cameras.find(channel.camera.id);
    if (camera != site_.cameras.end()) {
      const auto stream = camera->second.streams.find(channel.stream);
      if (stream != camera->second.streams.end()) return &stream->second;
    }
    reader.missing("/channels/" + channel_id + "/stream");
    return nullptr;
  }

  double camera_delay(const string& camera, ValueReader& reader) const {
    const auto found = site_.cameras.find(camera);
    if (found == site_.cameras.end()) return 0.0;  // told where its stream is looked for
    const auto* spec = site::spec_of(site_, found->second.part, &site::Part::camera);
    if (spec != nullptr) return reader.high(spec->delay_s);
    reader.missing(found->second.part.pointer);
    return 0.0;
  }

  void add_way(Draft& draft, const site::Trigger& trigger, const site::Channel& channel) {
    const auto unit = site_.units.find(trigger.unit.id);
    if (unit == site_.units.end()) {
      draft.reader.missing(trigger.unit.pointer);
      draft.whole_way = false;
      return;
    }
    if (site_.recorders.count(channel.recorder.id) != 0) go(draft, channel.recorder.id, unit->first);
    const auto path = site_.monitoring_paths.find(unit->second.monitoring.id);
    const auto uplink =
        path == site_.monitoring_paths.end() ? site_.uplinks.end() : site_.uplinks.find(path->second.uplink.id);
    if (uplink == site_.uplinks.end() || !uplink->second.router.known()) {
      draft.reader.missing("/units/" + unit->first + "/monitoring");
      draft.whole_way = false;
      return;
    }
    go(draft, unit->first, uplink->second.router.id);
    draft.path.push_back(hops_.of_uplink(uplink->first));
  }

  void add_clip(const string& id, const site::Trigger& trigger, const string& channel_id) {
    Draft draft;
    draft.reader = rules_;
    const site::Channel& channel = site_.channels.at(channel_id);
    add_way(draft, trigger, channel);
    const site::Stream* stream = stream_of(channel_id, draft.reader);
    const site::Clip* settings = settings_of(trigger, channel, draft.reader);
    SiteClip clip;
    clip.trigger = id;
    clip.channel = channel_id;
    clip.camera = channel.camera.id;
    clip.stream = channel.stream;
    clip.late_s = camera_delay(channel.camera.id, draft.reader);
    if (stream != nullptr && settings != nullptr) {
      const ClipStream traffic = traffic_of(*stream, draft.reader);
      ClipSettings asked = {draft.reader.high(settings->pre_s), draft.reader.high(settings->post_s)};
      if (!settings->sending.known()) draft.reader.missing(settings->sending.pointer);
      if (settings->sending.is(site::ClipSending::when_complete)) {
        asked.sent = ClipSent::when_complete;
        clip.released_s = asked.post_s;
      }
      longest_post_s_ = std::max(longest_post_s_, asked.post_s);
      if (draft.reader.complete()) {
        clip.flow = add_flow(draft, largest_clip(traffic, asked), clip_arrival(traffic, asked));
        if (const std::optional<Curve> arrival = live(traffic)) clip.rate_bps = arrival->last_slope_bps();
      }
    }
    if (!clip.flow) taint(draft);
    clip.gaps = draft.reader.gaps();
    clip.origin = draft.reader.origin();
    clip.path = draft.path;
    out_.clips.push_back(std::move(clip));
  }

  // ---- what is missing spreads to all that shares a hop -----------------------------------------------------------

  void taint(const Draft& draft) {
    if (!draft.whole_way)
      for (const chain::Gap& gap : draft.reader.gaps()) chain::add_gap(everywhere_, gap);
    for (const std::size_t hop : draft.path) {
      ValueReader& reader = hops_.all()[hop].rests_on;
      reader.add(draft.reader.gaps());
      if (draft.reader.gaps().empty()) reader.missing("/data_links", "undecided");
    }
  }

  /// What flows of one group of hops rest on.
  struct Footing {
    std::vector<chain::Gap> gaps;
    site::Origin origin = site::Origin::measured;
    bool complete = true;
  };

  static void rest_on(SiteClip& clip, const Footing& footing) {
    for (const chain::Gap& gap : footing.gaps) chain::add_gap(clip.gaps, gap);
    clip.origin = std::max(clip.origin, footing.origin);
    if (!footing.complete) clip.flow.reset();
  }

  /// Flows of a hop and of all hops that these share with others: what one of them rests on, all rest on; and a clip on
  /// what its camera's stream does.
  void spread_gaps() {
    HopGroups groups(hops_.all().size());
    std::map<std::pair<string, string>, const SiteStream*> streams;
    for (const SiteStream& stream : out_.streams) {
      groups.join(stream.path);
      streams[{stream.camera, stream.stream}] = &stream;
    }
    for (const SiteClip& clip : out_.clips) groups.join(clip.path);
    std::map<std::size_t, Footing> footings;
    for (std::size_t hop = 0; hop < hops_.all().size(); ++hop) {
      const ValueReader& reader = hops_.all()[hop].rests_on;
      Footing& footing = footings[groups.of(hop)];
      for (const chain::Gap& gap : out_.hop_gaps[hop]) chain::add_gap(footing.gaps, gap);
      footing.origin = std::max(footing.origin, reader.origin());
      footing.complete = footing.complete && reader.complete();
    }
    for (SiteClip& clip : out_.clips) {
      if (!clip.path.empty()) rest_on(clip, footings.at(groups.of(clip.path.front())));
      rest_on(clip, {everywhere_, site::Origin::measured, everywhere_.empty()});
      const auto stream = streams.find({clip.camera, clip.stream});
      if (stream == streams.end()) continue;
      const SiteStream& of = *stream->second;
      rest_on(clip, {of.gaps, site::Origin::measured, of.flow.has_value()});
      if (!of.path.empty()) rest_on(clip, footings.at(groups.of(of.path.front())));
    }
    for (SiteStream& stream : out_.streams)
      if (!stream.path.empty() && !footings.at(groups.of(stream.path.front())).complete) stream.flow.reset();
  }

  /// Takes out of the storm what no clip and no stream calls its own any more.
  void keep_known_flows() {
    std::vector<Flow> kept;
    const auto keep = [&](std::optional<std::size_t>& flow) {
      if (!flow) return;
      kept.push_back(std::move(out_.storm.flows[*flow]));
      flow = kept.size() - 1;
    };
    for (SiteClip& clip : out_.clips) keep(clip.flow);
    for (SiteStream& stream : out_.streams) keep(stream.flow);
    out_.storm.flows = std::move(kept);
  }

  void leave_rings_open() {
    out_.storm.flows.clear();
    for (SiteStream& stream : out_.streams) stream.flow.reset();
    for (SiteClip& clip : out_.clips) {
      clip.flow.reset();
      chain::add_gap(clip.gaps, {"/data_links", "undecided"});
    }
  }

  const site::Site& site_;
  Routes routes_;
  SiteHops hops_;
  ValueReader rules_;
  double overhead_ = 1.0, storm_s_ = 0.0, longest_post_s_ = 0.0;
  std::vector<chain::Gap> everywhere_;
  SiteStorm out_;
};

}  // namespace

SiteStorm storm_of(const site::Site& site) { return Builder(site).make(); }

}  // namespace zoneproof::carriage
