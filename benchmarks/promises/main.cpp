// zoneproof_promises FILE: measures the promises, prints a table for people and writes FILE for programs.
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <exception>
#include <fstream>
#include <nlohmann/json.hpp>

#include "promises/promise.hpp"

namespace {

using zoneproof::promises::Figure;

void print(const Figure& figure) {
  fmt::print("{}\n", figure.promise);
  if (std::isnan(figure.theirs)) {
    fmt::print("  {:.4g} {} (aim: at most {:g})\n", figure.ours, figure.unit, figure.aim);
  } else {
    fmt::print("  {:.4g} {}; {}: {:.4g} {}; {:.4g} times as fast (aim: {:g})\n", figure.ours, figure.unit,
               figure.beside, figure.theirs, figure.unit, figure.ratio(), figure.aim);
  }
  fmt::print("  limited by: {}\n", figure.limit);
  std::fflush(stdout);
}

nlohmann::ordered_json json_of(const Figure& figure) {
  const bool alone = std::isnan(figure.theirs);
  const auto or_null = [&](double number) { return alone ? nlohmann::ordered_json() : nlohmann::ordered_json(number); };
  return {{"promise", figure.promise},
          {"beside", figure.beside},
          {"ours", figure.ours},
          {"theirs", or_null(figure.theirs)},
          {"ratio", or_null(figure.ratio())},
          {"unit", figure.unit},
          {"aim", figure.aim},
          {"limit", figure.limit}};
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) {
    fmt::print(stderr, "usage: zoneproof_promises FILE\n");
    return 2;
  }
  try {
    nlohmann::ordered_json all = nlohmann::ordered_json::array();
    using namespace zoneproof::promises;
    for (const auto& measure : {starts, zone_loops, whole_proofs}) {
      for (const Figure& figure : measure()) {
        print(figure);
        all.push_back(json_of(figure));
      }
    }
    std::ofstream file(arguments[1]);
    file << all.dump(2) << '\n';
    return file.good() ? 0 : 1;
  } catch (const std::exception& problem) {
    fmt::print(stderr, "zoneproof_promises: {}\n", problem.what());
    return 1;
  }
}
