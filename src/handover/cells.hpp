#pragma once
#include <optional>
#include <string>

#include "chain/evidence.hpp"
#include "paper/table.hpp"
#include "site/model.hpp"

/// What stands in the cells of several chapters.
namespace zoneproof::handover {

/// Significant digits of what stands as typed: six hold what a person enters.
inline constexpr int kTypedDigits = 6;

paper::Cell verdict_cell(chain::Verdict verdict);
/// The same link beside words of one's own.
paper::Cell verdict_cell(chain::Verdict verdict, std::string says);

/// A number of evidence as sentences have it, "5.6 kohm"; a blank where there is none or it is infinite.
paper::Cell quantity_cell(const std::optional<double>& value, const std::string& unit);
/// What there is to spare, rounded down as sentences have it: never more than was computed.
paper::Cell margin_cell(const std::optional<double>& value, const std::string& unit);
/// A value of the site in words, long times in minutes, hours or days; empty where it is not known.
std::string value_words(const site::Value& value, const std::string& unit);
/// A value of the site: its middle, or its range where it has one; a blank where it is not known, the word where it is
/// known not to be there.
paper::Cell value_cell(const site::Value& value, const std::string& unit);

/// "EN 50131-1 9.2 (not verified)".
std::string source_words(const std::string& source, bool verified);

}  // namespace zoneproof::handover
