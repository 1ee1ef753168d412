#pragma once
#include <vector>

/// How far a network of resistances and capacitances is from rest, some time after its source has moved.
///
/// Model. Resistances, and capacitances C_k from nodes to ground. After a step of the source the deviation of node i
/// from where it will come to rest is e_i(t). A network that was at rest deviates as if a current were driven into one
/// place, G e(0) >= 0 (or <= 0, all signs turned): then e falls everywhere and never turns. One that was still on its
/// way deviates less, everywhere. R_ki is the voltage at node i for a unit current into node k, the sources at rest;
/// T_k = R_kk C_k.
///
/// Bounds. The charge that is still missing gives  F_i(t) = integral of e_i from t on = sum R_ki C_k e_k(t).
/// Since e falls, G e = -C e' >= 0: e is superharmonic, so e_i >= e_k R_ki / R_kk (the harmonic function that is e_k at
/// k and nothing at ground; maximum principle). Hence F_i <= (sum R_kk C_k) e_i = T e_i, and with F_i' = -e_i
///     F_i(t) <= F_i(0) exp(-t/T) <= T e_i(0) exp(-t/T).
/// And e_i falls, so e_i(t) s <= F_i(t - s); with s = T:   e_i(t) <= e_i(0) exp(1 - t/T).
/// Read the other way, e_k >= e_i R_ki / R_ii gives F_i >= S e_i with S = sum R_ki^2 C_k / R_ii, hence
/// F_i(t) >= F_i(0) exp(-t/S) and   e_i(t) >= F_i(t)/T >= e_i(0) (S/T) exp(-t/S).
/// (Rubinstein, Penfield and Horowitz, Signal delay in RC tree networks, IEEE Trans. CAD 2, 1983, have these bounds for
/// trees: from memory, verified: no. The argument above does not need a tree, and the tests hold it against ngspice.)
///
/// Diodes that conduct only add conductance and quicken; a filter behind a buffer is one more T_k (the limit of a large
/// resistance and a small capacitance). Not covered: coupling capacitances between two moving nodes, inductance.
/// Cost: an exponential.
namespace zoneproof::electric {

/// The deviation of a node at time t, in s, as a share of its own at the start, is at most this; `total_s` is T, which
/// may be infinite: then nothing has settled. 0 <= result <= 1.
double left_at_most(double t, double total_s);

/// The time after which at most `share` of the deviation is left, in s: T (1 - ln share).
double time_until(double share, double total_s);

/// What is known of one node: T and S of the comment, in s.
struct NodeTimes {
  double total_s = 0.0, own_s = 0.0;
};

/// `resistance[k][i]` is R_ki in ohm, `capacitance[k]` in F; node `at`.
NodeTimes node_times(const std::vector<std::vector<double>>& resistance, const std::vector<double>& capacitance,
                     std::size_t at);

/// The deviation of the node, of a network that was at rest, as a share of its own at the start, is at least this.
double left_at_least(double t, const NodeTimes& times);

}  // namespace zoneproof::electric
