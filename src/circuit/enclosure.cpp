#include "circuit/enclosure.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "circuit/laws.hpp"

namespace zoneproof::circuit {
namespace {

constexpr double relative_slack = 1e-9;   // "Rounding" in the header comment
constexpr double absolute_slack = 1e-12;  // of the largest value of its kind
constexpr double nearly_singular = 1e-9;
constexpr double worth_a_choice = 1.5;  // ratio of ends from which the form of a row is chosen with care

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

std::size_t at(int index) { return static_cast<std::size_t>(index); }
double middle(const Span& span) { return 0.5 * (span.low + span.high); }
double half_width(const Span& span) { return 0.5 * (span.high - span.low); }

// Range of P / w + gamma w over a box of P and w > 0: convex in w, increasing in P.
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
  constexpr int most_rebuilds = 6;
  for (int round = 0; round < most_rebuilds; ++round) {
    build(nominal_volts);
    if (!regular_) return;
    if (!enclose_loads()) continue;  // some load is relaxed now
    if (!check_limits()) {           // a source may limit: what was found on the assumption that none does is void
      box_.load_volts = known_volts;
      box_.loads_known = known;
      continue;
    }
    if (!settle_diodes()) return;  // else some diode is certain now: build with that
  }
  regular_ = false;
}

double Enclosure::drop(const std::vector<double>& nodes, ElementIndex element) const {
  const Element& e = network_.elements()[at(element)];
  return nodes[at(e.from)] - nodes[at(e.to)];
}

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
      case Kind::limited_source: companions[e] = Companion::link(middle(span)); break;
      case Kind::diode:
        if (drop(nominal_volts, static_cast<ElementIndex>(e)) > middle(span)) {
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
    const double centre = middle(ohm);
    const double g = 1.0 / centre;
    rows_.push_back({element, Form::ohm, centre, half_width(ohm), half_width(ohm), g, -g, -g, 0.0});
    return Companion::norton(g, 0.0);
  }
  const Span siemens{1.0 / ohm.high, 1.0 / ohm.low};
  rows_.push_back(
      {element, Form::siemens, middle(siemens), half_width(siemens), half_width(siemens), 1.0, 1.0, 0.0, 0.0});
  return Companion::norton(middle(siemens), 0.0);
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
  const Conduction state = box_.conducts[at(element)];
  const Span& on_ohm = box_.on_ohm[at(element)];
  const double forward = middle(box_.value[at(element)]);
  if (state == Conduction::off) return {};
  if (state == Conduction::on && !on_ohm.wide()) return Companion::norton(1.0 / on_ohm.low, -forward / on_ohm.low);
  const bool open = state == Conduction::unknown;
  if (open) linear_ = false;
  const Span siemens{open ? 0.0 : 1.0 / on_ohm.high, 1.0 / on_ohm.low};
  const double g = middle(siemens);
  row_of_[at(element)] = static_cast<int>(rows_.size());
  rows_.push_back({element, open ? Form::diode : Form::siemens, g, half_width(siemens), half_width(siemens), 1.0, 1.0,
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
      case Kind::voltage: companions[e] = Companion::link(middle(box_.value[e])); break;
      case Kind::limited_source:
        if (relaxed_[e]) linear_ = false;
        companions[e] = Companion::link(middle(relaxed_[e] ? relaxed_volts(index) : box_.value[e]));
        break;
      case Kind::current: companions[e] = Companion::norton(0.0, middle(box_.value[e])); break;
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
    const double half = half_width(box_.value[e]);
    const bool is_source = element.kind == Kind::voltage || element.kind == Kind::current ||
                           (element.kind == Kind::diode && box_.conducts[e] != Conduction::off);
    if (is_source && half > 0.0) add_column(index, half);
    if (element.kind == Kind::limited_source && relaxed_[e]) add_column(index, half_width(relaxed_volts(index)));
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
    centre[k] = -middle(law);  // from `from` (minus) to `to` (plus) the load drives -P / w
    half[k] = half_width(law);
  }
}

// Intervals of the load voltages, proved by inclusion (or sharpened, when the box knows some). False: a load had to be
// relaxed.
bool Enclosure::enclose_loads() {
  if (linear_) return true;
  std::vector<std::size_t> loads;
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    if (rows_[k].form == Form::load) loads.push_back(k);
  }
  const auto span_of = [&](std::size_t k) -> Span& { return box_.load_volts[at(rows_[k].element)]; };
  if (!box_.loads_known) {
    for (const std::size_t k : loads) {
      const double gamma = rows_[k].centre;
      const double w = gamma > 0.0 ? std::sqrt(middle(box_.value[at(rows_[k].element)]) / gamma) : volt_scale_;
      span_of(k) = {0.99 * w, 1.01 * w};
    }
  }
  const auto relax = [&] {
    for (const std::size_t k : loads) relaxed_[at(rows_[k].element)] = true;
    box_.loads_known = false;
    return false;
  };
  constexpr int most_rounds = 25;
  bool proved = box_.loads_known || loads.empty();
  int sharpened = 0;
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<double> centre(rows_.size(), 0.0);
    std::vector<double> half(rows_.size(), 0.0);
    load_remainders(centre, half);
    if (!enclose_w_once(centre, half)) {
      if (loads.empty()) return regular_ = false, true;
      return relax();
    }
    if (loads.empty()) return true;
    bool inside = true;
    for (const std::size_t k : loads) {
      const Span u = row_span(k);
      const Span w{-u.high, -u.low};
      Span& known = span_of(k);
      if (proved) {
        known = {std::max(known.low, w.low), std::min(known.high, w.high)};
        if (known.low > known.high) known = {middle(known), middle(known)};
        continue;
      }
      if (w.low > known.low && w.high < known.high) continue;
      inside = false;
      const double margin = 0.05 * (std::max(known.high, w.high) - std::min(known.low, w.low)) + 1e-9;
      known = {std::min(known.low, w.low) - margin, std::max(known.high, w.high) + margin};
      if (known.low <= lockout(network_.elements()[at(rows_[k].element)])) return relax();
    }
    if (proved && ++sharpened == 3) break;
    proved = proved || inside;
  }
  if (!proved) return relax();
  for (const std::size_t k : loads) {
    if (span_of(k).low <= lockout(network_.elements()[at(rows_[k].element)])) return relax();
  }
  for (const std::size_t k : loads) {
    const Span& w = span_of(k);
    const Span& watt = box_.value[at(rows_[k].element)];
    rows_[k].half_lambda = std::max(std::abs(watt.high / (w.low * w.low) - rows_[k].centre),
                                    std::abs(watt.low / (w.high * w.high) - rows_[k].centre));
  }
  std::vector<double> unused;
  if (!super_solution(std::vector<double>(rows_.size(), 1.0), true, unused)) return relax();
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
    const double reach = w_radius_[k] + half_width(box_.value[e]) * 1e-12;
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

