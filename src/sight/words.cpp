#include "sight/words.hpp"

#include <stdexcept>

#include "messages/sight.hpp"
#include "site/relations.hpp"

namespace zoneproof::sight {

namespace {

constexpr double kWorthTelling = 0.1;  ///< share of a patch from which a cause is told

Measure metres(double value) { return {value, "m", 3}; }

}  // namespace

std::string thing_words(const site::Site& site, ThingKind kind, const std::string& id) {
  switch (kind) {
    case ThingKind::wall: return text(say::thing_wall(site::called(site.walls, id)));
    case ThingKind::opening: return text(say::thing_opening(site::called(site.openings, id)));
    case ThingKind::block: return text(say::thing_block(site::called(site.blocks, id)));
    case ThingKind::stair: break;
  }
  return text(say::thing_stair(site::called(site.stairs, id)));
}

Message cause_message(const site::Site& site, const Cause& cause) {
  switch (cause.why) {
    case Why::base: break;
    case Why::hidden: return say::cause_hidden(thing_words(site, cause.thing_kind, cause.thing));
    case Why::left: return say::cause_left();
    case Why::right: return say::cause_right();
    case Why::above: return say::cause_above();
    case Why::below: return say::cause_below();
    case Why::behind: return say::cause_behind();
    case Why::too_far: return say::cause_too_far();
    case Why::too_near: return say::cause_too_near();
    case Why::masked: {
      const auto camera = site.cameras.find(cause.camera);
      return say::cause_masked(camera == site.cameras.end() ? cause.mask
                                                            : site::called(camera->second.masks, cause.mask));
    }
    case Why::dark: return say::cause_dark();
    case Why::other_level: return say::cause_other_level();
  }
  throw std::logic_error("the label of an area is no cause");
}

std::string causes_words(const site::Site& site, const Patch& patch) {
  std::string causes;
  for (const Cause& cause : patch.causes)
    if (cause.area_m2 >= kWorthTelling * patch.area_m2)
      causes += (causes.empty() ? "" : "; ") + text(cause_message(site, cause));
  return causes;
}

std::string patch_words(const site::Site& site, const Patch& patch) {
  const Measure area = {patch.area_m2, "m2", 2};
  const std::string causes = causes_words(site, patch);
  if (causes.empty()) return text(say::patch_words_bare(area, metres(patch.inside.x), metres(patch.inside.y)));
  return text(say::patch_words(area, metres(patch.inside.x), metres(patch.inside.y), causes));
}

std::vector<std::string> patches_words(const site::Site& site, const std::vector<Patch>& patches, std::size_t most) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < patches.size() && i < most; ++i) words.push_back(patch_words(site, patches[i]));
  if (patches.size() > most) words.push_back(text(say::more_patches(static_cast<long long>(patches.size() - most))));
  return words;
}

const char* word(Why why) {
  switch (why) {
    case Why::base: break;
    case Why::hidden: return "hidden";
    case Why::left: return "left";
    case Why::right: return "right";
    case Why::above: return "above";
    case Why::below: return "below";
    case Why::behind: return "behind";
    case Why::too_far: return "too_far";
    case Why::too_near: return "too_near";
    case Why::masked: return "masked";
    case Why::dark: return "dark";
    case Why::other_level: return "other_level";
  }
  return "";
}

const char* word(ThingKind kind) {
  switch (kind) {
    case ThingKind::wall: return "wall";
    case ThingKind::opening: return "opening";
    case ThingKind::block: return "block";
    case ThingKind::stair: break;
  }
  return "stair";
}

}  // namespace zoneproof::sight
