// The centre network of an enclosure: which element is a row, and how rows and sources reach each other.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "circuit/enclosure.hpp"
#include "circuit/laws.hpp"

namespace zoneproof::circuit {
namespace {

constexpr double worth_a_choice = 1.5;  // ratio of ends from which the form of a row is chosen with care

// Range of P / w + gamma w over a box of P and w > 0: convex in w, increasing in P.

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

}  // namespace

// Resistance that the rest of the network shows to each of the elements, at nominal-like values.
std::vector<double> Enclosure::seen_by(const std::vector<ElementIndex>& elements,
                                       const std::vector<double>& nominal_volts) const {
  std::vector<double> seen(elements.size(), 1e3);
  if (elements.empty()) return seen;
  std::vector<Companion> companions(network_.elements().size());
  for (std::size_t e = 0; e < companions.size(); ++e) {
    const Element& element = network_.elements()[e];
    const Span& span = box_.value[e];
    switch (element.kind) {
      case Kind::resistor: {
        double ohm = std::isinf(span.high) ? 2.0 * span.low : std::sqrt(span.low * span.high);
        if (span.low == 0.0 && span.high > 0.0) ohm = std::isinf(span.high) ? 1e3 : 0.5 * span.high;
        companions[e] = Companion::resistor(span.wide() ? ohm : span.low);
        break;
      }
      case Kind::voltage:
      case Kind::limited_source: companions[e] = Companion::link(span.middle()); break;
      case Kind::diode:
        if (drop(nominal_volts, static_cast<ElementIndex>(e)) > span.middle()) {
          companions[e] = Companion::norton(1.0 / element.on_ohm.nominal, 0.0);
        }
        break;
      default: break;
    }
  }
  NodalSystem system(network_, companions);
  if (!system.factorise()) return seen;
  std::vector<double> column(at(system.unknowns()));
  for (std::size_t i = 0; i < elements.size(); ++i) {
    const Element& element = network_.elements()[at(elements[i])];
    const int a = system.unknown(element.from);
    const int b = system.unknown(element.to);
    if (a == NodalSystem::floats || b == NodalSystem::floats || a == b) continue;
    std::fill(column.begin(), column.end(), 0.0);
    if (a >= 0) column[at(a)] += 1.0;
    if (b >= 0) column[at(b)] -= 1.0;
    system.solve(column.data(), 1);
    const double with = (a >= 0 ? column[at(a)] : 0.0) - (b >= 0 ? column[at(b)] : 0.0);
    const double rest = 1.0 / with - companions[at(elements[i])].conductance;
    seen[i] = rest > 1e-12 ? 1.0 / rest : 1e12;
  }
  return seen;
}

Companion Enclosure::resistor_companion(ElementIndex element, double seen) {
  const Span& ohm = box_.value[at(element)];
  if (!ohm.wide()) return Companion::resistor(ohm.low);
  if (ohm.low == 0.0 && std::isinf(ohm.high)) {
    must_split_.push_back(element);
    return Companion::norton(1e-3, 0.0);
  }
  const bool as_ohm = ohm.low == 0.0 || (!std::isinf(ohm.high) && std::sqrt(ohm.low * ohm.high) < seen);
  row_of_[at(element)] = static_cast<int>(rows_.size());
  if (as_ohm) {
    const double centre = ohm.middle();
    const double g = 1.0 / centre;
    rows_.push_back({element, Form::ohm, centre, ohm.half_width(), ohm.half_width(), g, -g, -g, 0.0});
    return Companion::norton(g, 0.0);
  }
  const Span siemens{1.0 / ohm.high, 1.0 / ohm.low};
  rows_.push_back(
      {element, Form::siemens, siemens.middle(), siemens.half_width(), siemens.half_width(), 1.0, 1.0, 0.0, 0.0});
  return Companion::norton(siemens.middle(), 0.0);
}

Companion Enclosure::load_companion(ElementIndex element, double nominal_volt) {
  const Element& load = network_.elements()[at(element)];
  const Span& watt = box_.value[at(element)];
  if (watt.high == 0.0) return {};
  linear_ = false;
  if (!box_.loads_known && !(nominal_volt > lockout(load))) relaxed_[at(element)] = true;
  row_of_[at(element)] = static_cast<int>(rows_.size());
  if (relaxed_[at(element)]) {
    const double half = 0.5 * watt.high / (lockout(load) * lockout(load));
    rows_.push_back({element, Form::relaxed, half, half, half, 1.0, 1.0, 0.0, 0.0});
    return Companion::norton(half, 0.0);
  }
  const Span volts = box_.loads_known ? box_.load_volts[at(element)] : Span{0.95 * nominal_volt, 1.05 * nominal_volt};
  const double gamma = 0.5 * (watt.low / (volts.high * volts.high) + watt.high / (volts.low * volts.low));
  rows_.push_back({element, Form::load, gamma, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0});
  return Companion::norton(-gamma, 0.0);
}

Companion Enclosure::diode_companion(ElementIndex element) {
  const Conduction known = box_.conducts[at(element)];
  const Conduction state = known == Conduction::unknown ? assumed_[at(element)] : known;
  const Span& on_ohm = box_.on_ohm[at(element)];
  const double forward = box_.value[at(element)].middle();
  if (state == Conduction::off) return {};
  if (state == Conduction::on && !on_ohm.wide()) return Companion::norton(1.0 / on_ohm.low, -forward / on_ohm.low);
  const bool open = state == Conduction::unknown;
  if (open) linear_ = false;
  const Span siemens{open ? 0.0 : 1.0 / on_ohm.high, 1.0 / on_ohm.low};
  const double g = siemens.middle();
  row_of_[at(element)] = static_cast<int>(rows_.size());
  rows_.push_back({element, open ? Form::diode : Form::siemens, g, siemens.half_width(), siemens.half_width(), 1.0, 1.0,
                   0.0, forward});
  return Companion::norton(g, -g * forward);
}

std::vector<Companion> Enclosure::centre_companions(const std::vector<double>& nominal_volts) {
  const auto& elements = network_.elements();
  std::vector<ElementIndex> careful;
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const Span& span = box_.value[e];
    if (elements[e].kind == Kind::resistor && span.low > 0.0 && !std::isinf(span.high) &&
        span.high > worth_a_choice * span.low) {
      careful.push_back(static_cast<ElementIndex>(e));
    }
  }
  const std::vector<double> seen = seen_by(careful, nominal_volts);
  std::vector<double> seen_of(elements.size(), 1e3);
  for (std::size_t i = 0; i < careful.size(); ++i) seen_of[at(careful[i])] = seen[i];
  std::vector<Companion> companions(elements.size());
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const auto index = static_cast<ElementIndex>(e);
    switch (elements[e].kind) {
      case Kind::resistor: companions[e] = resistor_companion(index, seen_of[e]); break;
      case Kind::voltage: companions[e] = Companion::link(box_.value[e].middle()); break;
      case Kind::limited_source:
        if (relaxed_[e]) linear_ = false;
        companions[e] = Companion::link((relaxed_[e] ? relaxed_volts(index) : box_.value[e]).middle());
        break;
      case Kind::current: companions[e] = Companion::norton(0.0, box_.value[e].middle()); break;
      case Kind::constant_power: companions[e] = load_companion(index, -drop(nominal_volts, index)); break;
      case Kind::diode: companions[e] = diode_companion(index); break;
    }
  }
  return companions;
}

