#include "circuit/enclosure.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "circuit/laws.hpp"

namespace zoneproof::circuit {
namespace {

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

constexpr double nearly_singular = 1e-9;
Span load_law_range(const Span& watt, const Span& volts, double gamma) {
  const auto law = [gamma](double p, double w) { return p / w + gamma * w; };
  const double lowest_at = gamma > 0.0 ? std::clamp(std::sqrt(watt.low / gamma), volts.low, volts.high) : volts.high;
  return {law(watt.low, lowest_at), std::max(law(watt.high, volts.low), law(watt.high, volts.high))};
}

}  // namespace

Box Box::of(const Network& network) {
  Box box;
  for (const Element& e : network.elements()) {
    box.value.push_back({e.value.low, e.value.high});
    box.on_ohm.push_back({e.on_ohm.low, e.on_ohm.high});
  }
  box.load_volts.resize(network.elements().size());
  box.conducts.assign(network.elements().size(), Conduction::unknown);
  return box;
}

Enclosure::Enclosure(const Network& network, Box& box, const std::vector<double>& nominal_volts)
    : network_(network), box_(box), relaxed_(network.elements().size(), false) {
  const std::vector<Span> known_volts = box.load_volts;
  const bool known = box.loads_known;
  const auto forget_loads = [&] {
    box_.load_volts = known_volts;
    box_.loads_known = known;
  };
  assume_diodes(nominal_volts);
  constexpr int most_rebuilds = 10;
  for (int round = 0; round < most_rebuilds; ++round) {
    build(nominal_volts);
    const bool enclosed = regular_ && enclose_loads();
    if (!regular_) {
      if (!drop_assumptions()) return;
      forget_loads();
      continue;
    }
    if (!enclosed) continue;                       // some load is relaxed now
    if (!check_limits() || !assumptions_hold()) {  // what was found on what does not hold is void
      forget_loads();
      continue;
    }
    if (!settle_diodes()) return;  // else some diode is certain now: build with that
  }
  regular_ = false;
}

void Enclosure::assume_diodes(const std::vector<double>& nominal_volts) {
  assumed_.assign(network_.elements().size(), Conduction::unknown);
  for (std::size_t e = 0; e < assumed_.size(); ++e) {
    const Element& element = network_.elements()[e];
    if (element.kind != Kind::diode || box_.conducts[e] != Conduction::unknown) continue;
    const double u = drop(nominal_volts, static_cast<ElementIndex>(e));
    if (!std::isnan(u)) assumed_[e] = u > element.value.nominal ? Conduction::on : Conduction::off;
  }
}

// True when there was something to give up.
bool Enclosure::drop_assumptions() {
  const bool any = std::any_of(assumed_.begin(), assumed_.end(), [](Conduction c) { return c != Conduction::unknown; });
  std::fill(assumed_.begin(), assumed_.end(), Conduction::unknown);
  return any;
}

// Proves the assumed states over the box, or leaves those open that it could not. True when all are proved.
bool Enclosure::assumptions_hold() {
  std::vector<std::size_t> doubtful;
  for (std::size_t e = 0; e < assumed_.size(); ++e) {
    if (assumed_[e] == Conduction::unknown) continue;
    if (certain_state(e) != assumed_[e]) doubtful.push_back(e);
  }
  for (const std::size_t e : doubtful) assumed_[e] = Conduction::unknown;
  if (!doubtful.empty()) return false;
  for (std::size_t e = 0; e < assumed_.size(); ++e) {
    if (assumed_[e] != Conduction::unknown) box_.conducts[e] = assumed_[e];
  }
  drop_assumptions();
  return true;
}

double Enclosure::drop(const std::vector<double>& nodes, ElementIndex element) const {
  const Element& e = network_.elements()[at(element)];
  return nodes[at(e.from)] - nodes[at(e.to)];
}

// What corrections of the given bounds do to each row, its own left out.
std::vector<double> Enclosure::spread(const std::vector<double>& magnitudes, bool transposed) const {
  const int m = rows();
  std::vector<double> result(at(m));
  const Eigen::Map<const RowMajor> size(size_.data(), m, m);
  const Eigen::Map<const Eigen::VectorXd> x(magnitudes.data(), m);
  Eigen::Map<Eigen::VectorXd> y(result.data(), m);
  if (transposed) {
    y = size.transpose() * x;
  } else {
    y = size * x;
  }
  for (int k = 0; k < m; ++k) result[at(k)] = std::max(0.0, result[at(k)] - size(k, k) * x(k));
  return result;
}

// Finds y >= (base + N D y) / (1 - |M_kk| D_k) > 0, which proves regularity and bounds the magnitudes. False: none
// found.
bool Enclosure::super_solution(const std::vector<double>& base, bool transposed, std::vector<double>& bound) const {
  const std::size_t m = rows_.size();
  std::vector<double> half(m);
  std::vector<double> divisor(m);
  double largest = 0.0;
  for (std::size_t k = 0; k < m; ++k) {
    half[k] = transposed ? rows_[k].half_lambda : rows_[k].half;
    divisor[k] = 1.0 - size_[k * m + k] * half[k];
    if (!(divisor[k] > nearly_singular)) return false;
    largest = std::max(largest, base[k] * half[k]);
  }
  std::vector<double> floored = base;  // base > 0 makes the proof; the floor is far below what matters
  for (std::size_t k = 0; k < m; ++k) floored[k] += half[k] > 0.0 ? 1e-14 * largest / half[k] + 1e-300 : 1e-300;
  const auto image = [&](const std::vector<double>& y) {
    std::vector<double> reach(m);
    for (std::size_t k = 0; k < m; ++k) reach[k] = half[k] * y[k];
    reach = spread(reach, transposed);
    for (std::size_t k = 0; k < m; ++k) reach[k] = (floored[k] + reach[k]) / divisor[k];
    return reach;
  };
  bound.resize(m);
  for (std::size_t k = 0; k < m; ++k) bound[k] = floored[k] / divisor[k];
  constexpr int most_rounds = 60;
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<double> tried = bound;
    for (double& entry : tried) entry *= 1.01;
    const std::vector<double> next = image(tried);
    bool holds = true;
    bool finite = true;
    for (std::size_t k = 0; k < m; ++k) {
      holds = holds && next[k] <= tried[k];
      finite = finite && std::isfinite(next[k]);
    }
    if (holds) {
      bound = image(next);  // each image of a bound is a bound, and a better one
      for (double& entry : bound) entry *= 1.0 + relative_slack;
      return true;
    }
    if (!finite) return false;
    bound = next;
  }
  return false;
}

