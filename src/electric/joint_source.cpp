#include "electric/joint_source.hpp"

#include <algorithm>
#include <cmath>

#include "circuit/monotone.hpp"

namespace zoneproof::electric {

namespace {

using circuit::CornerEntry;
using circuit::Extreme;
using circuit::Network;
using circuit::Quantity;
using circuit::Trouble;
using circuit::WorstCase;

/// Two values of one element are one where they differ by less than this share.
constexpr double same_value = 1e-9;

bool same(double a, double b) { return std::fabs(a - b) <= same_value * std::max(std::fabs(a), std::fabs(b)); }

Network at_corner(const Network& network, const JointSource& joint, const JointSource::Corner& corner) {
  Network at = network;
  at.element(joint.pullup).value = corner.ohm;
  at.element(joint.source).value = circuit::Range::exactly(corner.volts);
  return at;
}

/// Names the pair in the corner of an extreme, so that it can be told and solved again. A resistance that drifts stands
/// in it already, at the end that the extreme takes, unless it hardly matters.
void name_pair(Extreme& extreme, const Network& hull, const JointSource& joint, const JointSource::Corner& corner) {
  const auto has = [&](circuit::ElementIndex element) {
    return std::any_of(extreme.corner.begin(), extreme.corner.end(),
                       [&](const CornerEntry& entry) { return entry.element == element; });
  };
  const auto add = [&](circuit::ElementIndex element, double value) {
    if (!has(element)) extreme.corner.push_back({element, value, value > hull.element(element).value.nominal});
  };
  add(joint.pullup, corner.ohm.nominal);
  add(joint.source, corner.volts);
}

/// The more extreme of two for what some system attains, and for what none goes beyond.
void take(Extreme& kept, const Extreme& other, bool low) {
  const auto beyond = [low](double a, double b) { return low ? a < b : a > b; };
  if (beyond(other.bound, kept.bound)) kept.bound = other.bound;
  if (std::isnan(kept.attained) || beyond(other.attained, kept.attained)) {
    kept.attained = other.attained;
    kept.corner = other.corner;
  }
}

void take(WorstCase& kept, const WorstCase& other) {
  take(kept.low, other.low, true);
  take(kept.high, other.high, false);
  kept.certified = std::min(kept.certified, other.certified);
  kept.enumerated = std::max(kept.enumerated, other.enumerated);
  if (kept.trouble != Trouble::none) return;
  kept.trouble = other.trouble;
  kept.troubled_nodes = other.troubled_nodes;
  kept.troubled_elements = other.troubled_elements;
}

void settle(Extreme& extreme) {
  extreme.exact = std::fabs(extreme.bound - extreme.attained) <= circuit::WorstCaseOptions{}.exact_tolerance;
}

/// Extremes over the corners of the polygon.
std::vector<WorstCase> over_corners(const Network& network, const JointSource& joint,
                                    const std::vector<Quantity>& quantities) {
  std::vector<WorstCase> all;
  for (const JointSource::Corner& corner : joint.corners) {
    std::vector<WorstCase> here = circuit::worst_case(at_corner(network, joint, corner), quantities);
    for (std::size_t i = 0; i < here.size(); ++i) {
      name_pair(here[i].low, network, joint, corner);
      name_pair(here[i].high, network, joint, corner);
      if (i < all.size()) {
        take(all[i], here[i]);
      } else {
        all.push_back(std::move(here[i]));
      }
    }
  }
  return all;
}

/// Of which quantities the corners are not proved to hold the extremes.
std::vector<bool> open_between_corners(const Network& network, const JointSource& joint,
                                       const std::vector<Quantity>& quantities) {
  std::vector<bool> open(quantities.size(), false);
  const bool linear = circuit::linear(network);
  const std::vector<int> signs =
      linear ? std::vector<int>(quantities.size(), 1) : circuit::certain_signs(network, joint.source, quantities);
  for (std::size_t i = 0; i < quantities.size(); ++i) {
    const auto& terms = quantities[i].terms;
    const bool looks_between =
        std::any_of(terms.begin(), terms.end(), [&](const auto& term) { return term.node == joint.between; });
    open[i] = looks_between || signs[i] == 0;
  }
  return open;
}

/// Several polygons, each taken for its hull: an extreme is a real site's only where each pair is a polygon's corner.
bool pair_is_real(const Extreme& extreme, const JointSource& joint) {
  return std::any_of(joint.corners.begin(), joint.corners.end(), [&](const JointSource::Corner& corner) {
    return std::all_of(extreme.corner.begin(), extreme.corner.end(), [&](const CornerEntry& entry) {
      if (entry.element == joint.source) return same(entry.value, corner.volts);
      if (entry.element != joint.pullup) return true;
      return same(entry.value, std::clamp(entry.value, corner.ohm.low, corner.ohm.high));
    });
  });
}

}  // namespace

std::vector<WorstCase> worst_case_of(const Network& network, const std::vector<JointSource>& joints,
                                     const std::vector<Quantity>& quantities) {
  if (joints.size() != 1) {
    std::vector<WorstCase> all = circuit::worst_case(network, quantities);
    for (WorstCase& worst : all) {
      for (const JointSource& joint : joints) {
        worst.low.exact = worst.low.exact && pair_is_real(worst.low, joint);
        worst.high.exact = worst.high.exact && pair_is_real(worst.high, joint);
      }
    }
    return all;
  }
  const double nan = std::nan("");
  const JointSource& joint = joints.front();
  std::vector<WorstCase> all = over_corners(network, joint, quantities);
  const std::vector<bool> open = open_between_corners(network, joint, quantities);
  std::vector<Quantity> asked;
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (open[i]) asked.push_back(quantities[i]);
  }
  const std::vector<WorstCase> hull = asked.empty() ? std::vector<WorstCase>() : circuit::worst_case(network, asked);
  const circuit::Solution nominal = circuit::solve(network);
  for (std::size_t i = 0, next = 0; i < open.size(); ++i) {
    all[i].nominal = nominal.usable() ? nominal.at(quantities[i]) : nan;
    if (open[i]) {
      WorstCase bound = hull[next++];
      bound.low.attained = bound.high.attained = nan;  // of a pair that perhaps no terminal has
      take(all[i], bound);
    }
    settle(all[i].low);
    settle(all[i].high);
  }
  return all;
}

}  // namespace zoneproof::electric
