// What carries the clips of a whole site: one storm of all its clips simulated, and all that is said of the carriage
// and of the moments of the alarms, as the site grows.
#include <fmt/format.h>

#include <iterator>
#include <random>
#include <stdexcept>

#include "carriage/answers.hpp"
#include "promises/own_process.hpp"
#include "promises/progress.hpp"
#include "promises/proof_alone.hpp"
#include "timeline/answers.hpp"

namespace zoneproof::promises {

namespace {

/// Clips released within five seconds, beside the streams that go on.
carriage::SiteStorm storm_at_random(const site::Site& site) {
  carriage::SiteStorm storm = carriage::storm_of(site);
  std::mt19937_64 random(5);
  for (const carriage::SiteClip& clip : storm.clips) {
    if (!clip.flow) throw std::runtime_error("a clip is not known: " + clip.trigger);
    storm.storm.flows[*clip.flow].release = static_cast<carriage::Nanoseconds>(random() % 5'000'000'000U);
  }
  return storm;
}

void require_bounded(const carriage::SiteStorm& storm, const carriage::Outcome& outcome,
                     const std::vector<carriage::ClipBound>& bounds) {
  for (std::size_t i = 0; i < storm.clips.size(); ++i) {
    const std::size_t flow = *storm.clips[i].flow;
    const double took_s = 1e-9 * static_cast<double>(outcome.flows[flow].complete - storm.storm.flows[flow].release);
    if (!bounds[i].complete_s || took_s > *bounds[i].complete_s)
      throw std::runtime_error(fmt::format("the clip of {} is later than its bound", storm.clips[i].trigger));
  }
}

std::vector<Figure> storm_figures(const site::Site& site, const std::string& name) {
  const carriage::SiteStorm storm = storm_at_random(site);
  carriage::Outcome outcome;
  std::vector<carriage::ClipBound> bounds;
  Figure simulated, bounded;
  simulated.promise = fmt::format("{}: one storm of {} clips and {} streams through {} links", name, storm.clips.size(),
                                  storm.streams.size(), storm.hops.size());
  simulated.ours = 1e3 * seconds_of([&] { outcome = carriage::simulate(storm.storm); });
  simulated.unit = "ms";
  simulated.limit = "bringing pieces into order and moving them in memory";
  bounded.promise = fmt::format("{}: ... the bounds of its {} clips", name, storm.clips.size());
  bounded.ours = 1e3 * seconds_of([&] { bounds = carriage::clip_bounds(storm); });
  bounded.unit = "ms";
  bounded.limit = "a sum of curves for each kind of clip and hop";
  require_bounded(storm, outcome, bounds);
  return {simulated, bounded};
}

/// Seconds of the storm of the site, its bounds, what is said of the carriage, and of the moments of the alarms.
std::vector<double> parts_of_carriage(unsigned zones) {
  const site::Site site = generated_site(zones);
  const Progress progress(fmt::format("the carriage of {} zones", zones));
  carriage::SiteStorm storm;
  std::vector<carriage::ClipBound> bounds;
  std::vector<double> seconds;
  seconds.push_back(seconds_once([&] { storm = carriage::storm_of(site); }));
  seconds.push_back(seconds_once([&] { bounds = carriage::clip_bounds(storm); }));
  seconds.push_back(seconds_once([&] { (void)carriage::carriage_answers(site, storm); }));
  seconds.push_back(seconds_once([&] {
    if (timeline::timeline_answers(site, "", timeline::carrying_of(bounds)).empty())
      throw std::runtime_error("nothing was said of the alarms");
  }));
  return seconds;
}

/// Per zone and part, beside the size before.
std::vector<Figure> growth_figures(const Effort& effort) {
  static constexpr const char* parts[] = {"storm", "bounds", "carriage", "alarms"};
  std::vector<Figure> figures;
  std::optional<MeasuredAlone> before;
  unsigned zones_before = 0;
  for (const unsigned zones : {50U, 200U, 1000U, 5000U}) {
    const auto measured = measured_alone(effort.most_seconds, [&] { return parts_of_carriage(zones); });
    for (std::size_t part = 0; part < std::size(parts); ++part) {
      Figure figure;
      figure.promise = fmt::format("growth: {} per zone, {} zones", parts[part], zones);
      figure.unit = "ms";
      if (measured) figure.ours = 1e3 * measured->figures.at(part) / zones;
      if (before) figure.beside = fmt::format("itself, {} zones", zones_before);
      if (before) figure.theirs = 1e3 * before->figures.at(part) / zones_before;
      if (before) figure.aim_ratio = 1.0;
      figure.limit = measured ? "every clip is held against all others at the uplink" : left_out(zones, effort);
      figures.push_back(figure);
    }
    before = measured;
    zones_before = zones;
  }
  return figures;
}

}  // namespace

std::vector<Figure> carried(const Effort& effort) {
  std::vector<Figure> figures = storm_figures(demo_site("saltmarsh"), "Saltmarsh");
  for (Figure& figure : storm_figures(generated_site(1000), "1,000 zones")) figures.push_back(std::move(figure));
  for (Figure& figure : growth_figures(effort)) figures.push_back(std::move(figure));
  return figures;
}

}  // namespace zoneproof::promises