bool Enclosure::enclose_w_once(const std::vector<double>& shift, const std::vector<double>& half) {
  const std::size_t m = rows_.size();
  const std::size_t s = columns_.size();
  w_.resize(m);
  std::vector<double> fixed = spread(half, false);
  for (std::size_t k = 0; k < m; ++k)
    fixed[k] += size_[k * m + k] * half[k];  // a load's remainder reaches its own row too
  for (std::size_t k = 0; k < m; ++k) {
    double centre = rows_[k].scale_w * (drop(base_volts_, rows_[k].element) - rows_[k].offset);
    for (std::size_t j = 0; j < m; ++j) {
      if (shift[j] != 0.0) centre -= coupling_[k * m + j] * shift[j];
    }
    w_[k] = centre;
    for (std::size_t j = 0; j < s; ++j) fixed[k] += std::abs(drive_[k * s + j]) * columns_[j].half;
  }
  std::vector<double> base(m);
  for (std::size_t k = 0; k < m; ++k) base[k] = std::abs(w_[k]) + fixed[k];
  if (!super_solution(base, false, w_most_)) return false;
  correction_.resize(m);
  for (std::size_t k = 0; k < m; ++k) correction_[k] = rows_[k].half * w_most_[k];
  w_radius_ = spread(correction_, false);
  for (std::size_t k = 0; k < m; ++k) {
    w_radius_[k] = (w_radius_[k] + fixed[k]) * (1.0 + relative_slack) + absolute_slack * volt_scale_ * rows_[k].scale_w;
    correction_[k] += half[k];
  }
  correction_mid_ = shift;
  return true;
}

