#include "electric/loop_check.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

#include "chain/limit.hpp"
#include "electric/loop.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using site::Reading;

/// A window as a band over the quantities of a level. A limit in percent looks at the reading less that share of the
/// source, whose limit is zero.
Band band_of(const site::Window& window, const Level& level) {
  Band band;
  const auto share_of = [&](double pct) {
    const auto at = std::find(level.share_pct.begin(), level.share_pct.end(), pct);
    return level.shares.at(static_cast<std::size_t>(at - level.share_pct.begin()));
  };
  if (window.min_pct.unknown()) {
    band.at_least(*level.panel, window.min_V);
  } else if (window.min_pct.known()) {
    band.at_least(share_of(window.min_pct.high), window.min_pct, -window.min_pct.high);
  }
  if (window.max_pct.unknown()) {
    band.at_most(*level.panel, window.max_V);
  } else if (window.max_pct.known()) {
    band.at_most(share_of(window.max_pct.low), window.max_pct, window.max_pct.low);
  }
  return band;
}

/// Two windows that touch and are both right are one window.
bool joined(Band& low, const Band& high) {
  if (!low.max || !high.min || low.max->which != high.min->which || low.max->limit != high.min->limit) return false;
  low.max = high.max;
  low.gaps.insert(low.gaps.end(), high.gaps.begin(), high.gaps.end());
  return true;
}

/// What happens on a pair in the words of its terminal: with two zones on it, "alarm" is that of the zone whose entry
/// holds the loop, and from the other zone both words change places.
Happening as_terminal_says(const Level& level) {
  const Happening happening = level.situation.state.happening;
  if (!level.second_of_pair) return happening;
  if (happening == Happening::alarm) return Happening::second_alarm;
  return happening == Happening::second_alarm ? Happening::alarm : happening;
}

/// Every band in which the reading is right, neighbours joined.
std::vector<Band> right_bands(const Level& level) {
  const std::vector<Reading> right = right_readings(as_terminal_says(level));
  std::vector<Band> bands;
  for (const auto& [id, window] : level.circuit.terminal->spec->windows) {
    if (window.means.known() && std::find(right.begin(), right.end(), *window.means.value) != right.end()) {
      bands.push_back(band_of(window, level));
    }
  }
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 0; i < bands.size() && !again; ++i) {
      for (std::size_t j = 0; j < bands.size() && !again; ++j) {
        if (i == j || !joined(bands[i], bands[j])) continue;
        bands.erase(bands.begin() + static_cast<std::ptrdiff_t>(j));
        again = true;
      }
    }
  }
  return bands;
}

/// Ends of windows of another meaning that nobody knows: such a window may reach over the right one.
std::vector<chain::Gap> open_ends_of_wrong_windows(const Level& level) {
  const std::vector<Reading> right = right_readings(as_terminal_says(level));
  std::vector<chain::Gap> open;
  for (const auto& [id, window] : level.circuit.terminal->spec->windows) {
    if (window.means.known() && std::find(right.begin(), right.end(), *window.means.value) != right.end()) continue;
    if (window.min_V.unknown() && window.min_pct.unknown()) open.push_back({window.min_V.pointer, "unknown"});
    if (window.max_V.unknown() && window.max_pct.unknown()) open.push_back({window.max_V.pointer, "unknown"});
  }
  return open;
}

/// Whether `a` says more for a level than `b`: one that certainly holds it first, else the one it lies deeper in.
bool better(const Level& level, const Band& a, const Band& b) {
  const double margin_a = guaranteed_margin(level.solved, a), margin_b = guaranteed_margin(level.solved, b);
  const bool certain_a = a.gaps.empty() && margin_a >= 0.0, certain_b = b.gaps.empty() && margin_b >= 0.0;
  return certain_a != certain_b ? certain_a : margin_a > margin_b;
}

/// Ending of the checks of the panel as it was before any trigger wire.
constexpr const char* before_the_wire = "_before";

Subject subject_of(const site::Site& site, const Level& level, const char* suffix) {
  Subject subject;
  subject.id = level.situation.zone;
  subject.check = std::string("panel_reads_") + word(level.situation.state.happening) + suffix;
  subject.link = chain::Link::loop;
  subject.quantity = "terminal_voltage";
  subject.unit = "V";
  subject.condition = level.situation.name();
  subject.thing = zone_at_panel(site, level.situation);
  return subject;
}

