// How long an alarm must last: against ngspice in time, against a clock with every phase, and against the textbook.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "electric/catch_time.hpp"

namespace zoneproof::electric {
namespace {

// ---- The filter ----------------------------------------------------------------------------------------------------

struct Step {
  double rest_V, alarm_V, edge_V, filter_s, alarm_s;
  double lead() const { return (alarm_V - edge_V) / (edge_V - rest_V); }
};

/// A pulse through 1 kohm into a capacitor, drawn by hand; ngspice says for how long the capacitor is beyond the edge.
double time_beyond_in_ngspice(const Step& step) {
  const std::string folder = std::filesystem::temp_directory_path().string() + "/zoneproof_catch_" +
                             std::to_string(std::hash<std::string>{}(::testing::TempDir()));
  std::filesystem::create_directories(folder);
  std::ofstream deck(folder + "/pulse.cir");
  deck.precision(17);
  const double end = step.alarm_s + 20.0 * step.filter_s;
  const char* first = step.alarm_V > step.rest_V ? "rise" : "fall";
  const char* last = step.alarm_V > step.rest_V ? "fall" : "rise";
  deck << "pulse through a filter\n.options reltol=1e-7 abstol=1e-12 vntol=1e-9\n"
       << "V1 a 0 pulse(" << step.rest_V << " " << step.alarm_V << " 0 1e-9 1e-9 " << step.alarm_s << " " << 10 * end
       << ")\nR1 a b 1000\nC1 b 0 " << step.filter_s / 1000.0 << "\n.tran " << step.filter_s / 500.0 << " " << end
       << " 0 " << step.filter_s / 500.0 << "\n.meas tran beyond trig v(b) val=" << step.edge_V << " " << first
       << "=1 targ v(b) val=" << step.edge_V << " " << last << "=1\n.end\n";
  deck.close();
  const std::string run = "ngspice -b " + folder + "/pulse.cir > " + folder + "/out.txt 2> " + folder + "/err.txt";
  if (std::system(run.c_str()) == -1) throw std::runtime_error("ngspice does not start");
  std::ifstream out(folder + "/out.txt");
  for (std::string line; std::getline(out, line);) {
    std::istringstream words(line);
    std::string name, sign;
    double value = 0.0;
    if (words >> name >> sign >> value && name == "beyond" && sign == "=") return value;
  }
  throw std::runtime_error("ngspice measured nothing");
}

TEST(TimeBeyond, IsWhatNgspiceMeasures) {
  const Step steps[] = {{2.5, 3.75, 2.9, 0.01, 0.05},   // a double end-of-line loop, edge near rest
                        {2.5, 3.75, 3.7, 0.02, 0.1},    // edge near alarm: late on, early off
                        {2.5, 0.4, 1.2, 0.005, 0.008},  // falling, pulse about as short as the filter
                        {0.0, 12.0, 6.0, 0.3, 0.4},
                        {13.8, 0.0, 2.0, 1.0, 2.5}};
  for (const Step& step : steps) {
    const double measured = time_beyond_in_ngspice(step);
    EXPECT_NEAR(time_beyond(step.alarm_s, step.lead(), step.filter_s), measured, 2e-4 * step.filter_s)
        << step.rest_V << " V to " << step.alarm_V << " V";
  }
}

TEST(TimeBeyond, AFilterIsAt63PercentAfterOneTimeConstant) {
  // Any textbook of circuits: 63.2 % after one time constant, 50 % after 0.693 of them, 10 % to 90 % in 2.197 of them.
  const auto delay = [](double share) { return longest_delay({1.0, 1.0, 0.0, 0.0, 0.0}, (1.0 - share) / share); };
  EXPECT_NEAR(delay(0.632), 1.0, 1e-3);
  EXPECT_NEAR(delay(0.5), 0.693, 1e-3);
  EXPECT_NEAR(delay(0.9) - delay(0.1), 2.197, 1e-3);
}

TEST(TimeBeyond, APulseTooShortForTheFilterNeverGetsThere) {
  EXPECT_EQ(time_beyond(0.5, 1.0, 1.0), 0.0);  // 39 % of the way after half a time constant, the edge is at 50 %
  EXPECT_GT(time_beyond(0.7, 1.0, 1.0), 0.0);
}

TEST(AlarmFor, IsTheInverse) {
  for (double filter : {0.0, 1e-6, 0.01, 0.5, 30.0}) {
    for (double lead : {0.01, 0.5, 1.0, 7.0, 1e4}) {
      for (double beyond : {0.001, 0.3, 4.0})
        EXPECT_NEAR(time_beyond(alarm_for(beyond, lead, filter), lead, filter), beyond, 1e-9 * (1.0 + filter));
    }
  }
}

// ---- The looks -----------------------------------------------------------------------------------------------------

/// One input that looks: draws filter, hold and every interval between looks anew, and says whether the alarm counts.
class Clock {
 public:
  Clock(const PulseWatch& watch, unsigned seed) : watch_(watch), random_(seed) {}

