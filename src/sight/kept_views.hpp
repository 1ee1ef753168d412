#pragma once
#include <cstddef>
#include <functional>
#include <list>
#include <map>
#include <mutex>
#include <string>

#include "sight/zone_view.hpp"

namespace zoneproof::sight {

/// Views already computed, kept by what they rest on, so that an edit costs what it touches: the zone's sources, its
/// cameras, what is asked of them, and the prisms between and around. A wall in another hall, a camera of another zone
/// change none of that. Of each zone the last few are kept: a change that is taken back, or dragged to and fro, is
/// answered from here. May be used from several threads; results do not depend on what is kept.
class KeptViews {
 public:
  /// `basis`: everything that the view is a function of, as bytes. Cost where it is kept: comparing them.
  ZoneView of(const std::string& zone, const std::string& basis, const std::function<ZoneView()>& viewing);

  std::size_t found() const;  ///< how many were taken from here
  std::size_t given() const;  ///< how many had to be computed

 private:
  struct Entry {
    std::string basis;
    ZoneView view;
  };
  mutable std::mutex mutex_;
  std::map<std::string, std::list<Entry>> kept_;  ///< by zone, the last used first
  std::size_t found_ = 0, given_ = 0;
};

/// What a view of these sources by these cameras is a function of: their own data and every prism that comes near the
/// lines between them.
std::string basis_of(const Building& building, const std::vector<AreaSource>& sources,
                     const std::vector<Watching>& cameras, const std::vector<std::vector<CameraTolerance>>& tolerances,
                     const Demand& demand, double least_patch_m2);

}  // namespace zoneproof::sight