// Voltages that a source at its limit can have: passive elements pull it no further down than all other sources
// together (maximum principle).
Span Enclosure::relaxed_volts(ElementIndex element) const {
  double others = 0.0;
  for (std::size_t e = 0; e < network_.elements().size(); ++e) {
    const Kind kind = network_.elements()[e].kind;
    if (e == at(element) || (kind != Kind::voltage && kind != Kind::limited_source)) continue;
    others += std::max(std::abs(box_.value[e].low), std::abs(box_.value[e].high));
  }
  return {-others, box_.value[at(element)].high};
}

// A current source can pull a source that limits to any voltage: then nothing is proved.
bool Enclosure::relaxed_without_end() const {
  bool current = false;
  bool limits = false;
  for (std::size_t e = 0; e < network_.elements().size(); ++e) {
    const Element& element = network_.elements()[e];
    current = current || (element.kind == Kind::current && (box_.value[e].low != 0.0 || box_.value[e].high != 0.0));
    limits = limits || (element.kind == Kind::limited_source && relaxed_[e]);
  }
  return current && limits;
}

// Rows on parts that float in the centre network answer to nothing that can be asked.
void Enclosure::drop_floating_rows() {
  const NodalSystem& system = system_.front();
  std::vector<Row> kept;
  std::fill(row_of_.begin(), row_of_.end(), -1);
  for (const Row& row : rows_) {
    const Element& e = network_.elements()[at(row.element)];
    if (system.unknown(e.from) == NodalSystem::floats || system.unknown(e.to) == NodalSystem::floats) continue;
    row_of_[at(row.element)] = static_cast<int>(kept.size());
    kept.push_back(row);
  }
  rows_ = std::move(kept);
}

