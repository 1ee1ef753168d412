#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "published/shelf_data.hpp"

// The shelf's cables against the tables of the standards. Sources stand beside each table.
namespace zoneproof::published {
namespace {

const std::string cables = "parts/cables.json";
constexpr double kft_per_km = 1.0 / 0.3048;

Figure resistance(const std::string& id) { return figure(cables, "/parts/" + id + "/cable/resistance_ohm_per_km"); }

Figure awg(int gauge, const std::string& build) {
  return resistance("cable_awg" + std::to_string(gauge) + "_2_" + build);
}

TEST(Conductors, LargestResistancesAreThoseOfIec60228) {
  // IEC 60228:2004, largest d.c. resistance at 20 degC, ohm/km: classes 1 and 2 plain; class 5 plain, tinned. As
  // printed in three cable makers' specification pages, which agree.
  struct Row {
    const char* size;
    double solid, flexible, flexible_tinned;
  };
  for (const Row& row : {Row{"0_5", 36.0, 39.0, 40.1}, Row{"0_75", 24.5, 26.0, 26.7}, Row{"1_0", 18.1, 19.5, 20.0},
                         Row{"1_5", 12.1, 13.3, 13.7}, Row{"2_5", 7.41, 7.98, 8.21}}) {
    for (const char* cores : {"2", "4"}) {
      const std::string name = std::string("cable_") + cores + "x" + row.size;
      EXPECT_DOUBLE_EQ(resistance(name + "_solid").high, row.solid) << name;
      EXPECT_DOUBLE_EQ(resistance(name + "_flexible").high, row.flexible_tinned) << name;
      EXPECT_LE(resistance(name + "_flexible").nominal, row.flexible) << name;
    }
  }
}

TEST(Conductors, NominalIsResistivityByAreaAndLiesBelowTheLargest) {
  // IEC 60028: 1/58 ohm mm2/m. The figure for 2.5 mm2 is 6.90 ohm/km, the table's largest 7.41.
  EXPECT_NEAR(resistance("cable_2x2_5_solid").nominal, 6.90, 0.005);
  EXPECT_LT(resistance("cable_2x2_5_solid").low, 6.90);
  EXPECT_GT(resistance("cable_2x2_5_solid").high, 6.90);
}

TEST(Conductors, SmallSizesHoldTheQuotedLargestResistances) {
  // DIN VDE 0295 as quoted by a trade page: 0.22 mm2 96, 0.25 mm2 76, 0.34 mm2 53 ohm/km.
  EXPECT_DOUBLE_EQ(resistance("alarm_6x0_22").high, 96.0);
  EXPECT_DOUBLE_EQ(resistance("alarm_6x0_25").high, 76.0);
  EXPECT_DOUBLE_EQ(resistance("alarm_6x0_34").high, 53.0);
}

TEST(Conductors, TemperatureCoefficientReproducesTheAnnexFactors) {
  // Factors of the IEC 60228 annex that bring a measurement at t to 20 degC. They equal 250/(230+t).
  struct Row {
    double celsius, factor;
  };
  const double alpha = resistance("cable_2x0_5_solid").tempco_ppm_K * 1e-6;
  EXPECT_DOUBLE_EQ(alpha, 0.00393);  // IEC 60028
  for (const Row& row : {Row{5, 1.064}, Row{10, 1.042}, Row{15, 1.020}, Row{25, 0.980}, Row{30, 0.962}, Row{40, 0.926},
                         Row{50, 0.893}, Row{75, 0.820}, Row{90, 0.781}}) {
    EXPECT_NEAR(250.0 / (230.0 + row.celsius), row.factor, 0.0006) << row.celsius;
    EXPECT_NEAR(1.0 / (1.0 + alpha * (row.celsius - 20.0)), row.factor, 0.004) << row.celsius;
  }
  EXPECT_NEAR(1.0 + alpha * 30.0, 1.118, 0.0005);  // R(50)/R(20) with 0.00393; the table's rounded form gives 1.120
}

struct AwgRow {
  int gauge;
  double ohm_per_kft, diameter_mm;
};
// NBS Handbook 100 at 20 degC as printed by hyperphysics.phy-astr.gsu.edu/hbase/tables/wirega; diameters ASTM B258.
const AwgRow awg_rows[] = {{10, 0.9989, 2.588}, {12, 1.588, 2.053}, {14, 2.525, 1.628}, {16, 4.016, 1.291},
                           {18, 6.385, 1.024},  {20, 10.15, 0.812}, {22, 16.14, 0.644}, {24, 25.67, 0.511}};

TEST(Conductors, AmericanGaugesAreThoseOfHandbook100) {
  for (const AwgRow& row : awg_rows) {
    EXPECT_NEAR(awg(row.gauge, "solid").nominal / kft_per_km / row.ohm_per_kft, 1.0, 4e-4) << row.gauge;
    const double area =
        figure(cables, "/parts/cable_awg" + std::to_string(row.gauge) + "_2_solid/cable/conductor_mm2").nominal;
    EXPECT_NEAR(std::sqrt(4.0 * area / std::numbers::pi), row.diameter_mm, 6e-4) << row.gauge;
  }
}

TEST(Conductors, ListsMadeAt25DegreesAreNotTakenFor20) {
  // Circulating lists give 18 AWG 6.51 and 24 AWG 26.15 ohm/kft: these are at 25 degC (77 degF).
  struct Row {
    int gauge;
    double listed;
  };
  for (const Row& row : {Row{18, 6.51}, Row{24, 26.15}}) {
    const Figure shelf = awg(row.gauge, "solid");
    EXPECT_GT(std::abs(shelf.nominal / kft_per_km - row.listed) / row.listed, 0.015) << row.gauge;
    const double at_25 = shelf.nominal * (1.0 + shelf.tempco_ppm_K * 1e-6 * 5.0) / kft_per_km;
    EXPECT_NEAR(at_25 / row.listed, 1.0, 0.0015) << row.gauge;
  }
}

TEST(Conductors, StrandedGaugesReturnToNecTable8At75Degrees) {
  // NEC chapter 9 table 8, 75 degC, ohm/kft, seven strands: uncoated, coated; its note: R2 = R1 (1 + 0.00323 (T2 -
  // 75)).
  struct Row {
    int gauge;
    double plain, coated;
  };
  for (const Row& row :
       {Row{18, 7.95, 8.45}, Row{16, 4.99, 5.29}, Row{14, 3.14, 3.26}, Row{12, 1.98, 2.05}, Row{10, 1.24, 1.29}}) {
    const Figure shelf = awg(row.gauge, "stranded");
    const double to_75 = 1.0 / (1.0 + 0.00323 * (20.0 - 75.0)) / kft_per_km;
    EXPECT_NEAR(shelf.nominal * to_75, row.plain, 0.0006) << row.gauge;
    EXPECT_NEAR(shelf.high * to_75, row.coated, 0.0006) << row.gauge;
    // The same table through the other coefficient, 1.2162 from 20 to 75 degC, agrees to half a percent.
    EXPECT_NEAR(shelf.nominal * (1.0 + shelf.tempco_ppm_K * 1e-6 * 55.0) / kft_per_km / row.plain, 1.0, 0.005);
  }
}

TEST(Conductors, SolidGaugesReachNecTable8At75Degrees) {
  // NEC chapter 9 table 8, 75 degC, solid uncoated, ohm/kft.
  struct Row {
    int gauge;
    double solid;
  };
  for (const Row& row : {Row{18, 7.77}, Row{16, 4.89}, Row{14, 3.07}, Row{12, 1.93}, Row{10, 1.21}}) {
    const Figure shelf = awg(row.gauge, "solid");
    EXPECT_NEAR(shelf.nominal * (1.0 + shelf.tempco_ppm_K * 1e-6 * 55.0) / kft_per_km / row.solid, 1.0, 0.005)
        << row.gauge;
  }
}

TEST(Conductors, DataPairsStayWithinTheLoopLimitOfIeee8023) {
  // IEEE 802.3: 12.5 ohm loop of a pair set over 100 m. The two wires of a pair are in parallel, out and back in
  // series.
  for (const char* id : {"data_cat5e", "data_cat6"}) {
    const Figure core = resistance(id);
    EXPECT_LE(core.high * 0.1 / 2.0 * 2.0, 12.5) << id;
    EXPECT_LT(core.nominal, core.high) << id;
  }
}

TEST(Conductors, CladAluminiumResistsMoreThanCopperAndIsOnlyTypical) {
  // Conductivity of the cladding's two usual shares of copper: 61 to 64 % IACS (from memory, hence typical).
  for (const char* size : {"0_22", "0_25", "0_34"}) {
    const Figure copper = resistance(std::string("alarm_6x") + size);
    const Figure clad = resistance(std::string("alarm_6x") + size + "_clad");
    EXPECT_NEAR(clad.low / copper.low, 1.0 / 0.64, 0.001) << size;
    EXPECT_NEAR(clad.high / copper.high, 1.0 / 0.61, 0.001) << size;
    EXPECT_EQ(text(cables, std::string("/parts/alarm_6x") + size + "_clad/origin"), "typical");
  }
}

}  // namespace
}  // namespace zoneproof::published
