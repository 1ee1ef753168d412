// Every field of the building and of what looks at it: key (the member's name), plausible range, meaning, references.
// See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

template <>
const Record& record_of<PlanPoint>() {
  using Here = PlanPoint;
  static const Record record = {
      "PlanPoint",
      "A place on the plan of a level.",
      {FIELD(x_m).range(-kFarOnPlan, kFarOnPlan).means("Metres to the east of the plan's origin."),
       FIELD(y_m).range(-kFarOnPlan, kFarOnPlan).means("Metres to the north of it.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<TracedPicture>() {
  using Here = TracedPicture;
  static const Record record = {
      "TracedPicture",
      "A picture that the plan of a level is traced over. No answer rests on it.",
      {FIELD(name).means("The file that it came from."),
       FIELD(sha256).as(TextForm::sha256, 64).needed().means("SHA-256 of its bytes; the book keeps them under it."),
       FIELD(width_px).range(1, kLargestPicture).means("Its width."),
       FIELD(height_px).range(1, kLargestPicture).means("Its height."),
       FIELD(px_per_m).range(0.001, 100'000).means("How many of its pixels are a metre of the building."),
       FIELD(x_m).range(-kFarOnPlan, kFarOnPlan).means("Where its lower left corner lies: metres to the east."),
       FIELD(y_m).range(-kFarOnPlan, kFarOnPlan).means("Where its lower left corner lies: metres to the north."),
       FIELD(bearing_deg)
           .range(-360, 360)
           .means(
               "Where its upper edge points, clockwise from north about its lower left corner; 0 where north is up."),
       FIELD(shown_pct).range(0, 100).means("How strongly it is shown below the plan.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<FloorLevel>() {
  using Here = FloorLevel;
  static const Record record = {
      "FloorLevel",
      "One floor of the building.",
      {FIELD(name).means("What people call this floor."),
       FIELD(elevation_m).range(-kHighest, kHighest).means("Height of its floor above the datum of the site."),
       FIELD(ceiling_m)
           .range(0, kHighest)
           .or_none()
           .means("Clear height from floor to ceiling; none where it is open to the sky."),
       FIELD(lit).means(
           "Whether there is light enough for every camera on it whenever the system is armed. Where not, a "
           "camera sees as far as its own infrared light reaches."),
       FIELD(picture).means("What its plan is traced over.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Wall>() {
  using Here = Wall;
  static const Record record = {
      "Wall",
      "A thin upright screen along a path. Thick walls are drawn by their faces, or as blocks.",
      {FIELD(name).means("What people call it."), FIELD(level).to({"levels"}).means("The floor that it stands on."),
       FIELD(path).at_most(kMostPointsOfPath).means("Its corners from end to end, two or more."),
       FIELD(bottom_m).range(-kHighest, kHighest).means("Height of its lower edge above the floor."),
       FIELD(top_m)
           .range(-kHighest, kHighest)
           .or_none()
           .means("Height of its upper edge above the floor; none where it reaches the ceiling."),
       FIELD(surface).means("What it lets through."),
       FIELD(transmission_pct)
           .range(0, 100)
           .means("Mesh: the share of what is behind it that can be seen through it.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Opening>() {
  using Here = Opening;
  static const Record record = {
      "Opening",
      "A hole in one stretch of a wall, and what closes it.",
      {FIELD(name).means("What people call it."), FIELD(wall).to({"walls"}).means("The wall that it is in."),
       FIELD(stretch).range(1, 10000).means("Which stretch of the wall's path, counted from 1."),
       FIELD(along_m)
           .range(0, kFarOnPlan)
           .means("From the beginning of the stretch to the nearer side of the opening."),
       FIELD(width_m).range(0.01, kFarOnPlan).means("Clear width."),
       FIELD(sill_m).range(-kHighest, kHighest).means("Height of its lower edge above the floor; 0 of a door."),
       FIELD(head_m).range(-kHighest, kHighest).means("Height of its upper edge above the floor."),
       FIELD(kind).means("What kind of opening it is."),
       FIELD(state).means("How it stands while the system is armed; either where it may be open or closed."),
       FIELD(leaf).means("What closes it: of a window the pane."),
       FIELD(transmission_pct).range(0, 100).means("Leaf of mesh: the share that can be seen through it.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Block>() {
  using Here = Block;
  static const Record record = {
      "Block",
      "A body with an outline on the plan, a bottom and a top.",
      {FIELD(name).means("What people call it."), FIELD(level).to({"levels"}).means("The floor that it stands on."),
       FIELD(kind).means("What it is."),
       FIELD(outline).at_most(kMostPointsOfPath).means("Its corners in turn, three or more; it must not cross itself."),
       FIELD(bottom_m)
           .range(-kHighest, kHighest)
           .means("Height of its underside above the floor; 0 where it stands on it."),
       FIELD(top_m)
           .range(-kHighest, kHighest)
           .or_none()
           .means("Height of its upper side above the floor; none where it reaches the ceiling."),
       FIELD(fill).means("Whether it can be seen through; either where goods come and go."),
       FIELD(transmission_pct)
           .range(0, 100)
           .means("Where it may be open: the share that can be seen through it then.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Stair>() {
  using Here = Stair;
  static const Record record = {
      "Stair",
      "A straight flight of stairs.",
      {FIELD(name).means("What people call it."),
       FIELD(level).to({"levels"}).means("The floor that its foot stands on."),
       FIELD(foot).means("Middle of its first riser."), FIELD(head).means("Middle of its last riser."),
       FIELD(width_m).range(0.1, 100).means("Width of its steps."),
       FIELD(rise_m).range(0.01, kHighest).means("Height of the top of its last step above that floor."),
       FIELD(steps).range(1, 1000).means("Number of steps."),
       FIELD(below).means("Whether the space under it is solid or open.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<ProtectedPlace>() {
  using Here = ProtectedPlace;
  static const Record record = {
      "ProtectedPlace",
      "An area or opening where somebody is to be detected.",
      {FIELD(name).means("What people call it."), FIELD(zone).to({"zones"}).means("The zone that is there for it."),
       FIELD(level).to({"levels"}).means("The floor of the area."),
       FIELD(outline).at_most(kMostPointsOfPath).means("Corners of the area; left out where it is an opening."),
       FIELD(opening).to({"openings"}).means("The opening; left out where it is an area.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PrivacyArea>() {
  using Here = PrivacyArea;
  static const Record record = {
      "PrivacyArea",
      "An area that no camera may show.",
      {FIELD(name).means("What people call it."), FIELD(level).to({"levels"}).means("The floor of the area."),
       FIELD(outline).at_most(kMostPointsOfPath).means("Its corners.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Mount>() {
  using Here = Mount;
  static const Record record = {
      "Mount",
      "Where something is fixed, and which way it looks.",
      {FIELD(level).to({"levels"}).means("The floor above which it hangs."),
       FIELD(x_m).range(-kFarOnPlan, kFarOnPlan).means("Metres to the east of the plan's origin."),
       FIELD(y_m).range(-kFarOnPlan, kFarOnPlan).means("Metres to the north of it."),
       FIELD(z_m).range(-kHighest, kHighest).means("Height above the floor: of a camera its lens."),
       FIELD(bearing_deg).range(-360, 360).means("Which way it looks, clockwise from north."),
       FIELD(tilt_deg).range(-90, 90).means("How far it looks up; down is negative."),
       FIELD(roll_deg).range(-180, 180).means("How far it is turned about its axis, clockwise seen from behind.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PicturePoint>() {
  using Here = PicturePoint;
  static const Record record = {
      "PicturePoint",
      "A place in a picture.",
      {FIELD(across_pct).range(0, 100).means("From the left edge, as a share of the picture's width."),
       FIELD(down_pct).range(0, 100).means("From the upper edge, as a share of its height.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PictureMask>() {
  using Here = PictureMask;
  static const Record record = {
      "PictureMask",
      "A part of the picture that the camera blacks out.",
      {FIELD(name).means("What it is there for."),
       FIELD(outline).at_most(kMostPointsOfPath).means("Its corners in the picture, three or more.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Camera>() {
  using Here = Camera;
  static const Record record = {
      "Camera",
      "A camera as it is mounted.",
      {FIELD(name).means("What people call it."),
       FIELD(part).to_part({PartKind::camera}).means("The kind of camera, from the parts of this site."),
       FIELD(lens)
           .to_part({PartKind::lens})
           .or_none()
           .means("The lens; none where it is built in and the camera's part tells."),
       FIELD(mount).means("Where it is fixed and which way it looks."),
       FIELD(focal_mm).range(0.1, 1000).means("Focal length as it is set."),
       FIELD(turn).means("How the picture is turned before it is encoded."),
       FIELD(encoded_width_px).range(16, 32768).means("Width of the clip that is sent, not of the sensor."),
       FIELD(encoded_height_px).range(16, 32768).means("Height of the clip that is sent."),
       FIELD(infrared_reach_m)
           .range(0, kLongestRange)
           .or_none()
           .means(
               "How far its own light reaches here; none where it has none or it is off; left out, its part's counts."),
       FIELD(masks).at_most(kMostMasksOfCamera).means("Parts of the picture that are blacked out."),
       FIELD(powered_by)
           .to({"data_links", "loads", "backups"})
           .or_none()
           .means("What it takes its power from: its data link, an entry of loads, a backup; none where it hangs "
                  "straight on the mains."),
       FIELD(streams).at_most(kMostStreamsOfCamera).means("What it sends all the time, by an id of your choice."),
       FIELD(streams_complete).means("Whether somebody looked, and all that it sends is in this file."),
       FIELD(clock).means("How it knows the time.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Recorder>() {
  using Here = Recorder;
  static const Record record = {
      "Recorder",
      "What keeps the pictures of several cameras.",
      {FIELD(name).means("What people call it."),
       FIELD(part).to_part({PartKind::recorder}).means("The kind of recorder, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."),
       FIELD(powered_by)
           .to({"loads", "backups"})
           .or_none()
           .means(
               "What it takes its power from: an entry of loads, a backup; none where it hangs straight on the mains."),
       FIELD(disk_GB).range(0, 1e9).means("Room on its disks for pictures, in units of 10^9 bytes."),
       FIELD(keep_d).range(0, 10000).or_none().means(
           "How long its pictures are to be kept, as agreed; none where nothing was agreed."),
       FIELD(clip).means("What it keeps and sends when a unit asks for a clip."),
       FIELD(clock).means("How it knows the time.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Channel>() {
  using Here = Channel;
  static const Record record = {
      "Channel",
      "A video channel of a unit, and which camera is on it.",
      {FIELD(unit).to({"units"}).means("The unit whose channel it is."),
       FIELD(number).range(1, 10000).means("The channel's number, counted from 1."),
       FIELD(camera).to({"cameras"}).means("The camera that is on it."),
       FIELD(recorder)
           .to({"recorders"})
           .or_none()
           .means("The recorder that the picture comes through; none where it comes straight from the camera."),
       FIELD(recorder_channel).range(1, 10000).means("The camera's channel on the recorder."),
       FIELD(live_only).means("Whether it is for looking only: no clip is kept of it."),
       FIELD(stream)
           .as(TextForm::identifier, 40)
           .means("Which stream of the camera its clips are of, by its id there.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
