// The electrical proof of generated sites beside ngspice on the same sites, and how it grows.
#include <fmt/format.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "electric/deck.hpp"
#include "promises/progress.hpp"
#include "promises/proof_alone.hpp"

namespace zoneproof::promises {

namespace {

/// ngspice in batch on the deck of the site: every state in every supply condition once, corners left out.
double spice_seconds(unsigned zones) {
  const Progress progress(fmt::format("ngspice on the deck of {} zones", zones));
  const std::filesystem::path folder = std::filesystem::temp_directory_path();
  const std::filesystem::path deck = folder / "zoneproof-promise.cir";
  std::ofstream(deck) << electric::deck(generated_site(zones));
  const std::string command = "ngspice -b '" + deck.string() + "' > /dev/null 2>&1";
  const double seconds = seconds_once([&] {
    if (std::system(command.c_str()) != 0) throw std::runtime_error("ngspice fails on the deck");
  });
  std::filesystem::remove(deck);
  return seconds;
}

/// A size of the site, and what its proof took if it was made.
struct Grown {
  unsigned zones = 0;
  std::optional<ProofCost> cost;
};

Figure per_zone(const Grown& now, const Grown& before, const Effort& effort) {
  Figure figure;
  figure.promise = fmt::format("growth: proof per zone, {} zones", now.zones);
  figure.beside = fmt::format("itself, {} zones", before.zones);
  figure.unit = "ms";
  figure.aim_ratio = 1.0;
  figure.limit = now.cost ? "a supply's proof looks at all that hangs on it" : left_out(now.zones, effort);
  if (before.cost) figure.theirs = 1e3 * before.cost->seconds / before.zones;
  if (now.cost) figure.ours = 1e3 * now.cost->seconds / now.zones;
  return figure;
}

Figure memory(const Grown& now) {
  Figure figure;
  figure.promise = fmt::format("growth: memory of the proof, {} zones", now.zones);
  figure.unit = "MB";
  figure.aim_ours = 300.0;  // of 5,000 zones
  figure.ours = now.cost->megabytes;
  figure.limit = "the site, and the levels of every zone that is being proven";
  return figure;
}

}  // namespace

std::vector<Figure> whole_proof(const Effort& effort) {
  constexpr unsigned zones = 200;
  const std::optional<ProofCost> cost = proof_alone(zones, effort);
  Figure figure;
  figure.promise = fmt::format("whole electrical proof, {} zones", zones);
  figure.beside = "ngspice, each state once, no corners";
  figure.unit = "ms";
  figure.aim_ours = 50.0;
  figure.aim_ratio = 10.0;
  figure.limit = cost ? "every level is a worst case of its own network; little is shared between states and conditions"
                      : left_out(zones, effort);
  figure.theirs = 1e3 * spice_seconds(zones);
  if (cost) figure.ours = 1e3 * cost->seconds;
  return {figure};
}

std::vector<Figure> growth(const Effort& effort) {
  std::vector<Figure> figures;
  Grown before{12, proof_alone(12, effort)}, largest;
  for (const unsigned zones : {50U, 200U, 1000U, 5000U}) {
    const Grown now{zones, proof_alone(zones, effort)};
    figures.push_back(per_zone(now, before, effort));
    if (now.cost) largest = now;
    before = now;
  }
  if (largest.cost) figures.push_back(memory(largest));
  return figures;
}

}  // namespace zoneproof::promises
