#pragma once
#include <string>
#include <vector>

#include "field/step.hpp"
#include "site/model.hpp"

/// The order of work of a site: from the first reading, before anything is touched, to the far end's acknowledgement.
///
/// The steps follow from the site alone (docs/methods/order-of-work.md). Every expected interval is that of the one
/// circuit in the state of the step. Within a phase the places stand in a short walking order (walk.hpp). Fire and
/// hold-up circuits, and those of which nobody knows what they are, are left alone: no step touches them, they are
/// named in `left_alone`.
namespace zoneproof::field {

/// Something that no step touches, and why: a zone, or of a zone of the work a detector.
struct LeftAlone {
  std::string zone;
  Message because;
};

/// One stop of the walk of a phase.
struct Stop {
  Place place;
  std::vector<std::size_t> steps;  ///< indices into OrderOfWork::steps, ascending
};

struct PhaseOfWork {
  Phase phase = Phase::as_found;
  std::vector<Stop> stops;  ///< in walking order; each place once
  /// Metres of the walk from stop to stop as the plan gives them in straight lines and over stairs, back to the first;
  /// nothing where a place has no position on the plan or two levels are joined by no stairs.
  std::optional<double> walk_m;
};

struct OrderOfWork {
  std::vector<Step> steps;  ///< in the order in which they are done
  std::vector<PhaseOfWork> phases;
  std::vector<LeftAlone> left_alone;
};

/// `known`: evidence of other engines that tells what a clock is to show ("first_picture" of the timeline, subject the
/// zone); without it such a field is left blank. Pure: the same for any number of threads. Cost: some ten worst cases
/// for each zone that is touched.
OrderOfWork order_of_work(const site::Site& site, const std::vector<chain::Evidence>& known = {});

}  // namespace zoneproof::field
