#include "circuit/batch_writer.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "circuit/star_mesh.hpp"
#include "circuit/valued_network.hpp"

namespace zoneproof::circuit {
namespace {

/// A branch of the linearised network: current from `from` to `to` = siemens (v_from - v_to) + ampere.
struct WrittenBranch {
  Word siemens;
  Word ampere;
};

class Writer {
 public:
  Writer(const Network& network, const Solution& nominal, const std::vector<Batch::Varied>& varied)
      : network_(network),
        values_(nominal_values(network)),
        valued_(network, values_),
        point_{states_at(nominal), nominal.voltage},
        system_(network, valued_.companions(point_, false)) {
    for (const Batch::Varied& one : varied) add_input(one);
  }

  /// Whether a network of this shape can be written at all.
  bool possible(const std::vector<Quantity>& quantities) const {
    if (!system_.source_loop().empty()) return false;
    for (const auto& [index, word] : value_) {
      if (network_.element(index).kind == Kind::resistor && is_link(at(index))) return false;
    }
    for (std::size_t e = 0; e < valued_.size(); ++e) {
      if (floats(e) && !harmless_afloat(e)) return false;
      if (is_watched(e) && closes_a_loop_of_links()) return false;
    }
    return std::all_of(quantities.begin(), quantities.end(), [&](const Quantity& quantity) {
      return std::all_of(quantity.terms.begin(), quantity.terms.end(),
                         [&](const Quantity::Term& term) { return system_.unknown(term.node) != NodalSystem::floats; });
    });
  }

  BatchCode write(const std::vector<Quantity>& quantities) {
    StarMesh mesh(code(), system_.unknowns());
    mesh_ = &mesh;
    branches_.resize(valued_.size());
    for (std::size_t e = 0; e < valued_.size(); ++e) {
      if (!is_link(e) && !floats(e)) stamp(e);
    }
    const std::set<int> ports = ports_of_loads();
    mesh.eliminate_all_but(ports);
    code().enter(Part::loop);
    for (const std::size_t e : running_) stamp_load(e);
    mesh.eliminate({ports.begin(), ports.end()});
    for (std::size_t i = 0; i < running_.size(); ++i) keep(batch_.loads[i].volt = drop(running_[i], true));
    code().enter(Part::after);
    judge();
    for (const Quantity& quantity : quantities) batch_.results.push_back(keep(value_of(quantity)));
    code().finish();
    return std::move(batch_);
  }

 private:
  LaneCode& code() { return batch_.code; }
  Word keep(Word word) {
    code().keep(word);
    return word;
  }

  States states_at(const Solution& nominal) const {
    States states(values_.size(), State::plain);
    for (std::size_t e = 0; e < values_.size(); ++e) {
      const Element& element = network_.elements()[e];
      if (element.kind == Kind::constant_power) states[e] = values_[e] == 0.0 ? State::unloaded : State::running;
      if (element.kind == Kind::limited_source) states[e] = State::regulated;
      if (element.kind != Kind::diode) continue;
      const double u = nominal.voltage[at(element.from)] - nominal.voltage[at(element.to)];
      states[e] = u > values_[e] ? State::on : State::off;
    }
    return states;
  }

  void add_input(const Batch::Varied& one) {
    const Word word = code().input();
    batch_.inputs.push_back(word);
    batch_.shapes.push_back(one.on_ohm || network_.element(one.element).kind == Kind::resistor);
    (one.on_ohm ? on_ohm_ : value_)[one.element] = word;
  }
  Word value(std::size_t e) {
    const auto varied = value_.find(static_cast<ElementIndex>(e));
    return varied != value_.end() ? varied->second : code().constant(values_[e]);
  }
  Word on_ohm(std::size_t e) {
    const auto varied = on_ohm_.find(static_cast<ElementIndex>(e));
    return varied != on_ohm_.end() ? varied->second : code().constant(valued_.element(e).on_ohm.nominal);
  }