bool Enclosure::bound_w() {
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    if (1.0 - size_[k * rows_.size() + k] * rows_[k].half <= nearly_singular) must_split_.push_back(rows_[k].element);
  }
  if (!must_split_.empty()) return false;
  if (!linear_) return true;  // loads first
  const std::vector<double> none(rows_.size(), 0.0);
  return enclose_w_once(none, none);
}

Span Enclosure::row_span(std::size_t k) const {
  const double reach = size_[k * rows_.size() + k] * rows_[k].half;
  const double low = w_[k] - w_radius_[k];
  const double high = w_[k] + w_radius_[k];
  return {low / (low < 0.0 ? 1.0 - reach : 1.0 + reach), high / (high < 0.0 ? 1.0 + reach : 1.0 - reach)};
}

void Enclosure::load_remainders(std::vector<double>& centre, std::vector<double>& half) const {
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    if (rows_[k].form != Form::load) continue;
    const std::size_t e = at(rows_[k].element);
    const Span law = load_law_range(box_.value[e], box_.load_volts[e], rows_[k].centre);
    centre[k] = -law.middle();  // from `from` (minus) to `to` (plus) the load drives -P / w
    half[k] = law.half_width();
  }
}

// A first guess of the loads' running voltages: what they would have at the centre, give or take 1 %.
void Enclosure::guess_load_volts(const std::vector<std::size_t>& loads) {
  for (const std::size_t k : loads) {
    const double gamma = rows_[k].centre;
    const double w = gamma > 0.0 ? std::sqrt(box_.value[at(rows_[k].element)].middle() / gamma) : volt_scale_;
    load_span(k) = {0.99 * w, 1.01 * w};
  }
}

// Gives the loads up: always false.
bool Enclosure::relax_loads(const std::vector<std::size_t>& loads) {
  for (const std::size_t k : loads) relaxed_[at(rows_[k].element)] = true;
  box_.loads_known = false;
  return false;
}

bool Enclosure::may_lock_out(std::size_t k) const {
  const ElementIndex load = rows_[k].element;
  return box_.load_volts[at(load)].low <= lockout(network_.elements()[at(load)]);
}

// Holds a load's interval against the enclosure made with it. A proved one is sharpened. Another has to hold the
// enclosure inside; where it does not (false), it is widened.
bool Enclosure::hold_load_span(std::size_t k, bool proved) {
  const Span u = row_span(k);
  const Span w{-u.high, -u.low};
  Span& known = load_span(k);
  if (proved) {
    known = {std::max(known.low, w.low), std::min(known.high, w.high)};
    if (known.low > known.high) known = {known.middle(), known.middle()};
    return true;
  }
  if (w.low > known.low && w.high < known.high) return true;
  const double margin = 0.05 * (std::max(known.high, w.high) - std::min(known.low, w.low)) + 1e-9;
  known = {std::min(known.low, w.low) - margin, std::max(known.high, w.high) + margin};
  return false;
}