void Enclosure::add_column(ElementIndex element, double half) {
  const NodalSystem& system = system_.front();
  const auto& elements = network_.elements();
  const Element& source = elements[at(element)];
  if (system.unknown(source.from) == NodalSystem::floats || system.unknown(source.to) == NodalSystem::floats) return;
  Column column{element, half, std::vector<double>(at(system.unknowns()), 0.0), {}, -1};
  const auto inject = [&](const Element& e, double ampere) {  // ampere from `from` to `to` through the element
    const int a = system.unknown(e.from);
    const int b = system.unknown(e.to);
    if (a >= 0) column.rhs[at(a)] -= ampere;
    if (b >= 0) column.rhs[at(b)] += ampere;
  };
  if (source.kind == Kind::voltage || source.kind == Kind::limited_source) {
    column.jump = system.unit_offsets(element);
    for (std::size_t e = 0; e < elements.size(); ++e) {
      const double step = column.jump[at(elements[e].from)] - column.jump[at(elements[e].to)];
      if (step != 0.0 && system.companions()[e].form == Companion::Form::norton) {
        inject(elements[e], system.companions()[e].conductance * step);
      }
    }
  } else if (source.kind == Kind::diode) {
    inject(source, -system.companions()[at(element)].conductance);
    column.own_row = row_of(element);
  } else {
    inject(source, 1.0);
  }
  column_of_[at(element)] = static_cast<int>(columns_.size());
  columns_.push_back(std::move(column));
}

void Enclosure::build(const std::vector<double>& nominal_volts) {
  const auto& elements = network_.elements();
  rows_.clear();
  columns_.clear();
  must_split_.clear();
  linear_ = true;
  row_of_.assign(elements.size(), -1);
  column_of_.assign(elements.size(), -1);
  system_.clear();
  system_.emplace_back(network_, centre_companions(nominal_volts));
  certifying_ = std::find(relaxed_.begin(), relaxed_.end(), true) == relaxed_.end();
  NodalSystem& system = system_.front();
  regular_ = !relaxed_without_end() && system.source_loop().empty() && system.factorise();
  if (!regular_) return;
  drop_floating_rows();
  std::vector<double> x = system.right_hand_side();
  system.solve(x.data(), 1);
  base_volts_ = system.node_voltages(x);
  volt_scale_ = 1e-3;
  for (const double volt : base_volts_) {
    if (!std::isnan(volt)) volt_scale_ = std::max(volt_scale_, std::abs(volt));
  }
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const Element& element = elements[e];
    const auto index = static_cast<ElementIndex>(e);
    const double half = box_.value[e].half_width();
    const bool is_source =
        element.kind == Kind::voltage || element.kind == Kind::current ||
        (element.kind == Kind::diode && box_.conducts[e] != Conduction::off && assumed_[e] != Conduction::off);
    if (is_source && half > 0.0) add_column(index, half);
    if (element.kind == Kind::limited_source && relaxed_[e]) add_column(index, relaxed_volts(index).half_width());
    if (element.kind == Kind::limited_source && !relaxed_[e] && (half > 0.0 || !std::isinf(element.limit_amps))) {
      add_column(index, half);
    }
  }
  couple();
  regular_ = must_split_.empty() && bound_w();
}

// M and E of the header comment.
void Enclosure::couple() {
  const NodalSystem& system = system_.front();
  const int n = system.unknowns();
  const int m = rows();
  const int s = static_cast<int>(columns_.size());
  Eigen::MatrixXd reach = Eigen::MatrixXd::Zero(n, m);
  std::vector<std::pair<int, int>> ends(at(m));
  for (int k = 0; k < m; ++k) {
    const Element& e = network_.elements()[at(rows_[at(k)].element)];
    ends[at(k)] = {system.unknown(e.from), system.unknown(e.to)};
    if (ends[at(k)].first >= 0) reach(ends[at(k)].first, k) += 1.0;
    if (ends[at(k)].second >= 0) reach(ends[at(k)].second, k) -= 1.0;
  }
  system.solve(reach.data(), m);
  coupling_.assign(at(m) * at(m), 0.0);
  drive_.assign(at(m) * at(s), 0.0);
  Eigen::Map<RowMajor> coupling(coupling_.data(), m, m);
  for (int k = 0; k < m; ++k) {
    const Row& row = rows_[at(k)];
    const auto [a, b] = ends[at(k)];
    if (a >= 0) coupling.row(k) += reach.row(a);
    if (b >= 0) coupling.row(k) -= reach.row(b);
    coupling.row(k) *= row.scale_w;
  }
  for (int k = 0; k < m; ++k) {
    coupling.col(k) *= rows_[at(k)].scale_d;
    coupling(k, k) -= rows_[at(k)].own;
  }
  for (int j = 0; j < s; ++j) {
    const Column& column = columns_[at(j)];
    const Eigen::Map<const Eigen::VectorXd> rhs(column.rhs.data(), n);
    const Eigen::VectorXd response = reach.transpose() * rhs;
    for (int k = 0; k < m; ++k) {
      double volt = response(k);
      if (!column.jump.empty()) volt += drop(column.jump, rows_[at(k)].element);
      if (column.own_row == k) volt -= 1.0;
      drive_[at(k) * at(s) + at(j)] = rows_[at(k)].scale_w * volt;
    }
  }
  size_.resize(coupling_.size());
  for (std::size_t i = 0; i < size_.size(); ++i) size_[i] = std::abs(coupling_[i]);
}

}  // namespace zoneproof::circuit
