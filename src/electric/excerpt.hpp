#pragma once
#include <memory>
#include <string>

#include "site/model.hpp"

/// The part of a site that the electrical answers for one zone, or one supply, rest on, as a site of its own.
///
/// Theory. Draw the site as a graph: its points are the poles of supplies, of their outputs and of everything that is
/// fed, its edges the sources, conductors, loads and bonds between them; one more point, the zone, is joined to every
/// pole that its loop, its trigger wires and the loops beside them touch. What has only one point in common with the
/// rest gives that point no current and takes none, whatever is in it (circuit/reach.hpp), so only the blocks that
/// hold the zone can move a level of it. In no supply condition and no condition of a unit does the network of the
/// site have an edge that the graph lacks, and what the graph keeps apart (the two sides of an ideal source, say) can
/// only join blocks; so the blocks of the graph hold those of every such network.
///
/// What is left out: supplies, feeds, loads, units and bonds outside these blocks, with their batteries; zones,
/// triggers, detectors, outputs and cables that none of the kept names. Of what merely stands beside the zone, on the
/// same unit or the same return conductor, the inside of the loop and the setting of the input are left out: a
/// bystander may be in any state (site_circuit.hpp). Whatever hangs on a supply that is not known is kept: it may hang
/// on any. Pointers stay those of the whole site. Name, note and revision of the site are no part of it.
///
/// This makes the answers for a zone a function of its excerpt alone: two sites with the same excerpt have the same
/// answers for the zone (results/proof.hpp keeps them by it), and the cost of a zone grows with its surroundings and
/// not with the site.
namespace zoneproof::electric {

class Excerpts {
 public:
  /// `site` must outlive it. Cost: linear in the site.
  explicit Excerpts(const site::Site& site);
  ~Excerpts();
  Excerpts(Excerpts&&) noexcept;
  Excerpts& operator=(Excerpts&&) = delete;

  /// May be called from several threads. Cost: linear in the site, the first time for each set of units and panels;
  /// then in the excerpt.
  site::Site of_zone(const std::string& zone) const;
  /// The same for a supply alone: what its voltage and current rest on. No zone and no trigger is in it.
  site::Site of_supply(const std::string& supply) const;
  /// The same for the arming of a unit: with all other units on the same output.
  site::Site of_arming(const std::string& unit) const;
  /// All supplies and what hangs on them, with the panels that each unit's trigger wires come from; no zone is in it.
  site::Site of_supplies() const;

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

/// One excerpt, where no other is wanted.
site::Site excerpt_of_zone(const site::Site& site, const std::string& zone);
site::Site excerpt_of_supply(const site::Site& site, const std::string& supply);

}  // namespace zoneproof::electric