// Intervals of the load voltages, proved by inclusion (or sharpened, when the box knows some). False: a load had to be
// relaxed.
bool Enclosure::enclose_loads() {
  if (linear_) return true;
  std::vector<std::size_t> loads;
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    if (rows_[k].form == Form::load) loads.push_back(k);
  }
  if (!box_.loads_known) guess_load_volts(loads);
  constexpr int most_rounds = 25;
  bool proved = box_.loads_known || loads.empty();
  int sharpened = 0;
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<double> centre(rows_.size(), 0.0);
    std::vector<double> half(rows_.size(), 0.0);
    load_remainders(centre, half);
    if (!enclose_w_once(centre, half)) {
      if (loads.empty()) return regular_ = false, true;
      return relax_loads(loads);
    }
    if (loads.empty()) return true;
    bool inside = true;
    for (const std::size_t k : loads) {
      if (hold_load_span(k, proved)) continue;
      inside = false;
      if (may_lock_out(k)) return relax_loads(loads);
    }
    if (proved && ++sharpened == 3) break;
    proved = proved || inside;
  }
  if (!proved) return relax_loads(loads);
  for (const std::size_t k : loads) {
    if (may_lock_out(k)) return relax_loads(loads);
  }
  for (const std::size_t k : loads) {
    const Span& w = load_span(k);
    const Span& watt = box_.value[at(rows_[k].element)];
    rows_[k].half_lambda = std::max(std::abs(watt.high / (w.low * w.low) - rows_[k].centre),
                                    std::abs(watt.low / (w.high * w.high) - rows_[k].centre));
  }
  std::vector<double> unused;
  if (!super_solution(std::vector<double>(rows_.size(), 1.0), true, unused)) return relax_loads(loads);
  box_.loads_known = true;
  return true;
}

// True when a diode's state became certain.
bool Enclosure::settle_diodes() {
  bool settled = false;
  if (!regular_) return false;
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    if (rows_[k].form != Form::diode) continue;
    const std::size_t e = at(rows_[k].element);
    const double reach = w_radius_[k] + box_.value[e].half_width() * 1e-12;
    if (std::abs(w_[k]) <= reach) continue;
    box_.conducts[e] = w_[k] > 0.0 ? Conduction::on : Conduction::off;
    settled = true;
  }
  return settled;
}

// True when all limited sources stay below their limits over the box (or are relaxed already). The current of a link
// follows by reciprocity from what one volt of it does to every row (drive_) and column.
bool Enclosure::check_limits() {
  if (!regular_) return true;
  const auto& elements = network_.elements();
  const NodalSystem& system = system_.front();
  const std::size_t s = columns_.size();
  bool certain = true;
  for (std::size_t c = 0; c < s; ++c) {
    const Column& column = columns_[c];
    const Element& source = elements[at(column.element)];
    if (source.kind != Kind::limited_source || relaxed_[at(column.element)] || std::isinf(source.limit_amps)) continue;
    std::vector<double> response = column.rhs;
    system.solve(response.data(), 1);
    double most = 0.0;
    for (std::size_t e = 0; e < elements.size(); ++e) {  // Tellegen: current over the cut that the link bridges
      const double step = drop(column.jump, static_cast<ElementIndex>(e));
      const Companion& linear = system.companions()[e];
      if (step == 0.0 || linear.form != Companion::Form::norton) continue;
      const double u = drop(base_volts_, static_cast<ElementIndex>(e));
      if (!std::isnan(u)) most += step * (linear.conductance * u + linear.injection);
    }
    for (std::size_t k = 0; k < rows_.size(); ++k) {
      const double share = rows_[k].scale_d * drive_[k * s + c] / rows_[k].scale_w;
      most += share * correction_mid_[k] + std::abs(share) * correction_[k];
    }
    for (const Column& other : columns_) {
      double share = 0.0;
      for (std::size_t i = 0; i < response.size(); ++i) share -= response[i] * other.rhs[i];
      if (!other.jump.empty()) {
        for (std::size_t e = 0; e < elements.size(); ++e) {
          const auto index = static_cast<ElementIndex>(e);
          if (system.companions()[e].form != Companion::Form::norton) continue;
          share += drop(column.jump, index) * system.companions()[e].conductance * drop(other.jump, index);
        }
      } else {
        const double unit =
            elements[at(other.element)].kind == Kind::diode ? -system.companions()[at(other.element)].conductance : 1.0;
        share += drop(column.jump, other.element) * unit;
      }
      most += std::abs(share) * other.half;
    }
    if (most * (1.0 + 1e-9) < source.limit_amps) continue;
    relaxed_[at(column.element)] = true;
    certain = false;
  }
  return certain;
}

}  // namespace zoneproof::circuit
