#pragma once
#include <algorithm>
#include <string>
#include <string_view>

/// What blanked_data_test.cpp lets pass, each with its reason. A field is "Record.key".
namespace zoneproof::demo {

struct Exemption {
  std::string_view field;
  std::string_view reason;
};

/// Fields that no verdict of a chain rests on.
inline constexpr Exemption kRestsOnNothing[] = {
    {"Site.revision", "running number of the file"},
    {"Site.name", "words for people"},
    {"Site.note", "words for people"},
    {"Rulebook.name", "words for people"},
    {"Rulebook.version", "whether a newer one is on the shelf"},
    {"Rulebook.hash", "whether the copy was changed"},
    {"Rulebook.note", "words for people"},
    {"RuleEntry.clause", "where in its source the entry stands; the source itself is required"},
    {"StateRule.clause", "where in its source the entry stands; the source itself is required"},
    {"Part.name", "words for people"},
    {"Part.source", "words for people; the origin counts"},
    {"Part.note", "words for people"},
    {"Part.shelf_version", "whether a newer one is on the shelf"},
    {"Part.shelf_hash", "whether the copy was changed"},
    {"Area.name", "words for people"},
    {"Partition.name", "words for people"},
    {"Partition.number", "for people at the panel's keypad; zones and outputs name the partition by its id"},
    {"Cable.name", "words for people"},
    {"Supply.name", "words for people"},
    {"SupplyOutputSpec.name", "words for people"},
    {"Battery.name", "words for people"},
    {"Junction.name", "words for people"},
    {"Panel.name", "words for people"},
    {"Access.contract", "words for people"},
    {"Detector.name", "words for people"},
    {"Load.name", "words for people"},
    {"Output.name", "words for people"},
    {"Output.number", "for people at the panel's keypad; what uses the output names it by its id"},
    {"Unit.name", "words for people"},
    {"Bond.name", "words for people"},
    {"SharedReturn.name", "words for people"},
    {"Bond.core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Trigger.return_core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Trigger.core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Arming.core_colour", "which core it is; what it is electrically stands in the cable"},
    {"SharedReturn.core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Loop.return_core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Loop.core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Feed.return_core_colour", "which core it is; what it is electrically stands in the cable"},
    {"Feed.core_colour", "which core it is; what it is electrically stands in the cable"},
    {"PresetSpec.name", "words for people"},
    {"CableSpec.conductor_mm2", "for information: the resistance counts"},
    {"CableSpec.conductor_awg", "for information: the resistance counts"},
    {"CableSpec.material", "for information: the resistance counts, with its temperature coefficient"},
    {"CableSpec.insulation_Mohm_km", "when dry: what counts is the leakage of the cable as laid"},
    {"Bond.kind", "for information: the resistance counts"},
    {"ContactSpec.kind", "for information: resistances and ratings count"},
    {"DetectorSpec.technology", "for the coverage, which this version does not answer"},
    {"ContactSpec.without_supply", "for single faults, which ask for it (tests/electric/fault_dark_test.cpp)"},
    {"Unit.missed_by", "for single faults, which ask for it (tests/electric/fault_dark_test.cpp)"},
    {"Unit.poll_s", "for single faults, which ask for it (tests/electric/fault_dark_test.cpp)"},
    {"Unit.missed_zone", "for single faults, which ask for it (tests/electric/fault_dark_test.cpp)"},
    {"Supply.area", "for the drawing: its figures are stated over its temperatures"},
    {"Load.area", "for the drawing: its figures are stated over its temperatures"},
    {"DataLink.name", "words for people"},
    {"MainsBackup.name", "words for people"},
    {"MonitoringPath.name", "words for people"},
    {"Network.name", "words for people"},
    {"NetworkSwitch.name", "words for people"},
    {"Injector.name", "words for people"},
    {"Router.name", "words for people"},
    {"Uplink.name", "words for people"},
    {"MainsBackup.area", "for the drawing: its figures are stated over its temperatures"},
    {"NetworkSwitch.area", "for the drawing: its figures are stated over its temperatures"},
    {"Router.area", "for the drawing: its figures are stated over its temperatures"},
    {"Network.vlan", "for information: who reaches whom goes by addresses and routers"},
    {"Service.port", "for information: from where it is reached counts"},
    {"Service.transport", "for information: from where it is reached counts"},
    {"Stream.codec", "for information: rates and sizes count"},
    {"Partition.entry_s", "for the moments that the command clip tells (tests/timeline/alarm_log_test.cpp)"},
    {"Partition.exit_s", "for the moments that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"PanelSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"RouterSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"SwitchSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"InjectorSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"RecorderSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"UnitSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
    {"CameraSpec.boot_s", "for the restart that the command clip tells (tests/timeline/arming_edge_test.cpp)"},
};

/// Unknown, these are taken from the rulebook as a generous range ("envelope"), on which a verdict may be proven.
inline constexpr Exemption kEnvelopeStandsIn[] = {
    {"Area.temperature_min_degC", "area_temperature_degC"},
    {"Area.temperature_max_degC", "area_temperature_degC"},
    {"Cable.areas", "area_temperature_degC"},
    {"Panel.area", "area_temperature_degC"},
    {"Detector.area", "area_temperature_degC"},
    {"Unit.area", "area_temperature_degC"},
    {"Battery.area", "area_temperature_degC"},
    {"Cable.joint_ohm", "joint_ohm"},
    {"Cable.leakage_ohm", "leakage_ohm"},
};

/// Data that a verdict ought to rest on and that are passed over where they are unknown; what is missing is said.
inline constexpr Exemption kNotReadYet[] = {
    {"CableSpec.cores", "nothing counts the conductors that a cable is used for against those that it has"},
    {"Output.follows_part_set", "the file does not tell which zones stay armed in part-set"},
};

/// Of the building and what looks at it: fields that count nowhere, or not at the first place where they stand in the
/// demo sites, or of which it has not been tried. Records end in a point: all of their fields.
inline constexpr Exemption kOfTheScene[] = {
    {"FloorLevel.name", "words for people"},
    {"Wall.name", "words for people"},
    {"Opening.name", "words for people"},
    {"Block.name", "words for people"},
    {"Stair.name", "words for people"},
    {"ProtectedPlace.name", "words for people"},
    {"PrivacyArea.name", "words for people"},
    {"Camera.name", "words for people"},
    {"Block.kind", "for the drawing: outline, heights and fill count"},
    {"Opening.kind", "for the drawing: what closes it and its state count"},
    {"Mount.roll_deg", "counts for cameras; a detector hangs upright by its sheet"},
    {"Camera.lens", "counts where no lens is built in"},
    {"Camera.focal_mm", "counts where a lens can be set"},
    {"Channel.unit", "counts for the channels of a zone's own triggers"},
    {"Channel.number", "counts for the channels of a zone's own triggers"},
    {"Channel.camera", "counts for the channels of a zone's own triggers"},
    {"Channel.live_only", "counts for the channels of a zone's own triggers"},
    {"Channel.recorder", "for the network, which this version does not answer"},
    {"Channel.recorder_channel", "for the network, which this version does not answer"},
    {"Recorder.", "for the network, which this version does not answer"},
    {"PatternSpec.mount_min_m", "without it nothing is said of the mounting height, though it ought to be asked for"},
    {"PatternSpec.mount_max_m", "without it nothing is said of the mounting height, though it ought to be asked for"},
    {"ProtectedPlace.opening", "not tried"},
    {"ProtectedPlace.zone", "asked for as /protected_places"},
    {"PatternSpec.shape", "asked for as the pattern"},
    {"PictureMask.", "not tried"},
    {"PicturePoint.", "not tried"},
    {"LensSpec.focal", "of a fixed lens the camera's focal_mm is asked for"},
    {"LensSpec.k", "not tried here: tests/sight/camera_of_site_test.cpp"},
    {"LensSpec.p1", "not tried here: tests/sight/camera_of_site_test.cpp"},
    {"LensSpec.p2", "not tried here: tests/sight/camera_of_site_test.cpp"},
    {"LensSpec.near_m", "not tried here: tests/sight/camera_of_site_test.cpp"},
    {"CameraSpec.infrared_reach_m", "not tried"},
    {"Camera.infrared_reach_m", "not tried"},
    {"Wall.transmission_pct", "not tried"},
    {"Opening.transmission_pct", "not tried"},
    {"Block.transmission_pct", "not tried"},
    {"Reach.width_m", "not tried"},
    {"Detector.opening", "not tried"},
    {"Detector.panes", "not tried"},
    {"Trigger.more_channels", "a channel more: without it less is witnessed"},
    {"RulebookChoice.view_rule", "not tried"},
    {"Detector.zone", "of one without a loop: where it is counts, its circuit does not"},
};

/// Without these it is not known which checks are to be made, so some are gone; the datum is asked for all the same.
inline constexpr Exemption kDecidesWhatIsAsked[] = {
    {"Trigger.source", "each source has checks of its own; source_possible asks for it"},
    {"Trigger.zone", "it is not known whose trigger it is; trigger_present asks for it"},
    {"Trigger.unit", "what its unit rests on belongs to no chain then"},
    {"Trigger.at_panel", "against the negative of which panel the unit's is shifted"},
    {"Detector.part", "for which heights its pattern is given"},
    {"Unit.part", "the states that its inputs are to tell apart"},
    {"Zone.medium", "a zone without wires has no loop to be read"},
    {"Zone.number", "whether its name is its own: by its number it is told apart"},
    {"Panel.zone_terminal", "what the windows of the terminal call each state"},
    {"Supply.part", "which outputs it has"},
    {"Battery.supply", "see above"},
    {"LoopContact.role", "which state a contact makes"},
    {"Trigger.channel", "which clip it is, and so what that passes"},
    {"Address.device", "whose address it is"},
    {"Address.network", "what the network asks of it"},
    {"Camera.powered_by", "what gives its power"},
    {"DataLink.a", "which links a packet takes"},
    {"DataLink.b", "which links a packet takes"},
    {"Stream.to", "which links it takes"},
    {"MonitoringPath.uplink", "what the uplink rests on"},
    {"Unit.monitoring", "what its path and uplink rest on"},
    {"Uplink.router", "which links lead to it"},
    {"Uplink.powered_by", "what its power rests on"},
};

/// Checks that say nothing while a level that they compare is unknown: the level itself asks for what is missing.
inline constexpr Exemption kGoneWithALevel[] = {
    {"disturbance", "compares the panel's margin with and without the trigger wire"},
    {"input_limits", "of a level at the unit's input"},
};

/// What is asked for is not the datum itself but what stands on it.
inline constexpr Exemption kAskedForElsewhere[] = {
    {"Site.origin", "the numbers without an origin of their own are asked for"},
    {"RulebookChoice.grade", "the entries of the rulebook that the grade chooses are asked for"},
    {"UnitSpec.power_W", "current_A is asked for: the sheet has either"},
    {"Zone.zone_terminal", "left out, the input is like the panel's others"},
    {"Bond.cable", "resistance_ohm is asked for: either tells"},
    {"Address.device", "the addresses of the device are asked for"},
    {"DataLink.a", "the data links of what it led to are asked for"},
    {"DataLink.b", "the data links of what it led to are asked for"},
    {"ContactSpec.at_rest", "the detector of the contact on the loop is asked for"},
};

/// Fields that count in one place and not in another; where one of the demo sites has such a place, it is taken out
/// there.
struct Place {
  std::string_view field;
  std::string_view where;  ///< site and pointer; empty: neither site has one
  std::string_view reason;
};
inline constexpr Place kCountsInPlaces[] = {
    {"Part.origin", "", "where its numbers have no origin of their own and the site has none to give"},
    {"OutputSpec.clamp_forward_V", "tern-hollow/parts/output_open_collector_100ma/output/clamp_forward_V",
     "where output and unit have one supply, nothing lifts its screw above the panel's rail"},
    {"OutputSpec.clamp_max_A", "", "where current flows into a dead panel"},
    {"ContactSpec.max_V", "tern-hollow/parts/receiver_relay_4/detector/contacts/relay1/max_V",
     "a contact that triggers; in a loop the terminal's own few milliamperes flow"},
    {"ContactSpec.max_A", "tern-hollow/parts/receiver_relay_4/detector/contacts/relay1/max_A",
     "a contact that triggers; in a loop the terminal's own few milliamperes flow"},
    {"UnitInputSpec.clamp_on_ohm", "", "where there are clamps"},
    {"UnitInputSpec.inner_rail_V", "", "where a pull-up or clamps lead to it"},
    {"UnitInputSpec.inner_rail_load_ohm", "", "where a pull-up or clamps lead to it"},
    {"ZoneTerminalSpec.series_ohm", "", "where the measuring input behind it draws current"},
    {"Output.partition_rule", "", "where an output follows several partitions"},
    {"Service.encrypted", "", "where it is reached from beyond its own network"},
    {"Network.pool_first", "", "in a network of the clips that has a pool"},
    {"Network.pool_last", "", "in a network of the clips that has a pool"},
    {"SwitchSpec.ports", "", "where more links end at it than it has"},
    {"CameraSpec.analytics_s", "", "where a camera's own analytics trigger"},
    {"UnitSpec.network_triggers", "", "where a camera's own analytics trigger"},
    {"Uplink.power_W", "", "where the modem stands by itself"},
    {"Zone.doubled_with", "tern-hollow/zones/z4/doubled_with", "where the zone has no loop of its own"},
};

inline bool of_the_scene(std::string_view field) {
  return std::any_of(std::begin(kOfTheScene), std::end(kOfTheScene),
                     [&](const Exemption& e) { return field.substr(0, e.field.size()) == e.field; });
}

template <std::size_t N>
bool listed(const Exemption (&list)[N], const std::string& field) {
  return std::any_of(std::begin(list), std::end(list), [&](const Exemption& e) { return e.field == field; });
}

}  // namespace zoneproof::demo
