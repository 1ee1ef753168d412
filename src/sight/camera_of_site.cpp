#include "sight/camera_of_site.hpp"

#include <utility>

#include "base/json_pointer.hpp"
#include "site/relations.hpp"

namespace zoneproof::sight {

using std::string;

namespace {

/// Reads one camera; every number it asks for and does not get is a gap.
class CameraReader {
 public:
  CameraReader(const site::Site& site, const string& id)
      : site_(site), camera_(site.cameras.at(id)), pointer_(pointer_child("/cameras", id)) {}

  CameraFound read() {
    read_mount();
    read_part();
    read_lens();
    setup_.turn = word(camera_.turn);
    setup_.encoded_width_px = count(camera_.encoded_width_px);
    setup_.encoded_height_px = count(camera_.encoded_height_px);
    for (const auto& [id, mask] : camera_.masks) read_mask(id, mask);
    if (complete_) finish();
    return std::move(found_);
  }

 private:
  void missing(const string& pointer, const char* reason = "unknown") {
    chain::add_gap(found_.gaps, {pointer, reason});
    complete_ = false;
  }

  /// Where "none" is no answer it is as good as not known.
  double number(const site::Value& value) {
    if (!value.known()) {
      missing(value.pointer);
      return 0.0;
    }
    chain::add_if_weak(found_.gaps, value);
    return value.nominal;
  }

  double number(const site::Value& value, CameraNumber what) {
    const double nominal = number(value);
    if (value.known() && value.low < value.high)
      found_.tolerances.push_back({what, value.pointer, value.low - nominal, value.high - nominal});
    return nominal;
  }

  long long count(const site::Count& count) {
    if (!count.known()) missing(count.pointer);
    return count.value.value_or(0);
  }

  template <class E>
  E word(const site::Word<E>& word) {
    if (!word.known()) missing(word.pointer);
    return word.value.value_or(E{});
  }

  void read_mount() {
    const site::Mount& mount = camera_.mount;
    setup_.eye.x = number(mount.x_m, CameraNumber::x);
    setup_.eye.y = number(mount.y_m, CameraNumber::y);
    setup_.eye.z = number(mount.z_m, CameraNumber::z);
    const auto level = site_.levels.find(mount.level.id);
    if (level == site_.levels.end())
      missing(mount.level.pointer);
    else
      setup_.eye.z += number(level->second.elevation_m, CameraNumber::z);
    setup_.bearing_deg = number(mount.bearing_deg, CameraNumber::bearing);
    setup_.tilt_deg = number(mount.tilt_deg, CameraNumber::tilt);
    setup_.roll_deg = number(mount.roll_deg, CameraNumber::roll);
  }

  void read_part() {
    const site::CameraSpec* spec = site::spec_of(site_, camera_.part, &site::Part::camera);
    if (spec == nullptr) return missing(camera_.part.pointer);
    setup_.sensor_width_px = count(spec->width_px);
    setup_.sensor_height_px = count(spec->height_px);
    setup_.pixel_um = number(spec->pixel_um, CameraNumber::pixel);
  }

  void read_lens() {
    const site::LensSpec* lens = site::lens_of(site_, camera_);
    if (lens == nullptr) {
      // Without its part nobody knows whether a lens is built in.
      if (camera_.lens.none() && site::part_of(site_, camera_.part) != nullptr)
        missing(pointer_child("/parts", camera_.part.id) + "/camera/lens");
      else if (!camera_.lens.none())
        missing(camera_.lens.pointer);
      return;
    }
    setup_.lens.projection = word(lens->projection);
    setup_.lens.k1 = number(lens->k1_coefficient, CameraNumber::k1);
    setup_.lens.k2 = number(lens->k2_coefficient, CameraNumber::k2);
    setup_.lens.k3 = number(lens->k3_coefficient, CameraNumber::k3);
    if (lens->projection.is(site::Projection::pinhole)) {
      setup_.lens.p1 = number(lens->p1_coefficient, CameraNumber::p1);
      setup_.lens.p2 = number(lens->p2_coefficient, CameraNumber::p2);
    }
    read_focal(*lens);
  }

  /// As it is set; where nobody wrote that down, of a fixed lens the only one it has.
  void read_focal(const site::LensSpec& lens) {
    const site::Value &least = lens.focal_min_mm, &most = lens.focal_max_mm;
    const bool fixed = least.known() && most.known() && least.nominal == most.nominal;
    setup_.focal_mm = number(!camera_.focal_mm.known() && fixed ? least : camera_.focal_mm, CameraNumber::focal);
  }

  void read_mask(const string& id, const site::PictureMask& mask) {
    CameraSetup::Mask read = {id, {}};
    for (const site::PicturePoint& corner : mask.outline) {
      const double across = number(corner.across_pct), down = number(corner.down_pct);
      read.corners.push_back({across / kWhole_percent * static_cast<double>(setup_.encoded_width_px),
                              down / kWhole_percent * static_cast<double>(setup_.encoded_height_px)});
    }
    if (read.corners.size() < 3)
      return missing(pointer_child(pointer_child(pointer_child(pointer_, "masks"), id), "outline"));
    setup_.masks.push_back(std::move(read));
  }

  void finish() {
    CameraModel model(std::move(setup_));
    if (!model.reaches_corner()) return missing(site::lens_of(site_, camera_)->k1_coefficient.pointer, "lens_turns");
    found_.model = std::move(model);
  }

  const site::Site& site_;
  const site::Camera& camera_;
  string pointer_;
  CameraSetup setup_;
  CameraFound found_;
  bool complete_ = true;
};

}  // namespace

CameraSetup moved(CameraSetup setup, CameraNumber number, double by) {
  switch (number) {
    case CameraNumber::x: setup.eye.x += by; break;
    case CameraNumber::y: setup.eye.y += by; break;
    case CameraNumber::z: setup.eye.z += by; break;
    case CameraNumber::bearing: setup.bearing_deg += by; break;
    case CameraNumber::tilt: setup.tilt_deg += by; break;
    case CameraNumber::roll: setup.roll_deg += by; break;
    case CameraNumber::focal: setup.focal_mm += by; break;
    case CameraNumber::pixel: setup.pixel_um += by; break;
    case CameraNumber::k1: setup.lens.k1 += by; break;
    case CameraNumber::k2: setup.lens.k2 += by; break;
    case CameraNumber::k3: setup.lens.k3 += by; break;
    case CameraNumber::p1: setup.lens.p1 += by; break;
    case CameraNumber::p2: setup.lens.p2 += by; break;
  }
  return setup;
}

CameraFound camera_model_of(const site::Site& site, const string& camera) { return CameraReader(site, camera).read(); }

}  // namespace zoneproof::sight
