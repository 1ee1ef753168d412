// The best ranges of an input, held against trying every range there is.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "electric/threshold.hpp"

namespace zoneproof::electric {
namespace {

using site::Judging;
using site::Origin;
using site::Value;

constexpr double volts_end = 12.0;
constexpr double fine_V = 0.02;
constexpr double rounding_V = 1e-9;
constexpr double nowhere = 1e3;

/// What the words say: a span that must not trigger keeps error and hysteresis away from both limits on the inside, a
/// span that must trigger keeps the error away from one of them on the outside. Limits at +-`nowhere` are not set.
double margin_by_definition(double low, double high, const InputSpans& spans, double error, double hysteresis) {
  double margin = nowhere;
  for (const Span& rest : spans.must_not) {
    margin = std::min({margin, rest.low - error - hysteresis - low, high - error - hysteresis - rest.high});
  }
  for (const Span& alarm : spans.must_trigger) {
    const double over = high >= nowhere ? -nowhere : alarm.low - error - high;
    const double under = low <= -nowhere ? -nowhere : low - error - alarm.high;
    margin = std::min(margin, std::max(over, under));
  }
  return margin;
}

struct Trial {
  InputSpans spans;
  site::UnitInputSpec spec;
  double error = 0.0, hysteresis = 0.0, step = 0.0;
};

/// Up to three spans of each class, anywhere; about half of the trials can be told apart.
Trial random_trial(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> anywhere(0.5, 9.0), width(0.0, 1.2), small(0.0, 0.2), share(0.0, 1.0);
  Trial trial;
  const auto add = [&](std::vector<Span>& spans, double at) { spans.push_back({at, at + width(random), "state"}); };
  const double rest = anywhere(random);
  add(trial.spans.must_not, rest);
  if (share(random) < 0.5) add(trial.spans.must_not, rest + small(random) * 5.0);
  const int alarms = 1 + static_cast<int>(seed % 3);
  for (int i = 0; i < alarms; ++i) add(trial.spans.must_trigger, anywhere(random));
  trial.error = small(random);
  trial.hysteresis = small(random);
  trial.step = seed % 2 == 0 ? 0.1 : 0.0;
  trial.spec.error_V = Value::exactly(trial.error, Origin::data_sheet);
  trial.spec.hysteresis_V = Value::exactly(trial.hysteresis, Origin::data_sheet);
  trial.spec.measuring_max_V = Value::exactly(volts_end, Origin::data_sheet);
  if (trial.step > 0.0) trial.spec.step_V = Value::exactly(trial.step, Origin::data_sheet);
  trial.spec.judging.value = seed % 5 == 0 ? Judging::threshold : Judging::ranges;
  return trial;
}

/// The best margin of all ranges with limits on a grid; a threshold input has one limit only.
double best_by_trying(const Trial& trial) {
  const double step = trial.step > 0.0 ? trial.step : fine_V;
  std::vector<double> lows = {-nowhere}, highs = {nowhere};
  for (int i = 0; i * step <= volts_end; ++i) {
    lows.push_back(i * step);
    highs.push_back(i * step);
  }
  const bool one_limit = trial.spec.judging.is(Judging::threshold);
  double best = -nowhere;
  for (double low : lows) {
    // Limits on the two sides do not disturb each other, so the inner loop may stop where nothing better can come.
    for (double high : highs) {
      if (high <= low || (one_limit && low > -nowhere && high < nowhere)) continue;
      best = std::max(best, margin_by_definition(low, high, trial.spans, trial.error, trial.hysteresis));
    }
  }
  return best;
}

TEST(BestRange, IsNeverBeatenByTryingEveryRange) {
  int told_apart = 0, not_told_apart = 0;
  for (unsigned seed = 1; seed <= 200; ++seed) {
    const Trial trial = random_trial(seed);
    const std::optional<BestRange> found = best_range(trial.spans, trial.spec);
    ASSERT_TRUE(found.has_value());
    const double tried = best_by_trying(trial);
    SCOPED_TRACE("seed " + std::to_string(seed) + " tried " + std::to_string(tried) + " found " +
                 std::to_string(found->margin));
    if (tried < 0.0) {
      // Nothing on a fine grid tells them apart: at most a range between two grid points could, by less than a step.
      EXPECT_LT(found->margin, trial.step > 0.0 ? rounding_V : fine_V);
      ++not_told_apart;
      continue;
    }
    ++told_apart;
    EXPECT_GE(found->margin, tried - rounding_V);
    EXPECT_LE(found->margin, tried + (trial.step > 0.0 ? rounding_V : fine_V));
    const double low = found->range.min_V.value_or(-nowhere), high = found->range.max_V.value_or(nowhere);
    EXPECT_NEAR(margin_by_definition(low, high, trial.spans, trial.error, trial.hysteresis), found->margin, rounding_V);
    if (trial.step > 0.0) {
      for (const auto& limit : {found->range.min_V, found->range.max_V}) {
        EXPECT_NEAR(std::remainder(limit.value_or(0.0), trial.step), 0.0, rounding_V);
      }
    }
  }
  EXPECT_GT(told_apart, 40);
  EXPECT_GT(not_told_apart, 40);
}

TEST(BestRange, PicksTheBestPreset) {
  Trial trial;
  trial.spans = {{{2.2, 2.6, "rest"}}, {{3.2, 3.6, "alarm"}, {0.0, 0.3, "shorted"}}};
  trial.spec.judging.value = Judging::presets;
  trial.spec.error_V = Value::exactly(0.1, Origin::data_sheet);
  const auto preset = [](double low, double high) {
    site::PresetSpec made;
    made.normal_min_V = Value::exactly(low, Origin::data_sheet);
    made.normal_max_V = Value::exactly(high, Origin::data_sheet);
    return made;
  };
  trial.spec.presets = {{"low", preset(0.2, 2.9)}, {"middle", preset(1.5, 2.9)}, {"wide", preset(1.0, 3.1)}};
  const std::optional<BestRange> found = best_range(trial.spans, trial.spec);
  ASSERT_TRUE(found.has_value());
  EXPECT_EQ(found->preset, "middle");
  EXPECT_NEAR(found->margin, 0.2, rounding_V);  // 2.9 - 0.1 - 2.6 and 3.2 - 0.1 - 2.9
}

TEST(BestRange, ProposesNoLimitThatTheInputCannotMeasure) {
  Trial trial;
  trial.spans = {{{9.0, 9.2, "rest"}}, {{13.0, 13.4, "alarm"}}};
  trial.spec.judging.value = Judging::ranges;
  trial.spec.error_V = Value::exactly(0.1, Origin::data_sheet);
  trial.spec.measuring_max_V = Value::exactly(10.0, Origin::data_sheet);
  const std::optional<BestRange> found = best_range(trial.spans, trial.spec);
  ASSERT_TRUE(found.has_value());
  EXPECT_LE(found->range.max_V.value_or(0.0), 10.0);
}

TEST(BestRange, IsNothingWithoutARestToStayInOrAnAlarmToSee) {
  site::UnitInputSpec spec;
  EXPECT_FALSE(best_range({{}, {{1.0, 2.0, "alarm"}}}, spec).has_value());
  EXPECT_FALSE(best_range({{{1.0, 2.0, "rest"}}, {}}, spec).has_value());
}

}  // namespace
}  // namespace zoneproof::electric
