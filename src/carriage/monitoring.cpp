#include "carriage/monitoring.hpp"

#include <set>

#include "base/outward.hpp"
#include "carriage/declared.hpp"
#include "carriage/naming.hpp"
#include "messages/carriage.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"

namespace zoneproof::carriage {

using chain::Evidence;
using chain::Verdict;
using std::string;

namespace {

Asked reporting_of(const string& subject) { return {"path_reporting", subject, "reporting_time", "s", ""}; }
Asked permission_of(const string& subject) { return {"path_permitted", subject, "way", "", ""}; }

/// Dual path systems of EN 50136-1 have a second way for when the first is gone; the file tells of one alone.
bool is_dual(site::PathCategory category) { return category >= site::PathCategory::dp1; }

Evidence check_reporting(const site::Site& site, const string& id, const site::MonitoringPath& path) {
  const string name = site::called(site.monitoring_paths, id);
  if (!path.category.known())
    return undeclared(reporting_of(id), {{path.category.pointer, "unknown"}}, say::path_not_known(name));
  const string category(site::word_of(*path.category.value));
  const Threshold most = limit_from(chain::limit_of(site, "reporting_" + category + "_s"));
  Evidence evidence =
      held(reporting_of(id), number_of(electric::tracked(path.reporting_s, 0.0), true, "s"), Side::at_most, most);
  const Measure limit = lowest(lasting(most.value.value_or(0.0)));
  evidence.says = evidence.value ? say::path_reports(name, highest(lasting(*evidence.value)), limit, category)
                                 : say::path_not_known(name);
  if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::report_sooner(name, limit));
  if (is_dual(*path.category.value) && evidence.verdict != Verdict::broken) {
    evidence.verdict = Verdict::unanswered;
    chain::add_gap(evidence.gaps, {path.category.pointer, "undecided"});
    evidence.says = say::path_needs_another(name, category);
  }
  return evidence;
}

Evidence check_permission(const site::Site& site, const string& id, const site::MonitoringPath& path) {
  const string name = site::called(site.monitoring_paths, id);
  std::vector<chain::Gap> gaps;
  if (!path.outbound_permitted.known()) gaps.push_back({path.outbound_permitted.pointer, "unknown"});
  if (path.outbound_permitted.yes() && !path.port.known()) gaps.push_back({path.port.pointer, "unknown"});
  return declared_unless(std::move(gaps), permission_of(id), say::path_not_known(name),
                         path.outbound_permitted.yes()
                             ? Said{Verdict::proven, say::path_let_out(name), {}}
                             : Said{Verdict::broken, say::path_kept_in(name), {say::let_path_out(name)}});
}

}  // namespace

std::vector<Evidence> check_monitoring(const site::Site& site) {
  std::vector<Evidence> all;
  std::set<string> used;
  for (const auto& [id, unit] : site.units) {
    if (site.monitoring_paths.count(unit.monitoring.id) != 0) {
      used.insert(unit.monitoring.id);
      continue;
    }
    for (const Asked& asked : {reporting_of(id), permission_of(id)})
      all.push_back(
          undeclared(asked, {{unit.monitoring.pointer, "unknown"}}, say::unit_without_path(device_words(site, id))));
  }
  for (const string& id : used) {
    const site::MonitoringPath& path = site.monitoring_paths.at(id);
    all.push_back(check_reporting(site, id, path));
    all.push_back(check_permission(site, id, path));
  }
  return all;
}

}  // namespace zoneproof::carriage
