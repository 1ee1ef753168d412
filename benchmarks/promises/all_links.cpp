// The whole proof, all five links of every chain joined, as `zoneproof prove` makes it: of a real plan, and of
// generated sites that have none.
#include <fmt/format.h>

#include <functional>
#include <stdexcept>

#include "promises/own_process.hpp"
#include "promises/progress.hpp"
#include "promises/proof_alone.hpp"
#include "results/proof.hpp"

namespace zoneproof::promises {

namespace {

Figure whole(const std::string& name, const std::function<site::Site()>& site_of, const Effort& effort) {
  Figure figure;
  figure.promise = fmt::format("whole proof, all links: {}", name);
  figure.unit = "ms";
  const auto measured = measured_alone(effort.most_seconds, [&] {
    const site::Site site = site_of();
    Progress progress("proving " + name);
    const auto told = [&progress](const std::string& words) { progress(words); };
    return std::vector<double>{seconds_once([&] {
      if (results::proof_of(site, "", told).chains.empty()) throw std::runtime_error("nothing was proven");
    })};
  });
  figure.limit = measured ? fmt::format("its loops and triggers; {:.0f} MB", measured->megabytes)
                          : fmt::format("left out: it takes more than {:g} s (--most-seconds)", effort.most_seconds);
  if (measured) figure.ours = 1e3 * measured->figures.at(0);
  return figure;
}

}  // namespace

std::vector<Figure> all_links(const Effort& effort) {
  std::vector<Figure> figures = {whole(
      "Saltmarsh", [] { return demo_site("saltmarsh"); }, effort)};
  for (const unsigned zones : {200U, 1000U})
    figures.push_back(whole(
        fmt::format("{} generated zones", zones), [zones] { return generated_site(zones); }, effort));
  return figures;
}

}  // namespace zoneproof::promises