Enclosure::Functional Enclosure::functional(const Quantity& quantity) const {
  Functional f;
  const NodalSystem& system = system_.front();
  std::vector<double> mu(at(system.unknowns()), 0.0);
  for (const Quantity::Term& term : quantity.terms) {
    const int index = system.unknown(term.node);
    if (index == NodalSystem::floats) {
      f.floats = true;
      return f;
    }
    if (index >= 0) mu[at(index)] += term.weight;
    f.centre += term.weight * base_volts_[at(term.node)];
  }
  system.solve(mu.data(), 1);
  double scale = 0.0;
  for (const double entry : mu) scale = std::max(scale, std::abs(entry));
  const std::size_t m = rows_.size();
  const std::size_t s = columns_.size();
  f.lambda.resize(m);
  std::vector<double> base(m);
  for (std::size_t k = 0; k < m; ++k) {
    const Element& e = network_.elements()[at(rows_[k].element)];
    const int a = system.unknown(e.from);
    const int b = system.unknown(e.to);
    f.lambda[k] = rows_[k].scale_d * ((a >= 0 ? mu[at(a)] : 0.0) - (b >= 0 ? mu[at(b)] : 0.0));
    base[k] = std::abs(f.lambda[k]);
    f.centre -= f.lambda[k] * correction_mid_[k];
    f.radius += std::abs(f.lambda[k]) * correction_[k];
  }
  if (!super_solution(base, true, f.lambda_most)) {
    f.lambda_most.assign(m, infinite);
    f.lambda_radius.assign(m, infinite);
  } else {
    std::vector<double> reach(m);
    for (std::size_t k = 0; k < m; ++k) reach[k] = rows_[k].half_lambda * f.lambda_most[k];
    f.lambda_radius = spread(reach, true);
    for (std::size_t k = 0; k < m; ++k) {
      f.lambda_radius[k] =
          f.lambda_radius[k] * (1.0 + relative_slack) + absolute_slack * scale * std::abs(rows_[k].scale_d);
    }
  }
  f.kappa.resize(s);
  f.kappa_radius.resize(s);
  for (std::size_t j = 0; j < s; ++j) {
    double centre = 0.0;
    for (std::size_t i = 0; i < mu.size(); ++i) centre += mu[i] * columns_[j].rhs[i];
    if (!columns_[j].jump.empty()) {
      for (const Quantity::Term& term : quantity.terms) centre += term.weight * columns_[j].jump[at(term.node)];
    }
    double radius = 0.0;
    for (std::size_t k = 0; k < m; ++k) {
      if (rows_[k].half_lambda > 0.0) radius += std::abs(drive_[k * s + j]) * rows_[k].half_lambda * f.lambda_most[k];
    }
    f.kappa[j] = centre;
    f.kappa_radius[j] = radius * (1.0 + relative_slack) + absolute_slack * std::max(1.0, scale);
    f.radius += std::abs(centre) * columns_[j].half;
  }
  f.radius = f.radius * (1.0 + relative_slack) + absolute_slack * volt_scale_;
  return f;
}

