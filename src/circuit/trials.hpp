#pragma once
#include <vector>

#include "circuit/box_study.hpp"

/// Inside of the engine: points of a box, solved, and the best of them; what `Extreme::attained` is made of.
namespace zoneproof::circuit {

/// Works with direction * quantity, to be made large. Study, quantity and result have to outlive it; a trouble that
/// concerns the quantity is told to the result, the first one met.
class Trials {
 public:
  Trials(const BoxStudy& study, const Quantity& quantity, int direction, WorstCase& result);

  /// The full nonlinear solution at a point of the box (where spans are still wide their nominal values, or the nearest
  /// there are): direction * quantity, at the upper end of its error; NaN where the quantity floats.
  double evaluate(const Box& point);
  /// Tries the ends of the open parameters of `part`, those of most effect first, one after the other from the best
  /// point so far, as long as that helps: coordinate descent, a bounded number of solutions.
  void descend(Box part);

  bool found() const { return best_ > -infinite; }
  double best() const { return best_; }  ///< direction * quantity; -infinite where nothing is found
  Corner corner() const;                 ///< of the best point
  const std::vector<double>& volts() const { return volts_; }  ///< node voltages of the point evaluated last
  bool locked_out() const { return locked_out_; }              ///< some load of that point does not run

 private:
  struct Weighted {
    double effect;
    Parameter parameter;
  };
  std::vector<Weighted> by_effect(Box& part) const;
  void note_trouble(const Solution& solution);

  const BoxStudy& study_;
  const Quantity& quantity_;
  int direction_;
  WorstCase& result_;
  Network work_;
  double weight_ = 0.0;  ///< of the quantity: volts of error to its own
  double best_ = -infinite;
  Box best_point_;
  std::vector<double> volts_;
  bool locked_out_ = false;
};

}  // namespace zoneproof::circuit
