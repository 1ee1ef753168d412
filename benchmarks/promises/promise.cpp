#include "promises/promise.hpp"

#include <algorithm>
#include <array>
#include <chrono>

namespace zoneproof::promises {

namespace {

std::function<std::vector<Figure>(const Effort&)> whatever_the_effort(std::vector<Figure> (*measure)()) {
  return [measure](const Effort&) { return measure(); };
}

}  // namespace

const std::vector<Row>& rows() {
  static const std::vector<Row> all = {{"start", whatever_the_effort(start)},
                                       {"operating_points", whatever_the_effort(operating_points)},
                                       {"worst_case", whatever_the_effort(worst_case)},
                                       {"views", whatever_the_effort(views)},
                                       {"witnessed", whatever_the_effort(witnessed)},
                                       {"storm", whatever_the_effort(storm)},
                                       {"carried", carried},
                                       {"growth", growth},
                                       {"whole_proof", whole_proof},
                                       {"all_links", all_links},
                                       {"handover", handover_file},
                                       {"one_edit", one_edit}};
  return all;
}

double seconds_once(const std::function<void()>& run) {
  const auto begin = std::chrono::steady_clock::now();
  run();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

double seconds_of(const std::function<void()>& run, double least) {
  std::size_t runs = 1;
  const auto together = [&] {
    return seconds_once([&] {
      for (std::size_t i = 0; i < runs; ++i) run();
    });
  };
  while (together() < least) runs *= 2;
  std::array<double, 5> times{};
  for (double& time : times) time = together() / static_cast<double>(runs);
  std::nth_element(times.begin(), times.begin() + 2, times.end());
  return times[2];
}

}  // namespace zoneproof::promises