namespace {
int certain(double centre, double radius) { return std::abs(centre) > radius ? (centre > 0.0 ? 1 : -1) : 0; }
}  // namespace

int Enclosure::sign(const Functional& f, const Parameter& parameter) const { return sign_with(f, parameter, 1.0); }
int Enclosure::leaning(const Functional& f, const Parameter& parameter) const { return sign_with(f, parameter, 0.0); }

double Enclosure::gain(const Parameter& parameter) const {
  const int row = row_of_[at(parameter.element)];
  if (row < 0 || size_.empty()) return 0.0;
  return size_[at(row) * rows_.size() + at(row)] * rows_[at(row)].half;
}

int Enclosure::sign_with(const Functional& f, const Parameter& parameter, double share_of_radius) const {
  const std::size_t e = at(parameter.element);
  const Kind kind = network_.elements()[e].kind;
  const int row = row_of_[e];
  const int column = column_of_[e];
  if (row >= 0) {
    const int lambda = certain(f.lambda[at(row)], share_of_radius * f.lambda_radius[at(row)]);
    const Form form = rows_[at(row)].form;
    if (kind == Kind::constant_power) return lambda;  // dq/dP = lambda / w
    if (kind == Kind::diode && form == Form::diode)
      return lambda;  // more forward volts or ohms: less current, or nothing
    if (kind == Kind::resistor || parameter.on_ohm) {
      const int w = certain(w_[at(row)], share_of_radius * w_radius_[at(row)]);
      return form == Form::ohm ? -lambda * w : lambda * w;
    }
  }
  if (column < 0 || parameter.on_ohm) return 0;
  return certain(f.kappa[at(column)], share_of_radius * f.kappa_radius[at(column)]);
}

