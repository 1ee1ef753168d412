// Every field of the site file: key (the member's name), plausible range, meaning, references. See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

template <>
const Record& record_of<Area>() {
  using Here = Area;
  static const Record record = {"Area",
                                "A part of the premises with its own temperatures.",
                                {FIELD(name).means("What people call this area."),
                                 FIELD(temperature_min_degC)
                                     .range(kColdest, kHottest)
                                     .means("Lowest air temperature in this area over the year."),
                                 FIELD(temperature_max_degC)
                                     .range(kColdest, kHottest)
                                     .means("Highest air temperature in this area over the year.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<Partition>() {
  using Here = Partition;
  static const Record record = {"Partition",
                                "A group of zones that is armed and disarmed together.",
                                {FIELD(name).means("What people call this partition."),
                                 FIELD(number).range(0, 999).means("The partition's number as the panel shows it."),
                                 FIELD(entry_s)
                                     .range(0, kMostSeconds)
                                     .or_none()
                                     .means("Time to disarm after an entry zone trips, as set in the panel; none where "
                                            "no entry zone is in it."),
                                 FIELD(exit_s)
                                     .range(0, kMostSeconds)
                                     .or_none()
                                     .means("Time to leave after arming, as set in the panel; none where it arms at "
                                            "once.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<Cable>() {
  using Here = Cable;
  static const Record record = {
      "Cable",
      "A run of cable between two ends.",
      {FIELD(name).means("What people call this cable, e.g. its label."),
       FIELD(part).to_part({PartKind::cable}).means("The kind of cable, from the parts of this site."),
       FIELD(length_m).range(0, 5000).means("Length of the run, one way."),
       FIELD(areas)
           .to({"areas"})
           .at_most(kMostAreasOfCable)
           .means("The areas it runs through; their temperatures change its resistance."),
       FIELD(cores_in_parallel).range(1, 50).means("Cores that are joined to make one conductor."),
       FIELD(joints).range(0, 1000).means("Terminations and splices of one conductor, both ends included."),
       FIELD(joint_ohm).range(0, 1e6).means("Resistance of each joint; left out, the rulebook's envelope counts."),
       FIELD(leakage_ohm)
           .range(0, kMostOhms)
           .or_none()
           .means("Resistance between the cores of the whole run; none where it is known to be dry; left out, the "
                  "rulebook's "
                  "envelope counts.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Feed>() {
  using Here = Feed;
  static const Record record = {
      "Feed",
      "How something gets its supply: from an output of a supply, or from a junction, over a cable.",
      {FIELD(from)
           .to({"supplies", "junctions"})
           .or_none()
           .means("The supply or junction that feeds it; none where it needs no supply."),
       FIELD(output)
           .as(TextForm::identifier, 40)
           .means("Which output of the supply, by its id in the supply's part; left out when fed from a junction."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable of this feed; none where both stand in the same enclosure."),
       FIELD(fuse_A)
           .range(0.001, kMostAmperes)
           .or_none()
           .means("Rating of the fuse in the positive conductor of this feed; none where there is no fuse."),
       FIELD(core_colour).as(TextForm::core_colours, kLongestColours).means("Colour of the positive core."),
       FIELD(return_core_colour).as(TextForm::core_colours, kLongestColours).means("Colour of the negative core.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Battery>() {
  using Here = Battery;
  static const Record record = {
      "Battery",
      "A battery as it is installed.",
      {FIELD(name).means("What people call this battery."),
       FIELD(part).to_part({PartKind::battery}).means("The kind of battery, from the parts of this site."),
       FIELD(supply).to({"supplies"}).means("The supply that it backs up."),
       FIELD(area).to({"areas"}).means("Where it stands; its temperature changes capacity and life."),
       FIELD(blocks_in_parallel).range(1, 20).means("Equal blocks that are joined in parallel."),
       FIELD(age_years).range(0, 40).means("Years since it was new.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Supply>() {
  using Here = Supply;
  static const Record record = {
      "Supply",
      "A power supply as it is installed; a panel's auxiliary supply is one too.",
      {FIELD(name).means("What people call this supply."),
       FIELD(part).to_part({PartKind::supply}).means("The kind of supply, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."),
       FIELD(loads_complete).means("Whether everything that it feeds is in this file."),
       FIELD(batteries_complete).means("Whether every battery on it is in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Junction>() {
  using Here = Junction;
  static const Record record = {
      "Junction",
      "A point where several loads share one cable from the supply.",
      {FIELD(name).means("What people call this junction."), FIELD(feed).means("What feeds the junction.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Access>() {
  using Here = Access;
  static const Record record = {
      "Access",
      "What may be changed in the panel, and by whom.",
      {FIELD(installer_code).means("Whether the installer code is known; the code itself never stands in this file."),
       FIELD(free_outputs).means("Whether it is known which programmable outputs are free."),
       FIELD(contract).means("Who maintains the panel, in words."),
       FIELD(locked).means("Whether the panel is locked against programming.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<OutputFound>() {
  using Here = OutputFound;
  static const Record record = {"OutputFound",
                                "What is known of one of the programmable outputs of a panel.",
                                {FIELD(use).means("Whether nothing uses it."),
                                 FIELD(note).as(TextForm::lines, 4000).means("What it is used for, in words.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<Panel>() {
  using Here = Panel;
  static const Record record = {
      "Panel",
      "An alarm panel or one of its expanders.",
      {FIELD(name).means("What people call this panel or expander."),
       FIELD(part).to_part({PartKind::panel, PartKind::expander}).means("The kind of panel or expander."),
       FIELD(area).to({"areas"}).means("Where it hangs."), FIELD(feed).means("What feeds it."),
       FIELD(zone_terminal)
           .to_part({PartKind::zone_terminal})
           .means("What its zone inputs are electrically, from the parts of this site."),
       FIELD(access).means("What may be changed in it, and by whom."),
       FIELD(outputs_found)
           .at_most(kMostOutputsOfPanel)
           .means("What is known of its programmable outputs, by their ids in the part: which are free.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<ContactProgram>() {
  using Here = ContactProgram;
  static const Record record = {"ContactProgram",
                                "What a programmable contact is programmed to, as read off the receiver.",
                                {FIELD(reports).means("What it is programmed to report."),
                                 FIELD(zone).to({"zones"}).means("The zone whose state moves this contact.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<Detector>() {
  using Here = Detector;
  static const Record record = {
      "Detector",
      "A detector, contact or button as it is installed.",
      {FIELD(name).means("What people call this detector."),
       FIELD(part).to_part({PartKind::detector}).means("The kind of detector, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it hangs."),
       FIELD(feed).means("What feeds it; its `from` is none where it needs no supply."),
       FIELD(zone).to({"zones"}).means("Where none of its contacts stands in a loop, as with a wireless or addressable "
                                       "one: the zone that it is of."),
       FIELD(programmed)
           .at_most(kMostContactsOfPart)
           .means("Of a receiver: what its programmable contacts are programmed to, by their ids in the part."),
       FIELD(mount).means("Where it is fixed and which way it looks; of a beam, its transmitter."),
       FIELD(watched)
           .at_most(kMostPointsOfPath)
           .means(
               "The floor that it watches, as somebody drew it; left out, its part's pattern counts where it hangs."),
       FIELD(opening).to({"openings"}).means("Of a contact, curtain or shock sensor: the opening that it guards."),
       FIELD(panes)
           .to({"openings"})
           .at_most(kMostWindows)
           .means("Of a glass-break detector: the panes it is there for."),
       FIELD(beam_to).means("Of a beam: where its other end is fixed.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Load>() {
  using Here = Load;
  static const Record record = {
      "Load",
      "Any other consumer on a supply: keypad, sounder, dialler.",
      {FIELD(name).means("What people call it."),
       FIELD(part)
           .to_part({PartKind::load, PartKind::relay, PartKind::optocoupler})
           .means("The kind of consumer, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it stands."), FIELD(feed).means("What feeds it.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<LoopContact>() {
  using Here = LoopContact;
  static const Record record = {
      "LoopContact",
      "One contact on a loop.",
      {FIELD(detector).to({"detectors"}).means("The detector whose contact it is."),
       FIELD(contact).as(TextForm::identifier, 40).means("Which contact, by its id in the detector's part."),
       FIELD(role).means(
           "What the contact reports on this loop; in a zone of type tamper, a tamper contact gives the alarm."),
       FIELD(zone).to({"zones"}).means("On a loop with two zones: the zone that this contact belongs to."),
       FIELD(shunt_ohm).range(0, 1e7).or_none().means(
           "Resistor across this contact alone; none where it has no resistor of its own.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Loop>() {
  using Here = Loop;
  static const Record record = {
      "Loop",
      "The pair of wires from a zone terminal, with its contacts and resistors.",
      {FIELD(arrangement).means("How contacts and resistors stand on the pair."),
       FIELD(eol_ohm).range(0, 1e7).means("The end-of-line resistor."),
       FIELD(alarm_ohm).range(0, 1e7).means(
           "The alarm resistor: across all alarm contacts that have no resistor of their own."),
       FIELD(mask_ohm).range(0, 1e7).means("The mask resistor of a triple end-of-line loop, across the mask contacts."),
       FIELD(second_alarm_ohm)
           .range(0, 1e7)
           .means("On a loop with two zones: the alarm resistor of the other zone's contacts."),
       FIELD(eol_place).means("Where the end-of-line resistor really sits."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable of the pair; none where the contact is in the panel's own enclosure."),
       FIELD(shared_return)
           .to({"shared_returns"})
           .or_none()
           .means("The return conductor that it shares with other loops; none where it has a core of its own."),
       FIELD(core_colour)
           .as(TextForm::core_colours, kLongestColours)
           .means("Colour of the core that goes to the zone's input."),
       FIELD(return_core_colour)
           .as(TextForm::core_colours, kLongestColours)
           .means("Colour of the core that is the way back; left out where the way back is shared."),
       FIELD(contacts).at_most(kMostContactsOfLoop).means("The contacts on the loop, by an id of your choice."),
       FIELD(contacts_complete).means("Whether every contact on the loop is in this file.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<SharedReturn>() {
  using Here = SharedReturn;
  static const Record record = {
      "SharedReturn",
      "One conductor that several loops use as their way back to the panel.",
      {FIELD(name).means("What people call it."),
       FIELD(panel).to({"panels"}).means("The panel or expander that it returns to."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable, one core of which is the return; none where it is a link inside the panel."),
       FIELD(core_colour).as(TextForm::core_colours, kLongestColours).means("Colour of that core.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Zone>() {
  using Here = Zone;
  static const Record record = {
      "Zone",
      "A zone of the panel.",
      {FIELD(number).range(0, 99999).means("The zone's number as the panel shows it."),
       FIELD(name).means("The zone's name as the panel shows it."), FIELD(type).means("How the panel treats the zone."),
       FIELD(partition).to({"partitions"}).means("The partition that it belongs to."),
       FIELD(medium).means("How the zone reaches the panel."),
       FIELD(panel).to({"panels"}).means("The panel or expander whose input it is."),
       FIELD(input).range(1, 99999).means("The number of that input, counted from 1."),
       FIELD(zone_terminal)
           .to_part({PartKind::zone_terminal})
           .means("What this input is electrically, where it differs from the panel's other inputs."),
       FIELD(doubled_with)
           .to({"zones"})
           .or_none()
           .means("The other zone on the same pair of wires; the loop is described there."),
       FIELD(loop).means("The pair of wires, contacts and resistors of a wired zone.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Output>() {
  using Here = Output;
  static const Record record = {
      "Output",
      "A programmable output of a panel or expander that is used for the video.",
      {FIELD(name).means("What people call this output."),
       FIELD(panel).to({"panels"}).means("The panel or expander that it belongs to."),
       FIELD(number).range(0, 9999).means("The output's number as the panel shows it."),
       FIELD(part).to_part({PartKind::output}).means("The kind of output, from the parts of this site."),
       FIELD(follows).means("What the output is programmed to follow."),
       FIELD(zone).to({"zones"}).means("The zone that it follows, where it follows the state of a zone."),
       FIELD(partitions)
           .to({"partitions"})
           .at_most(kMostPartitions)
           .means("The partitions that it follows, where it follows arming."),
       FIELD(partition_rule).means("Whether one armed partition is enough or all of them are needed."),
       FIELD(follows_part_set).means("Whether it counts part-set as armed."),
       FIELD(moment).means("Whether it switches at the start or at the end of the exit time."),
       FIELD(active_when).means("When the output conducts, is switched on or has its relay energised."),
       FIELD(relay_contact_used).means("Relay: which contact is wired, by its position with the relay released."),
       FIELD(mode).means("Whether the output holds its level or gives a pulse."),
       FIELD(hold_s)
           .range(0, kMostSeconds)
           .or_none()
           .means("Shortest time that the output stays active; none where it lasts only as long as what it follows.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Arming>() {
  using Here = Arming;
  static const Record record = {
      "Arming",
      "How a unit learns whether the system is armed.",
      {FIELD(output).to({"outputs"}).or_none().means("The output that tells the unit; none where nothing is wired."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable from the output to the unit's arming input; none where both stand in the same enclosure."),
       FIELD(pullup_ohm)
           .range(0, 1e8)
           .or_none()
           .means("Resistor fitted at the unit's arming input; none where none is fitted."),
       FIELD(pullup_to).means("Where that resistor goes: high to the unit's supply positive, low to its negative."),
       FIELD(armed_level).means("Which level the unit is set to take as armed."),
       FIELD(core_colour)
           .as(TextForm::core_colours, kLongestColours)
           .means("Colour of the core to the unit's arming input.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Unit>() {
  using Here = Unit;
  static const Record record = {
      "Unit",
      "An interface unit with trigger inputs, an arming input and video channels.",
      {FIELD(name).means("What people call this unit."),
       FIELD(part).to_part({PartKind::unit}).means("The kind of unit, from the parts of this site."),
       FIELD(area).to({"areas"}).means("Where it hangs."), FIELD(feed).means("What feeds it."),
       FIELD(arming).means("How it learns whether the system is armed."),
       FIELD(missed_by).means(
           "Who sees that the unit is gone, by what was set up and tried; the station polls it, a zone of the panel "
           "shows it, or nobody does."),
       FIELD(poll_s)
           .range(0, kLongestPoll)
           .means("Missed by the station: longest time until it reports the unit as missing."),
       FIELD(missed_zone)
           .to({"zones"})
           .means("Missed by a zone: the zone that shows it, by a contact that the unit holds while it runs."),
       FIELD(clip).means("What it keeps and sends of channels that come straight from a camera."),
       FIELD(clock).means("How it knows the time."),
       FIELD(monitoring).to({"monitoring_paths"}).means("The way by which its clips reach the operator.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<InputSetting>() {
  using Here = InputSetting;
  static const Record record = {
      "InputSetting",
      "What is set in the unit for one trigger input.",
      {FIELD(preset).as(TextForm::identifier, 40).means("The preset chosen, by its id in the unit's part."),
       FIELD(normal_min_V)
           .range(-kMostVolts, kMostVolts)
           .or_none()
           .means("Lower end of the normal range; none where it is open on that side."),
       FIELD(normal_max_V)
           .range(-kMostVolts, kMostVolts)
           .or_none()
           .means("Upper end of the normal range; none where it is open on that side."),
       FIELD(alarm_min_V)
           .range(-kMostVolts, kMostVolts)
           .or_none()
           .means("Lower end of the alarm range; left out with its upper end, everything that is not normal is alarm."),
       FIELD(alarm_max_V)
           .range(-kMostVolts, kMostVolts)
           .or_none()
           .means("Upper end of the alarm range; left out with its lower end, everything that is not normal is alarm."),
       FIELD(zone_number).range(0, 99999).means("The zone number as typed into the unit."),
       FIELD(zone_name).means("The zone name as typed into the unit."),
       FIELD(zone_type).means("The zone type as set in the unit."),
       FIELD(at_any_hour)
           .means(
               "Whether the unit acts on this input also while it is disarmed, as a zone needs that alarms at any hour "
               "(hold-up, 24-hour, tamper).")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Trigger>() {
  using Here = Trigger;
  static const Record record = {
      "Trigger",
      "The wire from one zone to one input of a unit, with what feeds it.",
      {FIELD(zone).to({"zones"}).or_none().means(
           "The zone that it reports; none for a channel that is live view only."),
       FIELD(source).means("Where the trigger comes from."),
       FIELD(unit).to({"units"}).means("The unit that it goes to."),
       FIELD(input).range(1, 999).means("The unit's trigger input, counted from 1."),
       FIELD(channel).range(1, 999).means("The unit's video channel, counted from 1."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable of the trigger wire; none where both stand in the same enclosure."),
       FIELD(at_panel).to({"panels"}).means("Loop tap: the panel or expander whose terminal it is really wired to."),
       FIELD(at_input).range(1, 99999).means("Loop tap: the number of the input that it is really wired to."),
       FIELD(detector).to({"detectors"}).means("Spare contact or receiver's relay: the device whose contact it is."),
       FIELD(contact).as(TextForm::identifier, 40).means("Which contact, by its id in the detector's part."),
       FIELD(contact_to)
           .means("What the contact of a detector or of a relay output switches the input to: high the unit's supply "
                  "positive, low its negative."),
       FIELD(output).to({"outputs"}).means("Following output: the output that is wired to the input."),
       FIELD(series_ohm).range(0, 1e8).or_none().means("Resistor put into the trigger wire; none where there is none."),
       FIELD(pulldown_ohm)
           .range(0, 1e8)
           .or_none()
           .means("Resistor from the input to the unit's negative; none where there is none."),
       FIELD(pullup_ohm)
           .range(0, 1e8)
           .or_none()
           .means("Resistor from the input to the unit's supply positive; none where there is none."),
       FIELD(setting).means("What is set in the unit for this input."),
       FIELD(more_channels)
           .to({"channels"})
           .at_most(kMostViewsOfTrigger)
           .means("Channels that are clipped beside `channel` when it trips."),
       FIELD(region)
           .at_most(kMostPointsOfPath)
           .means("Camera analytics: the floor on which a person trips it, on the camera's level."),
       FIELD(core_colour).as(TextForm::core_colours, kLongestColours).means("Colour of the trigger wire's core."),
       FIELD(return_core_colour)
           .as(TextForm::core_colours, kLongestColours)
           .means("Colour of the second core of a contact without potential.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Bond>() {
  using Here = Bond;
  static const Record record = {
      "Bond",
      "Something that joins the negatives of two things.",
      {FIELD(name).means("What people call it."), FIELD(kind).means("What joins them."),
       FIELD(a).to({"supplies", "panels", "units"}).means("One end: whose negative."),
       FIELD(b).to({"supplies", "panels", "units"}).means("The other end: whose negative."),
       FIELD(cable)
           .to({"cables"})
           .or_none()
           .means("The cable, one conductor of which joins them; none where resistance_ohm tells."),
       FIELD(resistance_ohm).range(0, 1e9).means("Resistance of the bond, where no cable tells it."),
       FIELD(core_colour).as(TextForm::core_colours, kLongestColours).means("Colour of the core that joins them.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<RulebookChoice>() {
  using Here = RulebookChoice;
  static const Record record = {"RulebookChoice",
                                "The rulebook that this site is judged by.",
                                {FIELD(book).to({"rulebooks"}).means("The rulebook, from the rulebooks of this site."),
                                 FIELD(grade).range(1, 9).means("The grade, where the rulebook has grades."),
                                 FIELD(view_rule)
                                     .as(TextForm::identifier, 40)
                                     .means("How large a person has to be in the picture: the entry of the rulebook "
                                            "that says it, in pixels per metre or as a share of the picture's "
                                            "height.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<Site>() {
  using Here = Site;
  static const Record record = {
      "Site",
      "What is installed on one site. Ids are unique in the site; those of parts and of rulebooks among themselves, "
      "those inside an object (contacts of a loop, outputs of a part) in that object.",
      {FIELD(version).range(kSiteVersion, kSiteVersion).needed().means("Version of the file format."),
       FIELD(revision).range(0, 1e15).means("Running number of this state of the site."),
       FIELD(name).means("What people call this site."),
       FIELD(note).as(TextForm::lines, 4000).means("Anything worth knowing, in words."),
       FIELD(origin).means("Where the numbers come from that state no origin and stand in no part with one."),
       FIELD(rulebook).means("The rulebook that this site is judged by."),
       FIELD(bonds_complete).means("Whether everything that joins negatives is in this file."),
       FIELD(rulebooks)
           .at_most(kMostRulebooks)
           .means("The rulebooks used, copied from the shelf with version and hash."),
       FIELD(parts)
           .at_most(kMostParts)
           .means("The parts used, copied from the shelf with version and hash, or your own."),
       FIELD(areas).at_most(kMostAreas).means("Areas with their temperatures."),
       FIELD(partitions).at_most(kMostPartitions).means("Partitions of the panel."),
       FIELD(cables).at_most(kMostCables).means("Runs of cable."),
       FIELD(supplies).at_most(kMostSupplies).means("Power supplies, panel auxiliary supplies included."),
       FIELD(batteries).at_most(kMostSupplies).means("Batteries."),
       FIELD(junctions).at_most(kMostZones).means("Points where several loads share one cable from the supply."),
       FIELD(panels).at_most(kMostPanels).means("Panels and expanders."),
       FIELD(detectors).at_most(kMostDetectors).means("Detectors, contacts and buttons."),
       FIELD(loads).at_most(kMostZones).means("Other consumers on the supplies."),
       FIELD(zones).at_most(kMostZones).means("Zones of the panel."),
       FIELD(shared_returns).at_most(kMostZones).means("Return conductors that several loops share."),
       FIELD(outputs).at_most(kMostZones).means("Programmable outputs that are used for the video."),
       FIELD(units).at_most(kMostUnits).means("Interface units."),
       FIELD(triggers).at_most(kMostZones).means("Trigger wires from zones to inputs of units."),
       FIELD(bonds).at_most(kMostPanels).means("What joins the negatives."),
       FIELD(levels).at_most(kMostFloors).means("Floors of the building."),
       FIELD(walls).at_most(kMostWalls).means("Upright screens along a path: walls, fences, glass partitions."),
       FIELD(openings).at_most(kMostWalls).means("Doors, windows, shutters and gaps in the walls."),
       FIELD(blocks)
           .at_most(kMostBlocks)
           .means("Bodies with an outline: columns, racking, counters, shelves, machines."),
       FIELD(stairs).at_most(kMostPlaces).means("Straight flights of stairs."),
       FIELD(protected_places).at_most(kMostPlaces).means("Areas and openings where somebody is to be detected."),
       FIELD(privacy_areas).at_most(kMostPlaces).means("Areas that no camera may show."),
       FIELD(cameras).at_most(kMostCameras).means("Cameras as they are mounted."),
       FIELD(recorders).at_most(kMostCameras).means("What keeps the pictures of several cameras."),
       FIELD(channels).at_most(kMostCameras).means("Video channels of the units, and which camera is on each."),
       FIELD(switches).at_most(kMostNetworkBoxes).means("Network switches."),
       FIELD(injectors).at_most(kMostNetworkBoxes).means("Boxes that add power to one data link."),
       FIELD(routers).at_most(kMostNetworkBoxes).means("What joins the networks, and them with the outside."),
       FIELD(uplinks).at_most(kMostNetworkBoxes).means("Ways out of the site."),
       FIELD(backups).at_most(kMostSupplies).means("Supplies of mains voltage with their own battery."),
       FIELD(data_links).at_most(kMostCables).means("Runs of data cable between two ports."),
       FIELD(networks).at_most(kMostNetworkBoxes).means("Networks in the sense of addresses."),
       FIELD(addresses).at_most(kMostCameras).means("Addresses of the devices."),
       FIELD(monitoring_paths).at_most(kMostUnits).means("Ways by which clips reach the operator.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