  const Element& element(std::size_t e) const { return valued_.element(e); }
  bool is_link(std::size_t e) const { return system_.companions()[e].form == Companion::Form::link; }
  bool floats(std::size_t e) const {
    return system_.unknown(element(e).from) == NodalSystem::floats ||
           system_.unknown(element(e).to) == NodalSystem::floats;
  }
  /// What hangs in a part that nothing holds changes nothing elsewhere, unless it drives a current or may come to hold
  /// it.
  bool harmless_afloat(std::size_t e) const {
    return element(e).kind == Kind::voltage ||
           (element(e).kind == Kind::resistor && value_.count(static_cast<ElementIndex>(e)) == 0);
  }
  bool is_watched(std::size_t e) const {
    return element(e).kind == Kind::limited_source && std::isfinite(element(e).limit_amps);
  }
  bool closes_a_loop_of_links() const {
    for (std::size_t e = 0; e < valued_.size(); ++e) {
      if (!is_link(e)) continue;
      const std::vector<double> unit = system_.unit_offsets(static_cast<ElementIndex>(e));
      if (std::all_of(unit.begin(), unit.end(), [](double one) { return one == 0.0; })) return true;
    }
    return false;
  }

  int unknown(Node node) const {
    const int unknown = system_.unknown(node);
    return unknown == NodalSystem::grounded ? StarMesh::ground : unknown;
  }

  /// How far the links hold a node above its root, V.
  Word offset(Node node) {
    if (offsets_.empty()) write_offsets();
    return offsets_[at(node)];
  }
  void write_offsets() {
    offsets_.assign(at(network_.node_count()), code().constant(0.0));
    for (std::size_t e = 0; e < valued_.size(); ++e) {
      if (!is_link(e) || element(e).kind == Kind::resistor) continue;
      const std::vector<double> unit = system_.unit_offsets(static_cast<ElementIndex>(e));
      for (std::size_t n = 0; n < unit.size(); ++n) {
        if (unit[n] > 0.0) offsets_[n] = code().add(offsets_[n], value(e));
        if (unit[n] < 0.0) offsets_[n] = code().subtract(offsets_[n], value(e));
      }
    }
  }

  /// The branch of an element in the state of the nominal point; of a load the tangent of the round.
  WrittenBranch branch(std::size_t e) {
    const Word zero = code().constant(0.0);
    switch (element(e).kind) {
      case Kind::resistor: return {code().inverse(value(e)), zero};
      case Kind::current: return {zero, value(e)};
      case Kind::diode: {
        if (point_.states[e] == State::off) return {zero, zero};
        const Word siemens = code().inverse(on_ohm(e));
        return {siemens, code().subtract(zero, code().multiply(siemens, value(e)))};
      }
      default: return {zero, zero};
    }
  }

  void stamp(std::size_t e) {
    if (element(e).kind == Kind::constant_power) {
      const bool varied = value_.count(static_cast<ElementIndex>(e)) > 0;
      if (point_.states[e] == State::running || varied) running_.push_back(e);
      branches_[e] = {code().constant(0.0), code().constant(0.0)};
      return;
    }
    branches_[e] = branch(e);
    put(e);
  }
  /// The branch between the unknowns of its ends; what the links add to its voltage drives a current.
  void put(std::size_t e) {
    const WrittenBranch& branch = branches_[e];
    const Node from = element(e).from, to = element(e).to;
    if (unknown(from) == unknown(to)) return;
    mesh_->branch(unknown(from), unknown(to), branch.siemens);
    const Word apart = code().subtract(offset(from), offset(to));
    const Word ampere = code().multiply_add(branch.siemens, apart, branch.ampere);
    mesh_->inject(unknown(to), ampere);
    mesh_->inject(unknown(from), code().subtract(code().constant(0.0), ampere));
  }

