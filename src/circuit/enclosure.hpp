#pragma once
#include <utility>
#include <vector>

#include "circuit/network.hpp"
#include "circuit/nodal.hpp"

/// Inside of the engine: guaranteed enclosures of voltages and sensitivities over a box of element values
/// (worst_case.hpp).
namespace zoneproof::circuit {

struct Span {
  double low = 0.0;
  double high = 0.0;
  bool wide() const { return low < high; }
  double middle() const { return 0.5 * (low + high); }
  double half_width() const { return 0.5 * (high - low); }
};

enum class Conduction : unsigned char { unknown, off, on };

/// A box of element values, with what is known about the operating points in it.
struct Box {
  std::vector<Span> value;           ///< per element
  std::vector<Span> on_ohm;          ///< per element; used of diodes
  std::vector<Span> load_volts;      ///< per element: running voltage of a constant-power load, once `loads_known`
  std::vector<Conduction> conducts;  ///< per element; used of diodes
  bool loads_known = false;

  static Box of(const Network& network);
};

inline constexpr double relative_slack = 1e-9;   ///< "Rounding" below
inline constexpr double absolute_slack = 1e-12;  ///< of the largest value of its kind

/// One varying number of a network: an element's value, or a diode's on_ohm.
struct Parameter {
  ElementIndex element = 0;
  bool on_ohm = false;
};

/// Enclosures of everything in a network over a box, about a linear centre network.
///
/// Rows. Every resistor of some width, every constant-power load and every diode whose state or resistance is open is a
/// *row*: in the centre network it has a fixed conductance g0, and what it does beyond that is a correction d_k =
/// delta_k w_k, |delta_k| <= D_k. A resistor is a row in conductance (w: its voltage, d: a current beside it) or in
/// resistance (w: its current, d: a voltage in series), whichever makes D_k |M_kk| smaller: with r the resistance that
/// the rest shows to it, (g_hi - g_lo) / (g_hi + g_lo + 2 / r) against (R_hi - R_lo) / (R_hi + R_lo + 2 r); a short end
/// needs the second, an open end the first. Then, with Z = B^T A^-1 B,
///     w = w0 + E phi - M delta w          (phi: half-widths of the sources, linear)
///     q = q0 + kappa0 phi - lambda0 delta w
///     dq/d delta_k = -lambda_k w_k,   lambda = lambda0 - M^T delta lambda,   dq/d phi = kappa0 - lambda delta E.
/// This is the rank-one parametric form A^T D B of Neumaier & Pownuk (Reliable Computing 13, 2007, 149-172) with the
/// exchange of rows (principal pivot) that lets short and open ends in. As there, y with y >= K y + b > 0, K the
/// non-negative matrix of |M| D with its diagonal divided out, proves every matrix of the box regular and bounds |w| <=
/// y; lambda likewise with M^T. The sign of w_k is certain when |w0_k| exceeds what the *other* rows can do to it: its
/// own delta divides, and cannot change it.
///
/// Nonlinear rows. A load draws P / w. On an interval W of its voltage it is its tangent-like line of slope -gamma plus
/// a remainder whose range over W and P is known exactly (convex): a source of bounded width for w, a conductance in
/// -[P_lo / W_hi^2, P_hi / W_lo^2] for lambda. If the enclosure computed with W lies inside W, Brouwer's theorem puts
/// an operating point into W for every box value, and regularity of all incremental matrices makes it the only one
/// there, continuous in the values: the running one, because W holds the running one at the nominal values. A diode is
/// first assumed to keep its state of the nominal point over the whole box. Where the enclosure made so shows that it
/// does, the assumption is proved: the point enclosed obeys the diode's law, and the laws, being monotone, have one
/// point only. A diode whose state stays open is a conductance in [0, 1 / on_ohm] in series with its forward voltage:
/// the set contains both states, and every slope between.
///
/// Relaxed. A load that may fall below its lockout is any conductance in [0, P / lockout^2] (which holds both of its
/// laws); a limited source that may reach its limit holds any voltage from -(all other sources) to its own, unless
/// current sources could pull it further: then nothing is proved. Such an enclosure still bounds values (`bounded`),
/// but its sensitivities mean nothing: `certifying()` is false.
///
/// Rounding: every radius is widened by 1e-9 of itself and 1e-12 of the largest value of its kind, far above what
/// Cholesky on these matrices loses (not directed rounding; the tests hold it against enumeration).
class Enclosure {
 public:
  /// Encloses over the box; sharpens what the box knows of loads and diodes. `nominal_volts`: node voltages of the
  /// nominal network.
  Enclosure(const Network& network, Box& box, const std::vector<double>& nominal_volts);

  bool regular() const { return regular_; }
  bool certifying() const { return regular_ && certifying_; }
  bool linear() const { return linear_; }  ///< nothing nonlinear is left open in the box
  /// Row elements whose range alone makes a matrix of the box singular or nearly so: they must be split first.
  const std::vector<ElementIndex>& must_split() const { return must_split_; }

  /// A linear functional of the node voltages, with its sensitivities, over the box.
  struct Functional {
    bool floats = false;  ///< it asks for a node that nothing joins to the reference
    double centre = 0.0;
    double radius = 0.0;
    std::vector<double> lambda;         ///< per row, centre
    std::vector<double> lambda_radius;  ///< per row; of the numerator: it decides the sign
    std::vector<double> lambda_most;    ///< per row, bound on the magnitude
    std::vector<double> kappa;          ///< per source column, centre
    std::vector<double> kappa_radius;
  };
  Functional functional(const Quantity& quantity) const;

