// The round is held against every round there is.
#include "field/walk.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace zoneproof::field {
namespace {

using Places = std::vector<std::pair<double, double>>;

Distances between(const Places& places) {
  Distances metres(places.size(), std::vector<double>(places.size(), 0.0));
  for (std::size_t i = 0; i < places.size(); ++i) {
    for (std::size_t j = 0; j < places.size(); ++j)
      metres[i][j] = std::hypot(places[i].first - places[j].first, places[i].second - places[j].second);
  }
  return metres;
}

Places random_places(int least, int most) {
  const int count = *rc::gen::inRange(least, most + 1);
  Places places;
  for (int i = 0; i < count; ++i)
    places.emplace_back(*rc::gen::inRange(0, 1000) / 10.0, *rc::gen::inRange(0, 600) / 10.0);
  return places;
}

std::vector<std::size_t> as_given(std::size_t count) {
  std::vector<std::size_t> round(count);
  std::iota(round.begin(), round.end(), std::size_t{0});
  return round;
}

void expect_a_round(const std::vector<std::size_t>& round, std::size_t count) {
  RC_ASSERT(round.size() == count);
  if (count > 0) {
    RC_ASSERT(round.front() == 0U);
  }
  std::vector<std::size_t> sorted = round;
  std::sort(sorted.begin(), sorted.end());
  RC_ASSERT(sorted == as_given(count));
}

/// The shortest of all rounds, by trying each: (n - 1)! of them.
double shortest_by_trying(const Distances& metres) {
  std::vector<std::size_t> round = as_given(metres.size());
  double least = length_of(metres, round);
  while (std::next_permutation(round.begin() + 1, round.end())) least = std::min(least, length_of(metres, round));
  return least;
}

RC_GTEST_PROP(AShortRound, IsTheShortestOfAllWhereThereAreFewPlaces, ()) {
  const Distances metres = between(random_places(1, 8));
  const auto round = short_round(metres);
  expect_a_round(round, metres.size());
  RC_ASSERT(std::fabs(length_of(metres, round) - shortest_by_trying(metres)) <= 1e-9);
}

RC_GTEST_PROP(AShortRound, IsNeverLongerThanTheOrderOfTheSite, ()) {
  const Distances metres = between(random_places(static_cast<int>(most_exact), 40));
  const auto round = short_round(metres);
  expect_a_round(round, metres.size());
  RC_ASSERT(length_of(metres, round) <= length_of(metres, as_given(metres.size())) + 1e-9);
}

// On a circle the shortest round is the circle itself, whatever order its places are given in.
TEST(AShortRound, OfPlacesOnACircleIsTheCircle) {
  constexpr std::size_t count = 30;
  constexpr double pi = 3.14159265358979323846;
  Places places;
  for (std::size_t i = 0; i < count; ++i) {
    const double angle = 2.0 * pi * static_cast<double>(i * 7 % count) / count;
    places.emplace_back(50.0 * std::cos(angle), 50.0 * std::sin(angle));
  }
  const Distances metres = between(places);
  EXPECT_NEAR(length_of(metres, short_round(metres)), count * 100.0 * std::sin(pi / count), 1e-6);
}

TEST(AShortRound, OfNoPlacesIsEmpty) { EXPECT_TRUE(short_round({}).empty()); }

}  // namespace
}  // namespace zoneproof::field
