#include "sight/reasons.hpp"

#include <algorithm>

namespace zoneproof::sight {

double share_reaching(const Regions& regions, std::span<const plane::Label> labels, std::size_t viewer,
                      std::span<const std::size_t> open) {
  double share = 1.0;
  for (const plane::Label label : labels) {
    const Reason& reason = regions.reason(label);
    if (reason.viewer != viewer || reason.why == Why::base) continue;
    if (reason.why != Why::hidden) return 0.0;
    const bool is_open = reason.either && std::find(open.begin(), open.end(), reason.thing) != open.end();
    share *= is_open ? reason.clear_otherwise : reason.clear;
  }
  return share;
}

std::vector<std::size_t> either_things(const Regions& regions, std::span<const plane::Label> labels,
                                       std::size_t viewer) {
  std::vector<std::size_t> things;
  for (const plane::Label label : labels) {
    const Reason& reason = regions.reason(label);
    if (reason.viewer == viewer && reason.why == Why::hidden && reason.either) things.push_back(reason.thing);
  }
  std::sort(things.begin(), things.end());
  things.erase(std::unique(things.begin(), things.end()), things.end());
  return things;
}

}  // namespace zoneproof::sight
