// Every field of a rulebook: key (the member's name), meaning. See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

namespace {
// An entry's number is in the unit that the entry names, so its plausible range cannot be told here.
constexpr double kAnything = 1e15;
}  // namespace

template <>
const Record& record_of<RulePoint>() {
  using Here = RulePoint;
  static const Record record = {
      "RulePoint",
      "One row of a table entry; between rows it is interpolated linearly, beyond them it is not extended.",
      {FIELD(at).range(-kAnything, kAnything).needed().means("The argument, in the entry's at_unit."),
       FIELD(value).range(-kAnything, kAnything).needed().means("The entry's value there, in its unit.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<RuleEntry>() {
  using Here = RuleEntry;
  static const Record record = {
      "RuleEntry",
      "A limit, an envelope or a choice, with its source.",
      {FIELD(value).range(-kAnything, kAnything).means("The number, or the range of an envelope, in the entry's unit."),
       FIELD(points).at_most(kMostRulePoints).means("A table instead of one value, in rising order of `at`."),
       FIELD(at_unit).as(TextForm::line, 20).means("Unit of a table's argument."),
       FIELD(unit).as(TextForm::line, 20).needed().means("Unit of the value: V, h, ohm, pct, or 1 for a pure number."),
       FIELD(meaning).as(TextForm::lines, 1000).needed().means("What the entry says, in one sentence."),
       FIELD(source)
           .as(TextForm::lines, 1000)
           .needed()
           .means("The standard or table that it is taken from, or \"common practice, no source\"."),
       FIELD(clause).means("Clause or page of the source."),
       FIELD(verified).needed().means(
           "Whether somebody has checked it against the source itself; where not, the verdict says so.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<StateRule>() {
  using Here = StateRule;
  static const Record record = {
      "StateRule",
      "Whether a state of a zone must start the video.",
      {FIELD(trigger).needed().means("Whether the unit must take this state as an alarm, must not, or may do either."),
       FIELD(source)
           .as(TextForm::lines, 1000)
           .needed()
           .means("The standard that asks for it, or \"common practice, no source\"."),
       FIELD(clause).means("Clause or page of the source."),
       FIELD(verified).needed().means("Whether somebody has checked it against the source itself.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Rulebook>() {
  using Here = Rulebook;
  static const Record record = {
      "Rulebook",
      "Acceptance limits, envelopes and choices with their sources.",
      {FIELD(name).means("What people call this rulebook."), FIELD(version).means("Version of this rulebook."),
       FIELD(hash).as(TextForm::sha256, 64).means("SHA-256 of the shelf's rulebook when it was copied into the site."),
       FIELD(note).as(TextForm::lines, 4000).means("Anything worth knowing, in words."),
       FIELD(entries).at_most(kMostRuleEntries).keyed_by(IdForm::entry).means("Limits and envelopes, by id."),
       FIELD(states).at_most(kMostRuleEntries).means("How each state of a zone is classed, by the word of the state.")},
      sizeof(Here),
      Origin::envelope};
  return record;
}

template <>
const Record& record_of<RulebookFile>() {
  using Here = RulebookFile;
  static const Record record = {
      "RulebookFile",
      "A file of one rulebook.",
      {FIELD(version).range(kRulebookVersion, kRulebookVersion).needed().means("Version of the file format."),
       FIELD(id).as(TextForm::identifier, 40).needed().means("The rulebook's id."),
       FIELD(rulebook).needed().means("The rulebook itself.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
