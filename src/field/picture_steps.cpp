#include "field/picture_steps.hpp"

#include <algorithm>

#include "chain/channels.hpp"
#include "electric/naming.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"
#include "timeline/arming_edge.hpp"

namespace zoneproof::field {

using chain::Verdict;
using timeline::ArmingPhase;
using timeline::Does;

namespace {

/// Whether in every trigger of the zone the panel alarms, or the unit records, while disarmed.
bool disarmed_all(const site::Site& site, const std::string& zone, Does timeline::EdgeRow::*what) {
  bool any = false;
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id != zone) continue;
    any = true;
    const std::vector<timeline::EdgeRow> rows = timeline::arming_edge(site, id);
    const bool comes = std::any_of(rows.begin(), rows.end(), [&](const timeline::EdgeRow& row) {
      return row.phase == ArmingPhase::disarmed && row.*what == Does::yes;
    });
    if (!comes) return false;
  }
  return any;
}

}  // namespace

const chain::Evidence* find_told(const std::vector<chain::Evidence>& told, const std::string& check) {
  const auto found = std::find_if(told.begin(), told.end(), [&](const auto& one) { return one.id == check; });
  return found == told.end() ? nullptr : &*found;
}

std::string why_of(const chain::Evidence& evidence) {
  return evidence.says ? text(*evidence.says) : text(say::name_see_summary());
}

PictureSteps::PictureSteps(Plan& plan, const std::string& zone)
    : plan_(plan), id_(zone), words_(plan.zone(zone)), told_(plan.told_of(zone)) {
  alarms_disarmed_ = disarmed_all(plan.site_, zone, &timeline::EdgeRow::alarm);
  armed_ = !alarms_disarmed_ || !disarmed_all(plan.site_, zone, &timeline::EdgeRow::clip);
}

bool PictureSteps::wanted() const { return site::has_chain(plan_.site_, id_) && plan_.may_trip(id_); }

void PictureSteps::add(const std::vector<std::string>& after) {
  time(after);
  clip();
}

Step& PictureSteps::step(const std::string& id, Message what, Message proves) {
  const std::string partition = plan_.partition_words(plan_.site_.zones.at(id_).partition);
  Step& step = plan_.add(armed_ ? Phase::arming : Phase::zones, id, plan_.at(plan_.detector_of(id_)), std::move(what),
                         armed_ ? say::state_alarm_armed(partition) : say::state_alarm_plain(), std::move(proves));
  step.zone = step.subject = id_;
  return step;
}

/// A trigger link that is broken calls no picture; that of a cover is another matter.
std::optional<std::string> PictureSteps::no_picture() const {
  for (const chain::Evidence& one : told_) {
    const bool calls = one.id.rfind("unit_reads_tamper", 0) != 0;
    if (one.link == chain::Link::trigger && one.verdict == Verdict::broken && calls) return why_of(one);
  }
  return std::nullopt;
}

/// What else comes of tripping it: time to disarm, an alarm without a picture while disarmed.
void PictureSteps::foresee(Step& step) const {
  const site::Zone& zone = plan_.site_.zones.at(id_);
  plan_.agree(step, id_);
  plan_.tell_where_tripped(step, id_);
  if (armed_) step.notes.push_back(say::note_told_by_telephone());
  if (zone.type.is(site::ZoneType::entry_exit)) step.notes.push_back(say::note_entry_time());
  if (zone.type.is(site::ZoneType::follower)) step.notes.push_back(say::note_follower());
  if (armed_ && alarms_disarmed_) step.notes.push_back(say::note_alarm_alone());
  plan_.warn_of_height(step);
}

void PictureSteps::time(const std::vector<std::string>& after) {
  Step& one = step("time." + id_, say::do_time(words_), say::proves_time());
  one.after = after;
  foresee(one);
  one.blanks.push_back({BlankKind::reading, "s", say::blank_seconds()});
  one.blanks.push_back({BlankKind::time, "", say::blank_time()});
  if (const auto why = no_picture()) {
    one.expected_words = say::expect_no_picture(*why);
    one.proves = say::proves_no_picture();
    return;
  }
  const chain::Evidence* picture = find_told(told_, "first_picture");
  Expected expected;
  expected.unit = "s";
  expected.gaps.push_back({"/zones/" + id_, "undecided"});
  if (picture != nullptr) expected.gaps = picture->gaps;
  if (picture != nullptr && picture->bound && picture->gaps.empty()) {
    expected.low = 0.0;
    expected.high = picture->bound;
    expected.nominal = picture->nominal;
  }
  if (expected.blank()) one.proves = say::proves_time_open();
  if (picture != nullptr && picture->verdict == Verdict::broken) one.proves = say::proves_time_late(why_of(*picture));
  one.expected = std::move(expected);
}

