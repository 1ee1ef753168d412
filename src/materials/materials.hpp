#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "materials/price_list.hpp"
#include "site/cable_uses.hpp"
#include "site/costs.hpp"
#include "site/model.hpp"

/// Cable schedule, everything that a site is made of, and what it costs (docs/methods/materials.md).
namespace zoneproof::materials {

/// Where a length comes from. Estimates are for the price alone: nothing is proven on them (estimate.hpp).
enum class LengthFrom {
  site,      ///< length_m of the site file
  estimate,  ///< along the walls of the plan from mount to mount, with risers and slack
  rough,     ///< the same where an end is known by its area only: from the middle of what is mounted there
  unknown
};
const char* word(LengthFrom from);

struct CableRow {
  std::string id, name;
  std::string part, part_name;  ///< empty: unknown
  LengthFrom from = LengthFrom::unknown;
  std::optional<double> length_m, length_min_m, length_max_m;
  std::string length_lacks;  ///< pointer of what would tell the length; empty where it is known
  std::vector<site::CableUse> uses;
  std::vector<std::string> areas;
  std::optional<long long> cores_used;  ///< with cores in parallel; nothing: not known how many
  std::optional<long long> cores_there;
  bool new_here = true;  ///< not in the site as it was before
};

enum class ItemKind {
  cable,
  resistor,
  fuse,
  battery,
  label,
  supply,
  panel,  ///< and expanders
  unit,
  detector,
  camera,
  lens,
  load,
  network,  ///< switches, injectors, routers, recorders, mains backups
  other
};
const char* word(ItemKind kind);

/// How many of one thing. `places` are the ids of the things on the site that are, or hold, one of them.
struct PartCount {
  ItemKind kind = ItemKind::other;
  std::string item;  ///< id of the part, else a word of its own: "fuse_0_5A", "resistor_5600_ohm_1_pct"
  std::string name;  ///< as people read it
  bool metres = false;
  std::optional<double> count;  ///< pieces or metres to be had; nothing: some length or number is not known
  double known_count = 0.0;     ///< what is known of it
  double estimated = 0.0;       ///< how many of those metres are estimates
  double there = 0.0;           ///< pieces or metres that were on the site before and are not counted in `count`
  std::vector<std::string> places;
};

struct Work {
  std::string task;  ///< of the costs file
  std::string meaning;
  std::optional<double> count;  ///< how often; nothing: some length or number is not known
  double known_count = 0.0;     ///< what is known of it
  std::vector<Message> lacks;   ///< what is missing for the count: "length of k_z2"
  std::optional<double> minutes_each;
  bool verified = false;

  /// Of all of it; nothing where it is not known how often, or how long one takes.
  std::optional<double> minutes() const {
    return count && minutes_each ? std::optional(*count * *minutes_each) : std::nullopt;
  }
};

/// One line of the price: quantity times price, rounded once.
struct PriceLine {
  std::string item, name;
  PriceUnit unit = PriceUnit::piece;
  std::optional<Decimal> quantity;  ///< nothing: not known
  bool estimated = false;
  std::optional<Decimal> price;     ///< of one
  std::optional<std::int64_t> net;  ///< in the currency's smallest unit; nothing: unpriced
  std::optional<Decimal> tax_pct;
  std::optional<Message> unpriced;  ///< why there is no price
};

/// Net of all lines of one rate, and the tax on it, rounded once.
struct TaxSum {
  std::optional<Decimal> rate_pct;  ///< nothing: the rate is not known
  std::int64_t net = 0;
  std::optional<std::int64_t> tax;
};

struct Price {
  std::string currency;
  int places = 0;
  std::vector<PriceLine> lines;
  std::vector<TaxSum> taxes;
  std::optional<std::int64_t> net;    ///< sum of what is priced; nothing where no line is
  std::optional<std::int64_t> gross;  ///< nothing where some rate is not known, or no line is priced
  bool complete = false;              ///< every line has a price, and nothing is missing from the lines
  bool estimated = false;             ///< some quantity is an estimate
};

struct Materials {
  std::vector<CableRow> cables;
  std::vector<PartCount> parts;
  std::vector<Work> work;
  std::optional<double> minutes;  ///< of all work; nothing: some task has no minutes or no count
  std::vector<Message> notes;     ///< what has to be known of it: lengths that are missing, estimates
  std::optional<Price> price;     ///< where a price list was given
};

struct Question {
  const site::Site* before = nullptr;  ///< the site as the survey found it: what is in it already is not bought
  const site::Costs* costs = nullptr;  ///< minutes by task; null: those of the program
  const PriceList* prices = nullptr;   ///< null: no price
};

/// Pure. Cost: linear in the site, but for ends of cables without a mount, each of which looks at what stands in its
/// area.
Materials materials_of(const site::Site& site, const Question& question = {});

}  // namespace zoneproof::materials
