#pragma once
#include <optional>
#include <string>
#include <vector>

#include "site/network.hpp"
#include "site/value.hpp"

/// The building and what looks at it, as the site file tells it: what stands where on which level. Metres, x to the
/// east, y to the north, z above the floor of the level; bearings clockwise from north. Plain data; the field
/// definitions (definitions_scene.cpp) say what each member means.
namespace zoneproof::site {

/// A place on the plan of a level.
struct PlanPoint {
  Value x_m, y_m;
};

/// A picture that the plan of a level is traced over: a photographed or scanned drawing, or a page of one. No answer
/// rests on it.
struct TracedPicture {
  std::string name;    ///< of the file that it came from
  std::string sha256;  ///< of its bytes, among the files of the book
  Count width_px, height_px;
  Value px_per_m;     ///< how large it lies on the plan: from a length that somebody has measured
  Value x_m, y_m;     ///< where its lower left corner lies
  Value bearing_deg;  ///< of its upper edge: 0 where it points north
  Value shown_pct;    ///< how strongly it is shown below the plan
};

/// One floor of the building.
struct FloorLevel {
  std::string name;
  Value elevation_m;  ///< of its floor above the site's datum
  Value ceiling_m;    ///< clear height from floor to ceiling; none: open to the sky
  Flag lit;           ///< light enough for every camera on it whenever the system is armed
  std::optional<TracedPicture> picture;
};

/// What a surface lets through.
enum class Surface {
  solid,  ///< nothing
  glass,  ///< light, and no heat: clear to a camera, a wall to passive infrared
  mesh    ///< a share of everything: fences, netting, open shelving
};

/// A thin screen that stands upright along a path. Thick walls are drawn by their faces, or as blocks.
struct Wall {
  std::string name;
  Ref level;
  std::vector<PlanPoint> path;  ///< two points or more
  Value bottom_m;
  Value top_m;  ///< none: up to the ceiling
  Word<Surface> surface;
  Value transmission_pct;  ///< mesh: the share that it lets through
};

enum class OpeningKind { doorway, door, window, shutter };
enum class OpeningState {
  open,
  closed,
  either  ///< sometimes one, sometimes the other: every answer has to hold in both
};

/// A hole in one stretch of a wall, with what closes it.
struct Opening {
  std::string name;
  Ref wall;
  Count stretch;  ///< of the wall's path, from 1
  Value along_m;  ///< from the beginning of the stretch to the opening's nearer side
  Value width_m;
  Value sill_m, head_m;
  Word<OpeningKind> kind;
  Word<OpeningState> state;
  Word<Surface> leaf;  ///< what closes it
  Value transmission_pct;
};

enum class BlockKind { column, racking, counter, shelf, machine, other };
enum class Fill {
  solid,
  open,   ///< nothing stands in it: it lets a share through
  either  ///< as goods come and go: every answer has to hold in both
};

/// A body with an outline on the plan, a bottom and a top.
struct Block {
  std::string name;
  Ref level;
  Word<BlockKind> kind;
  std::vector<PlanPoint> outline;  ///< three points or more, in either sense, not crossing itself
  Value bottom_m;
  Value top_m;  ///< none: up to the ceiling
  Word<Fill> fill;
  Value transmission_pct;  ///< where it may be open: the share that it then lets through
};

/// A straight flight of stairs.
struct Stair {
  std::string name;
  Ref level;             ///< where its foot stands
  PlanPoint foot, head;  ///< middle of the first riser and of the last
  Value width_m;
  Value rise_m;  ///< from its floor to the top of the last step
  Count steps;
  Word<Fill> below;  ///< solid, or open underneath
};

/// What is to be detected somewhere: an area on the floor, or an opening.
struct ProtectedPlace {
  std::string name;
  Ref zone;  ///< that is there for it
  Ref level;
  std::vector<PlanPoint> outline;  ///< empty: the opening
  Ref opening;
};

/// Where no camera may look.
struct PrivacyArea {
  std::string name;
  Ref level;
  std::vector<PlanPoint> outline;
};

/// Where something is fixed, and where it looks.
struct Mount {
  Ref level;
  Value x_m, y_m, z_m;
  Value bearing_deg;  ///< clockwise from north
  Value tilt_deg;     ///< upward positive
  Value roll_deg;     ///< clockwise seen from behind
};

enum class PictureTurn { upright, left, right, upside_down };

/// A place in a picture, from its upper left corner.
struct PicturePoint {
  Value across_pct, down_pct;
};

/// A part of the picture that the camera blacks out.
struct PictureMask {
  std::string name;
  std::vector<PicturePoint> outline;
};

struct Camera {
  std::string name;
  Ref part;  ///< of kind camera
  Ref lens;  ///< of kind lens; none: built in, the camera's part tells
  Mount mount;
  Value focal_mm;                             ///< as set, within the range of the lens
  Word<PictureTurn> turn;                     ///< how the picture is turned before it is encoded
  Count encoded_width_px, encoded_height_px;  ///< of the clip, not of the sensor
  Value infrared_reach_m;                     ///< as mounted; none: no light of its own
  Map<PictureMask> masks;
  Ref powered_by;  ///< data_links: over its data cable; loads, backups; none: straight from the mains
  Map<Stream> streams;
  Flag streams_complete;  ///< all that it sends is among its streams
  Clock clock;
};

/// What keeps the pictures of several cameras.
struct Recorder {
  std::string name;
  Ref part;  ///< of kind recorder
  Ref area;
  Ref powered_by;  ///< loads, backups; none: straight from the mains
  Value disk_GB;   ///< 1e9 bytes each
  Value keep_d;    ///< how long its pictures are to be kept, as agreed; none: not agreed
  Clip clip;       ///< what it keeps for a unit that asks
  Clock clock;
};

/// A video channel of a unit and what is on it.
struct Channel {
  Ref unit;
  Count number;  ///< counted from 1
  Ref camera;
  Ref recorder;  ///< none: straight from the camera
  Count recorder_channel;
  Flag live_only;      ///< no clip is kept of it
  std::string stream;  ///< id of the camera's stream that the clip is of
};

}  // namespace zoneproof::site
