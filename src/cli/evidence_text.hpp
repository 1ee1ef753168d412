#pragma once
#include <string>

#include "chain/evidence.hpp"
#include "cli/screen.hpp"
#include "site/model.hpp"

namespace zoneproof::cli {

/// One piece of evidence in full: verdict and link, the sentence, margin against what is asked, condition, corner,
/// where the limit comes from and whether it is verified, what is missing, remedies. Parts that it does not have are
/// left out.
void print_evidence(Screen& screen, const site::Site& site, const chain::Evidence& evidence);

/// Verdict, link and sentence alone, and where the rest was told before.
void print_evidence_again(Screen& screen, const chain::Evidence& evidence, const std::string& told_at);

/// Whether it only says that this version has no answer: told once for a site, not once for a zone.
bool of_later_version(const chain::Evidence& evidence);

/// What makes an extreme, as a person calls it: "Panel supply, voltage at which the battery is cut off: 10.2 V; cable
/// Keypad, each core: 0.898 ohm". Equal ones stand once; of more than `most` the number of the others is told.
std::string corner_words(const site::Site& site, const std::vector<chain::CornerValue>& corner, std::size_t most);

/// What is missing, and why: "source_V of part x: not known".
std::string gap_words(const site::Site& site, const chain::Gap& gap);

/// "cable Keypad, each core", "Panel supply, voltage at which the battery is cut off": what is changed there.
std::string corner_place_words(const site::Site& site, const std::string& pointer);

/// "length_m of cable trunk": a place in the file, with the key under which it is entered.
std::string place_words(const site::Site& site, const std::string& pointer);

}  // namespace zoneproof::cli
