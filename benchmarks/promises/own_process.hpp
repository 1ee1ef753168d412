#pragma once
#include <functional>
#include <optional>
#include <vector>

namespace zoneproof::promises {

/// What was measured in a process of its own.
struct MeasuredAlone {
  std::vector<double> figures;  ///< as `measure` returned them
  double megabytes = 0.0;       ///< most memory that the process held
};

/// Runs `measure` in a child process, so that its memory is its own and it can be stopped. Nothing where it takes more
/// than `most_seconds`. Throws std::runtime_error where it throws or dies. The caller must have no other threads: only
/// the one that forks lives on in the child.
std::optional<MeasuredAlone> measured_alone(double most_seconds, const std::function<std::vector<double>()>& measure);

}  // namespace zoneproof::promises