Message PictureSteps::expected_clip() const {
  if (const auto why = no_picture()) return say::expect_no_picture(*why);
  std::vector<chain::Gap> gaps;
  std::vector<std::string> names;
  for (const std::string& camera : chain::cameras_of_zone(plan_.site_, id_, gaps)) names.push_back(plan_.thing(camera));
  if (names.empty()) return say::expect_clip_unknown();
  return gaps.empty() ? say::expect_clip(names) : say::expect_clip_and_more(names);
}

void PictureSteps::clip() {
  Step& one = step("clip." + id_, armed_ ? say::do_clip_told(words_) : say::do_clip(words_), say::proves_clip());
  Plan::looked_at(one, expected_clip());
  const chain::Evidence* view = find_told(told_, "witnessed");
  if (no_picture())
    one.proves = say::proves_no_picture();
  else if (view != nullptr && view->verdict != Verdict::proven)
    one.proves = say::proves_clip_partly(why_of(*view));
  one.after = {std::string(word(one.phase)) + ".time." + id_};
}

void PictureSteps::add_on_battery(const std::string& unit, const std::vector<std::string>& after) {
  const std::string partition = plan_.partition_words(plan_.site_.zones.at(id_).partition);
  Step& one = plan_.add(Phase::battery, "clip." + unit, plan_.at(plan_.detector_of(id_)),
                        armed_ ? say::do_clip_battery(partition, words_) : say::do_clip_battery_disarmed(words_),
                        say::state_battery_clip(), say::proves_clip_battery());
  Plan::looked_at(one, expected_clip());
  one.zone = id_;
  one.subject = unit;
  one.blanks.push_back({BlankKind::time, "", say::blank_time()});
  foresee(one);
  one.after = after;
}

/// The zones of each partition, with that one set and no other: so its own alarm has to do, as on the night.
void Plan::armed_pictures() {
  std::map<std::string, std::vector<PictureSteps>> of_partition;  // by id; empty: not known
  std::vector<std::string> order;                                 // by number of their first zone
  for (const ZoneFigures& figures : figures_) {
    PictureSteps picture(*this, figures.zone);
    if (!picture.wanted() || !picture.when_armed()) continue;
    const std::string& partition = site_.zones.at(figures.zone).partition.id;
    if (of_partition.count(partition) == 0) order.push_back(partition);
    of_partition[partition].push_back(std::move(picture));
  }
  for (const std::string& partition : order) armed_partition(partition, of_partition.at(partition));
}

void Plan::armed_partition(const std::string& partition, std::vector<PictureSteps>& zones) {
  const std::string words = partition_words({partition, ""}), id = partition.empty() ? "all" : partition;
  const std::vector<std::string> before = ids_of(Phase::arming);  // one set at a time
  Step& set = add(Phase::arming, "set." + id, {}, say::do_set(words), say::state_running(), say::proves_set(words));
  looked_at(set, say::expect_set(words));
  set.subject = partition;
  set.notes = {say::note_on_the_way()};
  set.dangers = {say::danger_siren()};
  set.blanks.push_back({BlankKind::words, "", say::blank_tripper()});
  set.blanks.push_back({BlankKind::words, "", say::blank_teller()});
  set.blanks.push_back({BlankKind::time, "", say::blank_time()});
  set.after = before;
  std::vector<std::string> tried = {set.id};
  for (PictureSteps& one : zones) one.add({"arming.set." + id});
  for (const std::string& step : ids_of(Phase::arming))
    if (std::find(before.begin(), before.end(), step) == before.end()) tried.push_back(step);
  Step& unset = add(Phase::arming, "unset." + id, {}, say::do_unset(words), say::state_disarmed(), say::proves_unset());
  looked_at(unset, say::expect_unset());
  unset.subject = partition;
  unset.blanks.push_back({BlankKind::time, "", say::blank_time()});
  unset.after = std::move(tried);
}

}  // namespace zoneproof::field