void offer_level(const site::Site& site, const Level& level, const char* suffix, std::map<std::string, Worst>& worst) {
  const Subject subject = subject_of(site, level, suffix);
  Worst& kept = worst[subject.check];
  if (!level.panel) return kept.offer(unanswered(subject, level.solved.gaps));
  const chain::Limit margin = chain::limit_of(site, "loop_margin_V");
  std::optional<Band> band = right_band(level);
  if (!band) return kept.offer(unanswered(subject, {{windows_pointer(site, level.situation.zone), "unknown"}}));
  band->ask(margin);
  band->limit_source = terminal_source(site, level.situation.zone);
  band->limit_verified = true;  // the panel's own sheet
  Evidence evidence = finding(subject, level.circuit.wiring, level.quantities, level.solved, *band);
  if (level.pulse) with_pulse_gaps(evidence, level);
  if (!margin.value) chain::lacks_rule(evidence, margin);
  kept.offer(std::move(evidence),
             [&level, band] { return telling_corner(level.circuit.wiring, level.quantities, level.solved, *band); });
}

/// Worst evidence of each check over states, supply conditions and unit conditions.
std::vector<Evidence> worst_by_check(const site::Site& site, const std::vector<Level>& levels, const char* suffix) {
  std::map<std::string, Worst> worst;
  for (const Level& level : levels) {
    if (level.situation.state.happening != Happening::shorted) offer_level(site, level, suffix, worst);
  }
  std::vector<Evidence> all;
  for (auto& [check, kept] : worst) all.push_back(kept.take());
  return all;
}

/// No bound is known with the wire on, so what it takes is not known either.
Evidence undecided_disturbance(const site::Site& site, const Level& after) {
  const Subject subject = {after.situation.zone,
                           "disturbance",
                           chain::Link::loop,
                           "share_of_margin",
                           "pct",
                           after.situation.name(),
                           zone_at_panel(site, after.situation)};
  return unanswered(subject, {{"", "undecided"}});
}

/// What the wire takes of the panel's margin in one situation, in percent.
std::optional<Evidence> disturbance(const site::Site& site, const Level& before, const Level& after) {
  if (!before.panel || !after.panel || before.solved.troubled() || after.solved.troubled()) return std::nullopt;
  const std::optional<Band> band = right_band(before);
  if (!band) return std::nullopt;
  const double margin_before = guaranteed_margin(before.solved, *band);
  if (!(margin_before > 0.0)) return std::nullopt;  // already broken without the wire: said elsewhere
  const double taken = 100.0 * (margin_before - guaranteed_margin(after.solved, *band)) / margin_before;
  const chain::Limit limit = chain::limit_of(site, "disturbance_share_pct");
  if (!std::isfinite(taken)) return undecided_disturbance(site, after);
  Evidence evidence;
  evidence.id = "disturbance";
  evidence.subject = after.situation.zone;
  evidence.link = chain::Link::loop;
  evidence.quantity = "share_of_margin";
  evidence.unit = "pct";
  evidence.condition = after.situation.name();
  evidence.value = evidence.bound = taken;
  evidence.kind = chain::BoundKind::bounded;  // a difference of two extremes, each at a corner of its own
  evidence.origin = after.solved.weakest;
  evidence.gaps = after.solved.gaps;
  evidence.gaps.insert(evidence.gaps.end(), band->gaps.begin(), band->gaps.end());
  for (const Level* level : {&before, &after}) {
    if (!level->pulse) continue;
    for (const chain::Gap& gap : level->pulse->gaps) chain::add_gap(evidence.gaps, gap);
  }
  if (!limit.value) {
    chain::lacks_rule(evidence, limit);
    return evidence;
  }
  evidence.limit = limit.value;
  evidence.margin = *limit.value - taken;
  evidence.required_margin = 0.0;
  evidence.limit_source = limit.source;
  evidence.limit_verified = limit.verified;
  // More than the share asked for is thin as long as the reading itself still holds: that is judged on its own.
  evidence.verdict = taken <= *limit.value ? chain::Verdict::proven : chain::Verdict::thin;
  if (!evidence.gaps.empty()) evidence.verdict = chain::Verdict::unanswered;
  evidence.says = say::disturbance(zone_at_panel(site, after.situation), Measure{std::max(taken, 0.0), "pct"},
                                   Measure{*limit.value, "pct"});
  return evidence;
}

