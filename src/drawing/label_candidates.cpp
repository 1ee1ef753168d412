#include "drawing/label_candidates.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace zoneproof::drawing {

namespace {

/// A direction from the symbol: -1, 0 or 1 on each axis.
struct Side {
  double x, y;
};
constexpr Side kSides[] = {{1, -1}, {1, 1}, {-1, -1}, {-1, 1}, {1, 0}, {-1, 0}, {0, -1}, {0, 1}};

constexpr int kDirections = 16;
constexpr double kSteep = 0.35;  ///< the cosine below which a leader goes up or down rather than sideways
constexpr double kShortestLeader_mm = 3.0;
constexpr double kLeaderGrowth = 1.4;
/// A line that is covered weighs more than any order of places or length of a leader on a sheet.
constexpr double kDislikeOfLine = 1e4;

Box box_about(Point centre, double width, double height) {
  return {centre.x - width / 2, centre.y - height / 2, centre.x + width / 2, centre.y + height / 2};
}

/// Says how much a candidate is liked; `within` is what tells it from others that cover as many lines.
LabelCandidate judged(LabelCandidate candidate, const LabelField& field, double within) {
  double covered = 0;
  for (const Line& line : field.lines) covered += cross(line, candidate.box) ? 1.0 : 0.0;
  candidate.dislike = covered * kDislikeOfLine + within;
  if (covered > 0) {
    candidate.stage = candidate.has_leader ? LabelStage::by_leader_over_lines : LabelStage::beside_over_lines;
  } else {
    candidate.stage = candidate.has_leader ? LabelStage::by_leader : LabelStage::beside;
  }
  return candidate;
}

/// Whether the leader stays out of a circle.
bool passes(const Line& leader, Point centre, double radius) {
  const Point along = leader.to - leader.from, to_centre = centre - leader.from;
  const double square = along.x * along.x + along.y * along.y;
  const double share = square > 0 ? std::clamp((along.x * to_centre.x + along.y * to_centre.y) / square, 0.0, 1.0) : 0;
  return length(leader.from + along * share - centre) >= radius;
}

}  // namespace

std::vector<LabelCandidate> candidates_beside(const LabelWish& wish, std::size_t index, const LabelField& field) {
  std::vector<LabelCandidate> candidates;
  for (const Side& side : kSides) {
    // A corner place touches the circle about the symbol on its diagonal, a side place on the axis.
    const double away = (wish.radius_mm + field.gap_mm) * (side.x != 0 && side.y != 0 ? std::sqrt(0.5) : 1.0);
    const Point centre{wish.anchor.x + side.x * (away + wish.width_mm / 2),
                       wish.anchor.y + side.y * (away + wish.height_mm / 2)};
    const auto order = static_cast<double>(&side - std::begin(kSides));
    const Box box = box_about(centre, wish.width_mm, wish.height_mm);
    candidates.push_back(judged({index, box, false, {}, LabelStage::beside, 0.0}, field, order));
  }
  return candidates;
}

std::vector<LabelCandidate> candidates_by_leader(const LabelWish& wish, std::size_t index, const LabelField& field) {
  std::vector<LabelCandidate> candidates;
  double away = kShortestLeader_mm;
  while (away <= field.reach_mm) {
    for (int direction = 0; direction < kDirections; ++direction) {
      const Point toward = at_angle({}, 1.0, 360.0 * direction / kDirections);
      const Point end = wish.anchor + toward * (wish.radius_mm + away);
      // It ends at the middle of the side that faces the symbol: at the beginning or end of the text where it can.
      const bool sideways = std::abs(toward.x) > kSteep;
      const Point middle = sideways ? Point{end.x + std::copysign(wish.width_mm / 2, toward.x), end.y}
                                    : Point{end.x, end.y + std::copysign(wish.height_mm / 2, toward.y)};
      const Box box = box_about(middle, wish.width_mm, wish.height_mm);
      if (length(nearest(box, wish.anchor) - wish.anchor) <= wish.radius_mm + field.gap_mm) continue;
      const Line leader{wish.anchor + toward * wish.radius_mm, end};
      candidates.push_back(judged({index, box, true, leader, LabelStage::by_leader, 0.0}, field, away));
    }
    away *= kLeaderGrowth;
  }
  return candidates;
}

Occupied::Occupied(const std::vector<LabelWish>& wishes, const LabelField& field) : wishes_(wishes), field_(field) {}

bool Occupied::allows(const LabelCandidate& candidate) const {
  if (!inside(candidate.box, field_.area)) return false;
  const Box wide = grown(candidate.box, field_.gap_mm);
  for (const Box& taken : field_.taken) {
    if (overlap(wide, taken) || (candidate.has_leader && cross(candidate.leader, taken))) return false;
  }
  for (std::size_t i = 0; i < wishes_.size(); ++i) {
    if (i == candidate.wish) continue;
    const LabelWish& other = wishes_[i];
    // Without a leader a label must stand clearly nearer to its own symbol than to any other.
    const double clear = candidate.has_leader ? field_.gap_mm : 2 * field_.gap_mm;
    if (length(nearest(candidate.box, other.anchor) - other.anchor) < other.radius_mm + clear) return false;
    if (candidate.has_leader && !passes(candidate.leader, other.anchor, other.radius_mm)) return false;
  }
  return std::none_of(placed_.begin(), placed_.end(), [&](const LabelCandidate& placed) {
    return placed.wish != candidate.wish && exclude(placed, candidate, field_.gap_mm);
  });
}

void Occupied::add(const LabelCandidate& candidate) { placed_.push_back(candidate); }

void Occupied::remove(const LabelCandidate& candidate) {
  placed_.erase(std::remove_if(placed_.begin(), placed_.end(),
                               [&](const LabelCandidate& placed) { return placed.wish == candidate.wish; }),
                placed_.end());
}

bool exclude(const LabelCandidate& a, const LabelCandidate& b, double gap_mm) {
  if (overlap(grown(a.box, gap_mm), b.box)) return true;
  if (a.has_leader && cross(a.leader, b.box)) return true;
  if (b.has_leader && cross(b.leader, a.box)) return true;
  return a.has_leader && b.has_leader && cross(a.leader, b.leader);
}

}  // namespace zoneproof::drawing
