#include "circuit/batch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "circuit/batch_writer.hpp"

namespace zoneproof::circuit {

namespace {

constexpr double finished = 1e-11;  // of a load's voltage, change of the last round: the error is its square
/// From the unloaded point Newton's method takes half a dozen rounds; more means that a set is next to collapse, where
/// digits go and solve() has its proof of the error.
constexpr int most_lane_rounds = 14;

using Lanes = std::array<bool, block_lanes>;

/// One block of sets on its way through the code.
class BlockRun {
 public:
  explicit BlockRun(const BatchCode& batch) : batch_(batch), blocks_(batch.code.workspace()) {}

  double& at(Word word, std::size_t lane) { return blocks_[batch_.code.place(word)].lane(lane); }

  /// Lanes from `used` on are copies of the last set.
  void fill(const double* values, std::size_t count, std::size_t begin, std::size_t used) {
    fit_.fill(true);
    for (std::size_t i = 0; i < batch_.inputs.size(); ++i) {
      for (std::size_t lane = 0; lane < block_lanes; ++lane) {
        const double value = values[i * count + begin + std::min(lane, used - 1)];
        at(batch_.inputs[i], lane) = value;
        const bool keeps_shape = !batch_.shapes[i] || value > 0.0;
        fit_[lane] = fit_[lane] && keeps_shape && std::isfinite(value);
      }
    }
  }

  void run() {
    batch_.code.run(Part::before, blocks_);
    for (const BatchLoad& load : batch_.loads) {
      for (const Word tangent : {load.siemens, load.ampere}) {
        for (std::size_t lane = 0; lane < block_lanes; ++lane) at(tangent, lane) = 0.0;
      }
    }
    run_down();
    batch_.code.run(Part::after, blocks_);
    for (const Word word : batch_.not_negative) {
      for (std::size_t lane = 0; lane < block_lanes; ++lane) fit_[lane] = fit_[lane] && at(word, lane) >= 0.0;
    }
  }

  bool fits(std::size_t lane) {
    return fit_[lane] && std::all_of(batch_.results.begin(), batch_.results.end(),
                                     [&](Word word) { return std::isfinite(at(word, lane)); });
  }

 private:
  /// Newton's method from the unloaded network downwards; lanes that have ended keep their tangents.
  void run_down() {
    last_.assign(batch_.loads.size(), {});
    for (std::array<double, block_lanes>& last : last_) last.fill(std::numeric_limits<double>::infinity());
    Lanes done{};
    for (int round = 0; round < most_lane_rounds; ++round) {
      batch_.code.run(Part::loop, blocks_);
      bool all = true;
      for (std::size_t lane = 0; lane < block_lanes; ++lane) {
        if (!done[lane] && fit_[lane]) done[lane] = steps_on(lane);
        all = all && (done[lane] || !fit_[lane]);
      }
      if (all) return;
    }
    for (std::size_t lane = 0; lane < block_lanes; ++lane) fit_[lane] = fit_[lane] && done[lane];
  }

  /// True where the loads' voltages stand still; else the tangents are laid anew. A load without voltage does not fit.
  bool steps_on(std::size_t lane) {
    bool still = true;
    for (std::size_t i = 0; i < batch_.loads.size(); ++i) {
      const double w = at(batch_.loads[i].volt, lane);
      if (!(w > 0.0)) return fit_[lane] = false;
      still = still && std::fabs(w - last_[i][lane]) < finished * w;
    }
    if (still) return true;
    for (std::size_t i = 0; i < batch_.loads.size(); ++i) {
      const BatchLoad& load = batch_.loads[i];
      const double w = at(load.volt, lane);
      const double watt = at(load.watt, lane);
      at(load.siemens, lane) = -watt / (w * w);
      at(load.ampere, lane) = 2.0 * watt / w;
      last_[i][lane] = w;
    }
    return false;
  }

  const BatchCode& batch_;
  std::vector<Block> blocks_;
  std::vector<std::array<double, block_lanes>> last_;
  Lanes fit_{};
};

}  // namespace

struct Batch::Inside {
  Network network;
  std::vector<Varied> varied;
  std::vector<Quantity> quantities;
  SolveOptions options;
  std::optional<BatchCode> batch;

  /// One set, by the solver that has an answer to everything.
  void alone(const double* values, std::size_t count, std::size_t set, double* results) const {
    Network changed = network;
    for (std::size_t i = 0; i < varied.size(); ++i) {
      changed.element(varied[i].element).range(varied[i].on_ohm) = Range::exactly(values[i * count + set]);
    }
    const Solution solution = circuit::solve(changed, options);
    for (std::size_t q = 0; q < quantities.size(); ++q) {
      results[q * count + set] =
          solution.usable() ? solution.at(quantities[q]) : std::numeric_limits<double>::quiet_NaN();
    }
  }
};

Batch::Batch(Network network, std::vector<Varied> varied, std::vector<Quantity> quantities, SolveOptions options)
    : inside_(new Inside{std::move(network), std::move(varied), std::move(quantities), options, std::nullopt}) {
  const Solution nominal = circuit::solve(inside_->network, options);
  inside_->batch = write_batch(inside_->network, nominal, inside_->varied, inside_->quantities);
}
Batch::~Batch() = default;
Batch::Batch(Batch&&) noexcept = default;
Batch& Batch::operator=(Batch&&) noexcept = default;

std::size_t Batch::solve(const double* values, std::size_t count, double* results) const {
  std::size_t alone = 0;
  const auto one_by_one = [&](std::size_t set) {
    inside_->alone(values, count, set, results);
    ++alone;
  };
  if (!inside_->batch) {
    for (std::size_t set = 0; set < count; ++set) one_by_one(set);
    return alone;
  }
  const BatchCode& batch = *inside_->batch;
  BlockRun block(batch);
  for (std::size_t begin = 0; begin < count; begin += block_lanes) {
    const std::size_t used = std::min(block_lanes, count - begin);
    block.fill(values, count, begin, used);
    block.run();
    for (std::size_t lane = 0; lane < used; ++lane) {
      if (!block.fits(lane)) {
        one_by_one(begin + lane);
        continue;
      }
      for (std::size_t q = 0; q < batch.results.size(); ++q)
        results[q * count + begin + lane] = block.at(batch.results[q], lane);
    }
  }
  return alone;
}

}  // namespace zoneproof::circuit
