#include "chain/channels.hpp"

#include <algorithm>

namespace zoneproof::chain {

namespace {

const std::string* channel_numbered(const site::Site& site, const std::string& unit, long long number) {
  for (const auto& [id, channel] : site.channels)
    if (channel.unit.id == unit && channel.number.value == number) return &id;
  return nullptr;
}

void add_once(std::vector<std::string>& all, const std::string& one) {
  if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
}

}  // namespace

std::vector<std::string> channels_of_trigger(const site::Site& site, const std::string& id, std::vector<Gap>& gaps) {
  const site::Trigger& trigger = site.triggers.at(id);
  std::vector<std::string> channels;
  if (!trigger.unit.known())
    add_gap(gaps, {trigger.unit.pointer, "unknown"});
  else if (!trigger.channel.known())
    add_gap(gaps, {trigger.channel.pointer, "unknown"});
  else if (const std::string* own = channel_numbered(site, trigger.unit.id, *trigger.channel.value))
    channels.push_back(*own);
  else
    add_gap(gaps, {"/channels", "unknown"});
  for (const site::Ref& more : trigger.more_channels) {
    if (site.channels.count(more.id) != 0)
      add_once(channels, more.id);
    else
      add_gap(gaps, {more.pointer, "unknown"});
  }
  return channels;
}

std::vector<std::string> cameras_of_trigger(const site::Site& site, const std::string& trigger,
                                            std::vector<Gap>& gaps) {
  std::vector<std::string> cameras;
  for (const std::string& id : channels_of_trigger(site, trigger, gaps)) {
    const site::Channel& channel = site.channels.at(id);
    if (channel.live_only.yes()) continue;
    if (!channel.live_only.known()) add_gap(gaps, {"/channels/" + id + "/live_only", "unknown"});
    if (site.cameras.count(channel.camera.id) != 0)
      add_once(cameras, channel.camera.id);
    else
      add_gap(gaps, {"/channels/" + id + "/camera", "unknown"});
  }
  return cameras;
}

std::vector<std::string> cameras_of_zone(const site::Site& site, const std::string& zone, std::vector<Gap>& gaps) {
  std::vector<std::string> cameras;
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id != zone) continue;
    for (const std::string& camera : cameras_of_trigger(site, id, gaps)) add_once(cameras, camera);
  }
  return cameras;
}

}  // namespace zoneproof::chain