  /// Certain sign of dq / d parameter over the box: 1, -1, or 0 when it is not certain.
  int sign(const Functional& functional, const Parameter& parameter) const;
  /// Most that the parameter can change the functional over the box.
  double effect(const Functional& functional, const Parameter& parameter) const;

  /// Sign of dq / d parameter at the centre: a guess where no sign is certain.
  int leaning(const Functional& functional, const Parameter& parameter) const;
  /// What a resistor's range does to itself, 0 to 1: near 1 it is a switch, and stands in the way of an enclosure. Less
  /// for all else.
  double gain(const Parameter& parameter) const;
  /// Diodes that may conduct or not in the box, each with the most that it matters to the functional (infinite where
  /// nothing is enclosed).
  std::vector<std::pair<ElementIndex, double>> open_diodes(const Functional& functional) const;

  /// Whether some diode is nowhere in the box in the state that the box says.
  bool contradictory() const;

  /// Walks all 2^n vertices of the rows that are parameters, in Gray-code order with rank-1 updates, sources set best
  /// at each; linear boxes only. Returns the extreme (direction 1: largest) and writes the vertex into the box.
  double walk(const Functional& functional, int direction, Box& vertex) const;
  int rows() const { return static_cast<int>(rows_.size()); }

 private:
  enum class Form { siemens, ohm, load, diode, relaxed };
  struct Row {
    ElementIndex element;
    Form form;
    double centre;       // S or ohm
    double half;         // of delta in the w-system
    double half_lambda;  // of delta in the lambda-system
    double scale_w;      // w = scale_w * voltage + own * d
    double scale_d;      // current beside the branch = scale_d * d
    double own;
    double offset;  // V taken off the branch voltage (diode: forward)
  };
  struct Column {
    ElementIndex element;
    double half;
    std::vector<double> rhs;   // right hand side of one unit
    std::vector<double> jump;  // per node: offset of one unit (links), else empty
    int own_row;               // diode with a row: its forward voltage counts against itself
  };

  double drop(const std::vector<double>& nodes, ElementIndex element) const;
  std::vector<double> seen_by(const std::vector<ElementIndex>& elements,
                              const std::vector<double>& nominal_volts) const;
  Companion resistor_companion(ElementIndex element, double seen);
  Companion load_companion(ElementIndex element, double nominal_volt);
  Companion diode_companion(ElementIndex element);
  std::vector<Companion> centre_companions(const std::vector<double>& nominal_volts);
  void build(const std::vector<double>& nominal_volts);
  Span relaxed_volts(ElementIndex element) const;
  bool relaxed_without_end() const;
  void drop_floating_rows();
  void add_column(ElementIndex element, double half);
  void couple();
  bool bound_w();
  bool super_solution(const std::vector<double>& base, bool transposed, std::vector<double>& bound) const;
  std::vector<double> spread(const std::vector<double>& magnitudes, bool transposed) const;
  void load_remainders(std::vector<double>& centre, std::vector<double>& half) const;
  Span& load_span(std::size_t row) { return box_.load_volts[at(rows_[row].element)]; }
  void guess_load_volts(const std::vector<std::size_t>& loads);
  bool relax_loads(const std::vector<std::size_t>& loads);
  bool may_lock_out(std::size_t row) const;
  bool hold_load_span(std::size_t row, bool proved);
  bool enclose_loads();
  bool enclose_w_once(const std::vector<double>& shift, const std::vector<double>& half);
  bool settle_diodes();
  void assume_diodes(const std::vector<double>& nominal_volts);
  bool drop_assumptions();
  bool assumptions_hold();
  /// The state in which a diode's law puts it all over the box, by the voltage across it.
  Conduction certain_state(std::size_t element) const;
  bool check_limits();
  Span row_span(std::size_t row) const;
  void row_sensitivities(const std::vector<double>& mu, double scale, Functional& functional) const;
  void column_sensitivities(const Quantity& quantity, const std::vector<double>& mu, double scale,
                            Functional& functional) const;
  int sign_with(const Functional& functional, const Parameter& parameter, double share_of_radius) const;
  int row_of(ElementIndex element) const { return row_of_[at(element)]; }

  // Row-major matrices are kept as plain vectors: Eigen stays out of this header.
  const Network& network_;
  Box& box_;
  std::vector<Row> rows_;
  std::vector<Column> columns_;
  std::vector<int> row_of_;
  std::vector<int> column_of_;
  std::vector<bool> relaxed_;        // per element
  std::vector<Conduction> assumed_;  // per element; of diodes, until proved or given up
  std::vector<NodalSystem> system_;  // one, rebuilt
  std::vector<double> base_volts_;   // per node, centre network
  std::vector<double> coupling_;     // M, row by row
  std::vector<double> size_;         // |M|
  std::vector<double> drive_;        // E, row by row
  std::vector<double> w_;            // centre of the numerator
  std::vector<double> w_radius_;
  std::vector<double> w_most_;
  std::vector<double> correction_;      // per row: bound on |d - its centre|
  std::vector<double> correction_mid_;  // per row: centre of d (loads)
  std::vector<ElementIndex> must_split_;
  double volt_scale_ = 1.0;
  bool regular_ = false;
  bool certifying_ = true;
  bool linear_ = true;
};

}  // namespace zoneproof::circuit