  bool catches(double alarm_s, double lead) {
    const double filter = between(watch_.filter_low, watch_.filter_high);
    const double hold = between(watch_.hold_low, watch_.hold_high);
    const double on = filter * std::log1p(1.0 / lead);
    if (alarm_s <= on) return false;
    const double off = on + time_beyond(alarm_s, lead, filter);
    double first = -1.0;
    for (double look = between(0.0, watch_.period); look < off; look += interval()) {
      if (look < on) continue;
      if (first < 0.0) first = look;
      if (look - first >= hold) return true;
    }
    return false;
  }

 private:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  double interval() { return watch_.period * (between(0.0, 1.0) < 0.5 ? 1.0 : between(0.5, 1.0)); }

  PulseWatch watch_;
  std::mt19937 random_;
};

const PulseWatch panel = {0.001, 0.01, 0.02, 0.25, 0.3};
const PulseWatch kWatch = {0.005, 0.02, 0.02, 0.05, 0.15};
const PulseWatch slow_filter = {0.1, 0.4, 0.05, 0.1, 0.2};
const PulseWatch one_look = {0.0, 0.0, 0.1, 0.0, 0.0};

TEST(Caught, InEveryPhaseFromTheCertainTimeOn) {
  for (const PulseWatch& watch : {panel, kWatch, slow_filter, one_look}) {
    for (double lead : {0.1, 1.0, 8.0}) {
      Clock clock(watch, 7);
      const double alarm = certainly_caught(watch, lead) * (1.0 + 1e-9);
      for (int i = 0; i < 20000; ++i) ASSERT_TRUE(clock.catches(alarm, lead)) << watch.period << " " << lead;
    }
  }
}

TEST(Caught, NeverBelowThePossibleTime) {
  for (const PulseWatch& watch : {panel, kWatch, slow_filter}) {
    for (double lead : {0.1, 1.0, 8.0, 500.0}) {
      Clock clock(watch, 11);
      const double alarm = possibly_caught(watch, lead) * (1.0 - 1e-9);
      for (int i = 0; i < 20000; ++i) ASSERT_FALSE(clock.catches(alarm, lead)) << watch.hold_low << " " << lead;
    }
  }
}

TEST(Caught, ByChanceBetweenThem) {
  Clock clock(kWatch, 3);
  const double middle = (certainly_caught(kWatch, 1.0) + possibly_caught(kWatch, 1.0)) / 2.0;
  int caught = 0;
  for (int i = 0; i < 20000; ++i) caught += clock.catches(middle, 1.0) ? 1 : 0;
  EXPECT_GT(caught, 100);
  EXPECT_LT(caught, 19900);
}

TEST(Caught, TheLastLookMayComeAWholePeriodLate) {
  // Hold 10, looks at most 10 apart: looks 9.99 apart find it old enough only at the second one after the first.
  const PulseWatch watch = {0.0, 0.0, 10.0, 10.0, 10.0};
  EXPECT_DOUBLE_EQ(certainly_caught(watch, 1.0), 30.0);
}

}  // namespace
}  // namespace zoneproof::electric
