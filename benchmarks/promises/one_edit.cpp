// From an edit of an open site to its new verdicts, beside the full proof of the same site.
#include <fmt/format.h>

#include <stdexcept>

#include "browser/session.hpp"
#include "promises/own_process.hpp"
#include "promises/progress.hpp"
#include "promises/proof_alone.hpp"

namespace zoneproof::promises {

namespace {

/// A metre more cable to the first zone: what a hand does that drags a detector on the plan.
std::string a_longer_cable(const site::Site& site) {
  site::Site changed = site;
  site::Value& length = changed.cables.at(site.zones.begin()->second.loop.cable.id).length_m;
  length = site::Value::exactly(length.nominal + 1.0, site::Origin::measured);
  return site::patch_between(site, changed);
}

double seconds_to_verdicts(const browser::Session& session, const std::string& what) {
  Progress progress(what);
  const auto told = [&progress](const std::string& words) { progress(words); };
  return seconds_once([&] {
    if (session.ask(R"({"command": "prove"})", told).status > 1) throw std::runtime_error("the session refuses");
  });
}

/// Seconds of the edit and its verdicts, and of the first proof of the session.
std::vector<double> edit_and_first(unsigned zones) {
  browser::Session session(generated_site(zones), "generated", {});
  const double first = seconds_to_verdicts(session, fmt::format("proving {} zones in a session", zones));
  const std::string patch = a_longer_cable(session.site());
  const double applied = seconds_once([&] {
    if (!session.apply(patch).site) throw std::runtime_error("the edit is refused");
  });
  return {applied + seconds_to_verdicts(session, "proving them again after one edit"), first};
}

}  // namespace

std::vector<Figure> one_edit(const Effort& effort) {
  constexpr unsigned zones = 200;
  Figure figure;
  figure.promise = fmt::format("one edit to new verdicts, {} zones", zones);
  figure.beside = "the first proof of the session";
  figure.unit = "ms";
  figure.aim_ours = 5.0;
  figure.limit = "every answer that is kept is looked up, copied and written out again";
  const auto measured = measured_alone(2.0 * effort.most_seconds, [&] { return edit_and_first(zones); });
  if (!measured) {
    figure.limit = left_out(zones, effort);
    return {figure};
  }
  figure.ours = 1e3 * measured->figures.at(0);
  figure.theirs = 1e3 * measured->figures.at(1);
  return {figure};
}

}  // namespace zoneproof::promises