  void stamp_load(std::size_t e) {
    BatchLoad load;
    load.watt = value(e);
    load.siemens = code().input();
    load.ampere = code().input();
    load.lockout = lockout(element(e));
    // Of the branch current flows from minus to plus; what the load draws goes the other way.
    branches_[e] = {load.siemens, code().subtract(code().constant(0.0), load.ampere)};
    batch_.loads.push_back(load);
    put(e);
  }
  std::set<int> ports_of_loads() const {
    std::set<int> ports;
    for (const std::size_t e : running_) {
      for (const Node node : {element(e).from, element(e).to}) ports.insert(unknown(node));
    }
    ports.erase(StarMesh::ground);
    return ports;
  }

  Word voltage(Node node) { return code().add(mesh_->voltage(unknown(node)), offset(node)); }
  /// v_from - v_to, or the other way.
  Word drop(std::size_t e, bool reversed = false) {
    const Word from = voltage(element(e).from), to = voltage(element(e).to);
    return reversed ? code().subtract(to, from) : code().subtract(from, to);
  }
  Word value_of(const Quantity& quantity) {
    Word sum = code().constant(0.0);
    for (const Quantity::Term& term : quantity.terms)
      sum = code().multiply_add(code().constant(term.weight), voltage(term.node), sum);
    return sum;
  }

  void require(Word not_negative) { batch_.not_negative.push_back(keep(not_negative)); }

  /// What has to hold for a set to be at an operating point of the supposed states.
  void judge() {
    for (const Word pivot : mesh_->pivots()) require(pivot);
    for (const BatchLoad& load : batch_.loads) require(code().subtract(load.volt, code().constant(load.lockout)));
    for (std::size_t e = 0; e < valued_.size(); ++e) {
      if (floats(e)) continue;
      if (valued_.is_diode(e)) {
        const Word slack = code().constant(state_slack_volts);
        const bool on = point_.states[e] == State::on;
        const Word past = on ? code().subtract(drop(e), value(e)) : code().subtract(value(e), drop(e));
        require(code().add(past, slack));
      }
      if (is_watched(e)) {
        const double most = element(e).limit_amps * (1.0 + limit_slack);
        require(code().subtract(code().constant(most), delivered(e)));
      }
    }
  }

  /// Current through a link, by Kirchhoff's current law for all that hangs on its side.
  Word delivered(std::size_t link) {
    const std::vector<double> unit = system_.unit_offsets(static_cast<ElementIndex>(link));
    Word sum = code().constant(0.0);
    for (std::size_t e = 0; e < valued_.size(); ++e) {
      if (is_link(e) || floats(e)) continue;
      const double across = unit[at(element(e).from)] - unit[at(element(e).to)];
      if (across == 0.0) continue;
      const WrittenBranch& branch = branches_[e];
      const Word ampere = code().multiply_add(branch.siemens, drop(e), branch.ampere);
      sum = across > 0.0 ? code().add(sum, ampere) : code().subtract(sum, ampere);
    }
    return sum;
  }

  const Network& network_;
  Values values_;
  ValuedNetwork valued_;
  Point point_;
  NodalSystem system_;
  BatchCode batch_;
  StarMesh* mesh_ = nullptr;
  std::map<ElementIndex, Word> value_, on_ohm_;  ///< of what varies
  std::vector<Word> offsets_;
  std::vector<WrittenBranch> branches_;
  std::vector<std::size_t> running_;  ///< loads on their law, as batch_.loads
};

}  // namespace

std::optional<BatchCode> write_batch(const Network& network, const Solution& nominal,
                                     const std::vector<Batch::Varied>& varied,
                                     const std::vector<Quantity>& quantities) {
  const bool shared = nominal.usable() && nominal.limiting.empty() && nominal.locked_out.empty();
  if (!shared) return std::nullopt;
  Writer writer(network, nominal, varied);
  if (!writer.possible(quantities)) return std::nullopt;
  return writer.write(quantities);
}

}  // namespace zoneproof::circuit