Worst worst_disturbance(const site::Site& site, const std::vector<Level>& before, const std::vector<Level>& after) {
  Worst worst;
  for (const Level& with : after) {
    if (with.situation.state.happening == Happening::shorted) continue;
    const auto without = std::find_if(before.begin(), before.end(), [&](const Level& level) {
      return level.situation.supply == with.situation.supply &&
             level.situation.state.name() == with.situation.state.name();
    });
    if (without == before.end()) continue;
    std::optional<Evidence> evidence = disturbance(site, *without, with);
    if (evidence) worst.offer(std::move(*evidence));
  }
  return worst;
}

/// A pair that the panel misreads is cured at the pair; one that it misreads only with the trigger wire, at the wire.
void remedy(std::vector<Evidence>& before, std::vector<Evidence>& after) {
  for (Evidence& evidence : before) {
    if (evidence.verdict == chain::Verdict::broken) evidence.remedies.push_back(say::compare_the_pair());
  }
  for (Evidence& evidence : after) {
    const bool both = std::any_of(before.begin(), before.end(), [&](const Evidence& other) {
      return other.id == evidence.id + before_the_wire && other.verdict == chain::Verdict::broken;
    });
    if (evidence.verdict == chain::Verdict::broken) {
      evidence.remedies.push_back(both ? say::compare_the_pair() : say::only_the_wire());
    }
  }
}

Subject alarm_subject(const site::Site& site, const std::string& zone) {
  return {zone, "panel_reads_alarm", chain::Link::loop, "terminal_voltage", "V", "", zone_words(site, zone)};
}

}  // namespace

std::optional<Band> right_band(const Level& level) {
  std::optional<Band> best;
  for (const Band& band : right_bands(level)) {
    if (!band.min && !band.max && band.gaps.empty()) continue;
    if (!best || better(level, band, *best)) best = band;
  }
  if (best) {
    for (const chain::Gap& end : open_ends_of_wrong_windows(level)) chain::add_gap(best->gaps, end);
  }
  return best;
}

Evidence no_alarm_contact(const site::Site& site, const Subject& subject) {
  Evidence evidence = unanswered(subject, missing_contacts(site, subject.id));
  if (!evidence.gaps.empty()) return evidence;
  evidence.verdict = chain::Verdict::broken;
  evidence.says = say::loop_has_no_alarm_contact(subject.thing);
  return evidence;
}

std::vector<Reading> right_readings(Happening happening) {
  switch (happening) {
    case Happening::rest: return {Reading::secure};
    case Happening::alarm: return {Reading::alarm};
    case Happening::second_alarm: return {Reading::second_alarm};
    case Happening::both_alarm: return {Reading::both_alarm};
    case Happening::masked: return {Reading::masked, Reading::fault, Reading::tamper, Reading::alarm};
    case Happening::fault: return {Reading::fault, Reading::tamper, Reading::alarm};
    case Happening::tamper_open: return {Reading::tamper, Reading::open, Reading::alarm, Reading::fault};
    case Happening::shorted: return {Reading::shorted, Reading::tamper, Reading::alarm, Reading::fault};
  }
  return {};
}

std::vector<Evidence> check_loop(const site::Site& site, const std::string& zone, const std::vector<Level>& before,
                                 const std::vector<Level>& after) {
  std::vector<Evidence> all;
  const site::Word<site::Medium>& medium = site.zones.at(zone).medium;
  if (!medium.known()) return {unanswered(alarm_subject(site, zone), {{medium.pointer, "unknown"}})};
  if (!medium.is(site::Medium::wired)) return all;  // no pair: nothing for this link to hold
  if (!before.empty() && !tells_alarm(before)) all.push_back(no_alarm_contact(site, alarm_subject(site, zone)));
  std::vector<Evidence> as_found = worst_by_check(site, before, before_the_wire),
                        wired = worst_by_check(site, after, "");
  remedy(as_found, wired);
  std::move(as_found.begin(), as_found.end(), std::back_inserter(all));
  std::move(wired.begin(), wired.end(), std::back_inserter(all));
  if (Worst worst = worst_disturbance(site, before, after); worst.any()) all.push_back(worst.take());
  return all;
}

}  // namespace zoneproof::electric
