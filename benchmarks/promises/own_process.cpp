#include "promises/own_process.hpp"

#include <fmt/format.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cmath>
#include <stdexcept>

namespace zoneproof::promises {

namespace {

/// Exit status 0 and the figures in the pipe, or another status.
[[noreturn]] void be_the_child(double most_seconds, const std::function<std::vector<double>()>& measure, int to) {
  alarm(static_cast<unsigned>(std::ceil(most_seconds)));  // SIGALRM ends who does not ask for it
  int status = 1;
  try {
    const std::vector<double> figures = measure();
    const auto bytes = static_cast<ssize_t>(figures.size() * sizeof(double));  // few: a pipe takes them at once
    if (write(to, figures.data(), static_cast<std::size_t>(bytes)) == bytes) status = 0;
  } catch (const std::exception& problem) {
    fmt::print(stderr, "{}\n", problem.what());
  }
  _exit(status);
}

std::vector<double> read_to_the_end(int from) {
  std::vector<double> figures;
  for (double figure = 0.0; read(from, &figure, sizeof figure) == sizeof figure;) figures.push_back(figure);
  return figures;
}

}  // namespace

std::optional<MeasuredAlone> measured_alone(double most_seconds, const std::function<std::vector<double>()>& measure) {
  int ends[2];
  if (pipe(ends) != 0) throw std::runtime_error("no pipe to a process of its own");
  const pid_t child = fork();
  if (child < 0) throw std::runtime_error("no process of its own");
  if (child == 0) be_the_child(most_seconds, measure, ends[1]);
  close(ends[1]);
  MeasuredAlone measured;
  measured.figures = read_to_the_end(ends[0]);
  close(ends[0]);
  int status = 0;
  rusage used{};
  while (wait4(child, &status, 0, &used) != child) {
    if (errno != EINTR) throw std::runtime_error("the process that measures is lost");
  }
  if (WIFSIGNALED(status) && WTERMSIG(status) == SIGALRM) return std::nullopt;
  if (status != 0) throw std::runtime_error("what was measured failed; see above");
  measured.megabytes = static_cast<double>(used.ru_maxrss) / 1024.0;
  return measured;
}

}  // namespace zoneproof::promises
