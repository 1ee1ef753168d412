// The handover file: everything that `zoneproof handover` computes and sets, from the site in memory to the bytes of
// every file. Of a real plan, and of generated sites, which have wiring, supplies and networks but no plan: their zone
// pages have no pictures.
#include <fmt/format.h>

#include <functional>
#include <stdexcept>

#include "drawing/fonts.hpp"
#include "handover/findings.hpp"
#include "handover/handover_file.hpp"
#include "promises/own_process.hpp"
#include "promises/progress.hpp"
#include "promises/proof_alone.hpp"

namespace zoneproof::promises {

namespace {

constexpr double kAim_s = 2.0;  ///< for 48 zones
constexpr std::size_t kZonesOfAim = 48;

double seconds_of_files(const site::Site& site, const std::string& name) {
  std::vector<Message> problems;
  const auto fonts = drawing::Fonts::open(drawing::folder_of_fonts(), problems);
  if (!fonts) throw std::runtime_error(text(problems.front()));
  Progress progress("handing over " + name);
  const auto told = [&progress](const std::string& words) { progress(words); };
  handover::FileOptions options;
  options.created = "2026-01-01T00:00:00Z";
  return seconds_once([&] {
    const handover::Findings findings = handover::find(site, nullptr, told);
    if (handover::handover_files(*fonts, findings, options).files.empty())
      throw std::runtime_error("no files were made");
  });
}

Figure of_site(const std::string& name, const std::function<site::Site()>& site_of, const Effort& effort) {
  Figure figure;
  figure.promise = fmt::format("handover file: {}", name);
  figure.unit = "ms";
  const site::Site site = site_of();
  if (site.zones.size() == kZonesOfAim) figure.aim_ours = 1e3 * kAim_s;
  const auto measured =
      measured_alone(effort.most_seconds, [&] { return std::vector<double>{seconds_of_files(site, name)}; });
  figure.limit = measured ? fmt::format("faults, loops and triggers; {:.0f} MB", measured->megabytes)
                          : fmt::format("left out: it takes more than {:g} s (--most-seconds)", effort.most_seconds);
  if (measured) figure.ours = 1e3 * measured->figures.at(0);
  return figure;
}

}  // namespace

std::vector<Figure> handover_file(const Effort& effort) {
  std::vector<Figure> figures = {of_site(
      "Saltmarsh", [] { return demo_site("saltmarsh"); }, effort)};
  for (const unsigned zones : {48U, 200U, 1000U})
    figures.push_back(of_site(
        fmt::format("{} generated zones", zones), [zones] { return generated_site(zones); }, effort));
  return figures;
}

}  // namespace zoneproof::promises
