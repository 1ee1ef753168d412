#include "materials/materials.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "electric/naming.hpp"
#include "materials/parts_count.hpp"
#include "materials/pricing.hpp"
#include "materials/work_count.hpp"
#include "messages/materials.hpp"

namespace zoneproof::materials {

namespace {

/// What makes a piece the same one as before: the same thing in the same place.
using Mark = std::pair<std::string, std::string>;
Mark mark_of(const Piece& piece) { return {piece.item, piece.place}; }

/// What was on the site before and is not bought again.
class Before {
 public:
  explicit Before(const std::vector<Piece>& pieces) {
    for (const Piece& piece : pieces) {
      std::optional<double>& left = left_.try_emplace(mark_of(piece), 0.0).first->second;
      left = left && piece.count ? std::optional(*left + *piece.count) : std::nullopt;
    }
  }

  /// Splits a piece into what was there and what is new: a second battery block beside the first is bought. A cable
  /// that lay there lies there whatever was known of its length, and so does what nobody had counted.
  std::pair<std::optional<Piece>, std::optional<Piece>> split(const Piece& piece) {
    const auto found = left_.find(mark_of(piece));
    if (found == left_.end()) return {std::nullopt, piece};
    std::optional<double>& left = found->second;
    if (piece.metres || !left || !piece.count || *piece.count <= *left) {
      if (left && piece.count) *left -= std::min(*left, *piece.count);
      return {piece, std::nullopt};
    }
    Piece there = piece, fresh = piece;
    there.count = *left;
    fresh.count = *piece.count - *left;
    left = 0.0;
    if (*there.count <= 0.0) return {std::nullopt, fresh};
    return {there, fresh};
  }

 private:
  std::map<Mark, std::optional<double>> left_;  ///< nothing: not known how many
};

class Collecting {
 public:
  Collecting(const site::Site& site, const Question& question)
      : site_(site), question_(question), costs_(question.costs != nullptr ? *question.costs : site::common_costs()) {}

  Materials run() {
    result_.cables = cable_rows(site_);
    std::vector<Piece> then;
    if (question_.before != nullptr)
      then = pieces_of(*question_.before, cable_rows(*question_.before));
    else
      result_.notes.push_back(say::materials_all_counted());
    Before before(then);
    std::vector<Piece> fresh;
    for (const Piece& piece : pieces_of(site_, result_.cables)) {
      const auto [there, bought] = before.split(piece);
      if (there) count(*there, true);
      if (!bought) continue;
      count(*bought, false);
      fresh.push_back(*bought);
    }
    mark_new_cables(fresh);
    tell_what_is_missing(fresh);
    for (auto& [key, part] : parts_) result_.parts.push_back(std::move(part));
    count_work(work_for(site_, question_.before, fresh, result_.cables));
    result_.price = price_of(result_.parts, result_.work, question_.prices, costs_);
    if (!result_.price) result_.notes.push_back(say::materials_no_money());
    if (result_.price && missing_) result_.price->complete = false;
    return std::move(result_);
  }

 private:
  void count(const Piece& piece, bool there) {
    if (piece.item.empty()) return;
    PartCount& part = parts_[{piece.kind, piece.item}];
    if (part.item.empty()) {
      part.kind = piece.kind;
      part.item = piece.item;
      part.name = piece.name;
      part.metres = piece.metres;
      part.count = 0.0;
    }
    part.places.push_back(piece.place);
    if (there) {
      part.there += piece.count.value_or(0.0);
      return;
    }
    part.known_count += piece.count.value_or(0.0);
    part.estimated += piece.estimated;
    part.count = part.count && piece.count ? std::optional(*part.count + *piece.count) : std::nullopt;
  }

  void mark_new_cables(const std::vector<Piece>& fresh) {
    std::set<std::string> ids;
    for (const Piece& piece : fresh) {
      if (piece.kind == ItemKind::cable) ids.insert(piece.place);
    }
    for (CableRow& row : result_.cables) row.new_here = ids.count(row.id) != 0;
  }

  void tell_what_is_missing(const std::vector<Piece>& fresh) {
    for (const Piece& piece : fresh) {
      if (piece.item.empty()) {
        result_.notes.push_back(say::materials_no_part(piece.name));
      } else if (!piece.count) {
        result_.notes.push_back(piece.metres ? say::materials_no_length(cable_called(result_.cables, piece.place))
                                             : say::materials_no_count(electric::thing_words(site_, piece.place)));
      }
      missing_ = missing_ || piece.item.empty() || !piece.count;
    }
    std::vector<std::string> estimated;
    for (const CableRow& row : result_.cables) {
      if (row.from == LengthFrom::estimate || row.from == LengthFrom::rough) estimated.push_back(row.name);
    }
    for (const CableRow& row : result_.cables)
      if (row.cores_used && row.cores_there && *row.cores_used > *row.cores_there)
        result_.notes.push_back(say::materials_cores_short(row.name, *row.cores_used, *row.cores_there));
    if (!estimated.empty()) result_.notes.push_back(say::materials_estimated(estimated));
  }

  void count_work(std::map<std::string, Times> counts) {
    result_.minutes = 0.0;
    for (auto& [id, times] : counts) {
      Work work;
      work.task = id;
      work.known_count = times.known;
      if (times.lacks.empty()) work.count = times.known;
      work.lacks = std::move(times.lacks);
      if (const auto task = costs_.tasks.find(id); task != costs_.tasks.end()) {
        work.meaning = task->second.meaning;
        work.verified = task->second.verified.yes();
        if (task->second.minutes.known()) work.minutes_each = task->second.minutes.nominal;
      }
      const std::optional<double> minutes = work.minutes();
      result_.minutes = minutes && result_.minutes ? std::optional(*result_.minutes + *minutes) : std::nullopt;
      result_.work.push_back(std::move(work));
    }
  }

  const site::Site& site_;
  const Question& question_;
  const site::Costs& costs_;
  Materials result_;
  std::map<std::pair<ItemKind, std::string>, PartCount> parts_;
  bool missing_ = false;
};

}  // namespace

const char* word(LengthFrom from) {
  switch (from) {
    case LengthFrom::site: return "site";
    case LengthFrom::estimate: return "estimate";
    case LengthFrom::rough: return "rough_estimate";
    default: return "unknown";
  }
}

const char* word(ItemKind kind) {
  switch (kind) {
    case ItemKind::cable: return "cable";
    case ItemKind::resistor: return "resistor";
    case ItemKind::fuse: return "fuse";
    case ItemKind::battery: return "battery";
    case ItemKind::label: return "label";
    case ItemKind::supply: return "supply";
    case ItemKind::panel: return "panel";
    case ItemKind::unit: return "unit";
    case ItemKind::detector: return "detector";
    case ItemKind::camera: return "camera";
    case ItemKind::lens: return "lens";
    case ItemKind::load: return "load";
    case ItemKind::network: return "network";
    default: return "other";
  }
}

Materials materials_of(const site::Site& site, const Question& question) { return Collecting(site, question).run(); }

}  // namespace zoneproof::materials
