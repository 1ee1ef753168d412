// Every field of the parts that look and detect: patterns, lenses, cameras. See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

template <>
const Record& record_of<Reach>() {
  using Here = Reach;
  static const Record record = {
      "Reach",
      "How far a pattern reaches.",
      {FIELD(range_m)
           .range(0, kLongestRange)
           .means("Greatest distance: of a fan, curtain, disc or beam, and of a detector that listens."),
       FIELD(angle_deg).range(0, 360).means("Of a fan: the whole angle."),
       FIELD(width_m).range(0, kLongestRange).means("Of a curtain: its width at the far end.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PatternRow>() {
  using Here = PatternRow;
  static const Record record = {
      "PatternRow",
      "Between which heights the pattern catches a person at a distance.",
      {FIELD(distance_m).range(0, kLongestRange).means("Distance on the floor from below the detector."),
       FIELD(lowest_m).range(0, kHighest).means("Lowest height that a beam of it covers there."),
       FIELD(highest_m).range(0, kHighest).means("Highest height that a beam of it covers there.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PatternSpec>() {
  using Here = PatternSpec;
  static const Record record = {
      "PatternSpec",
      "Where a detector detects, mounted as its sheet says.",
      {FIELD(shape).means("Its shape on the plan."),
       FIELD(mount_min_m).range(0, kHighest).means("Lowest mounting height that the pattern is given for."),
       FIELD(mount_max_m).range(0, kHighest).means("Highest mounting height that it is given for."),
       FIELD(near_m)
           .range(0, kLongestRange)
           .or_none()
           .means("Nearest distance on the floor at which it detects; none where it does from its foot on."),
       FIELD(guaranteed).means("What it covers at least."), FIELD(largest).means("What it can cover at most."),
       FIELD(profile).at_most(kMostRulePoints).means("Heights that it covers, by distance.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<LensSpec>() {
  using Here = LensSpec;
  static const Record record = {
      "LensSpec",
      "A kind of lens.",
      {FIELD(projection).means("How it maps directions onto the picture."),
       FIELD(focal_min_mm).range(0.1, 1000).means("Shortest focal length."),
       FIELD(focal_max_mm).range(0.1, 1000).means("Longest focal length; the same where it is fixed."),
       FIELD(k1_coefficient).range(-100, 100).means("First radial term of its distortion."),
       FIELD(k2_coefficient).range(-100, 100).means("Second radial term."),
       FIELD(k3_coefficient).range(-100, 100).means("Third radial term."),
       FIELD(p1_coefficient).range(-100, 100).means("First tangential term; of a pinhole only."),
       FIELD(p2_coefficient).range(-100, 100).means("Second tangential term; of a pinhole only."),
       FIELD(near_m).range(0, kLongestRange).means("Nearest distance that is sharp.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<CameraSpec>() {
  using Here = CameraSpec;
  static const Record record = {
      "CameraSpec",
      "A kind of camera: a sensor, perhaps with its lens.",
      {FIELD(width_px).range(16, 32768).means("Pixels of the sensor across."),
       FIELD(height_px).range(16, 32768).means("Pixels of the sensor upwards."),
       FIELD(pixel_um).range(0.1, 100).means("Distance of two pixels on the sensor; the size of a sensor is this times "
                                             "its pixels, never its name in inches."),
       FIELD(infrared_reach_m)
           .range(0, kLongestRange)
           .or_none()
           .means("How far its own infrared light reaches; none where it has none."),
       FIELD(lens).means("The lens that is built in; left out where another can be fitted."),
       FIELD(poe_class).range(0, 8).means(
           "Class of IEEE 802.3 that it asks for; left out where it is not powered over its data cable."),
       FIELD(power_W).range(0, 1000).means("Power that it takes at the most, with its own light on."),
       FIELD(boot_s).range(0, kMostSeconds).means("Time from power to the first picture that it sends."),
       FIELD(delay_s)
           .range(0, kMostSeconds)
           .means("Longest time from the light to the last byte of the encoded picture."),
       FIELD(analytics_s)
           .range(0, kMostSeconds)
           .or_none()
           .means(
               "Longest time from a person in a region of its own analytics to their alarm; none where it has none.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
