#include "timeline/told.hpp"

#include <algorithm>

namespace zoneproof::timeline {

namespace {

Told joined(const Told& a, const Told& b, Span span) {
  Told all = {span, a.known && b.known, a.gaps, std::max(a.origin, b.origin)};
  for (const chain::Gap& gap : b.gaps) chain::add_gap(all.gaps, gap);
  return all;
}

}  // namespace

Told told(const site::Value& value) {
  if (value.none()) return {};
  if (!value.known()) return not_told(value.pointer);
  Told time = {{value.low, value.high}, true, {}, value.origin};
  chain::add_if_weak(time.gaps, value);
  return time;
}

Told up_to(const site::Value& value) {
  Told time = told(value);
  time.span.low = 0.0;
  return time;
}

Told not_told(const std::string& pointer, const char* reason) { return {{}, false, {{pointer, reason}}}; }

Told after(const Told& first, const Told& then) {
  return joined(first, then, {first.span.low + then.span.low, first.span.high + then.span.high});
}

Told before(const Told& moment, const Told& length) {
  return joined(moment, length, {moment.span.low - length.span.high, moment.span.high - length.span.low});
}

Told either(const Told& a, const Told& b) {
  return joined(a, b, {std::min(a.span.low, b.span.low), std::max(a.span.high, b.span.high)});
}

}  // namespace zoneproof::timeline
