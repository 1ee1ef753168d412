#pragma once
#include "handover/findings.hpp"
#include "paper/blocks.hpp"

/// What the file rests on: cautions, silent faults, rules and parts with their sources.
namespace zoneproof::handover {

/// What can hurt people or go wrong for good, and what the paper is not.
paper::Chapter cautions_chapter();

/// Faults that nobody would notice, what each takes, and of what that is open; what is lost without any fault first.
paper::Chapter faults_chapter(const Findings& findings);

/// Every entry of the rulebook in force and every part that the site uses, with source and whether it was verified; how
/// many were not.
paper::Chapter rules_chapter(const Findings& findings);

}  // namespace zoneproof::handover