double Enclosure::effect(const Functional& f, const Parameter& parameter) const {
  const std::size_t e = at(parameter.element);
  const Kind kind = network_.elements()[e].kind;
  const int row = row_of_[e];
  const int column = column_of_[e];
  if (row >= 0) {
    const Row& r = rows_[at(row)];
    const double lambda = f.lambda_most[at(row)];
    if (kind == Kind::constant_power && r.form == Form::relaxed) return infinite;
    if (kind == Kind::constant_power) return 2.0 * half_width(box_.value[e]) * lambda / box_.load_volts[e].low;
    if (kind == Kind::diode && r.form == Form::diode && !parameter.on_ohm) {
      return 2.0 * half_width(box_.value[e]) * lambda * (r.centre + r.half);
    }
    if (kind == Kind::resistor || parameter.on_ohm) return 2.0 * r.half * w_most_[at(row)] * lambda;
  }
  if (column >= 0 && !parameter.on_ohm) {
    return 2.0 * columns_[at(column)].half * (std::abs(f.kappa[at(column)]) + f.kappa_radius[at(column)]);
  }
  return must_split_.empty() || kind != Kind::resistor ? 0.0 : infinite;
}

// q = q0 - lambda S w + sum |kappa - lambda S E| phi with S = (diag(1 / delta) + M)^-1; flipping one delta changes one
// diagonal entry of the inverse of S (Sherman & Morrison 1950). S is computed afresh every 64 steps, which holds 1e-12
// relative.
double Enclosure::walk(const Functional& f, int direction, Box& vertex) const {
  const int n = rows();
  const int s = static_cast<int>(columns_.size());
  const Eigen::Map<const RowMajor> m(coupling_.data(), n, n);
  const Eigen::Map<const RowMajor> drive(drive_.data(), n, s);
  const Eigen::Map<const Eigen::VectorXd> w(w_.data(), n);
  const Eigen::Map<const Eigen::RowVectorXd> lambda(f.lambda.data(), n);
  Eigen::VectorXd delta(n);
  for (int k = 0; k < n; ++k) delta(k) = -rows_[at(k)].half;
  Eigen::MatrixXd inverse;
  Eigen::RowVectorXd p;
  double best = -infinite;
  Eigen::VectorXd best_delta;
  std::vector<double> best_kappa(at(s));
  if (n == 0) return f.centre + direction * (f.radius);
  const unsigned long long vertices = 1ULL << n;
  for (unsigned long long i = 0; i < vertices; ++i) {
    if (i % 64 == 0) {
      Eigen::MatrixXd matrix = m;
      matrix.diagonal() += delta.cwiseInverse();
      inverse = matrix.partialPivLu().inverse();
      p = lambda * inverse;
    }
    double value = f.centre - p.dot(w);
    double reach = 0.0;
    for (int j = 0; j < s; ++j) reach += std::abs(f.kappa[at(j)] - p.dot(drive.col(j))) * columns_[at(j)].half;
    value = direction * value + reach;
    if (value > best) {
      best = value;
      best_delta = delta;
      for (int j = 0; j < s; ++j) best_kappa[at(j)] = f.kappa[at(j)] - p.dot(drive.col(j));
    }
    int flip = 0;
    while (flip < n && (((i + 1) >> flip) & 1ULL) == 0) ++flip;
    if (flip >= n) continue;
    const double change = -2.0 / delta(flip);
    delta(flip) = -delta(flip);
    const double factor = change / (1.0 + change * inverse(flip, flip));
    const Eigen::VectorXd column = inverse.col(flip);
    const Eigen::RowVectorXd row = inverse.row(flip);
    p.noalias() -= factor * p(flip) * row;
    inverse.noalias() -= factor * column * row;
  }
  for (int k = 0; k < n; ++k) {
    const Row& r = rows_[at(k)];
    Span& span = network_.elements()[at(r.element)].kind == Kind::diode ? vertex.on_ohm[at(r.element)]
                                                                        : vertex.value[at(r.element)];
    const bool high = (best_delta(k) > 0.0) == (r.form == Form::ohm);
    span = high ? Span{span.high, span.high} : Span{span.low, span.low};
  }
  for (int j = 0; j < s; ++j) {
    Span& span = vertex.value[at(columns_[at(j)].element)];
    const bool high = direction * best_kappa[at(j)] > 0.0;
    span = high ? Span{span.high, span.high} : Span{span.low, span.low};
  }
  return direction * best;
}

}  // namespace zoneproof::circuit
