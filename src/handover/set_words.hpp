#pragma once
#include <string>

#include "site/model.hpp"

/// Words of the closed sets, as a technician reads them. Empty where the site does not say.
namespace zoneproof::handover {

std::string words(const site::Word<site::ZoneType>& type);
std::string words(const site::Word<site::Level>& level);
std::string words(const site::Word<site::ClockSource>& source);
std::string words(const site::Word<site::ClipSending>& sending);
std::string words(const site::Word<site::AddressBy>& by);
std::string words(const site::Word<site::BondKind>& kind);
std::string words(const site::Word<site::ActiveWhen>& when);
std::string words(const site::Word<site::MissedBy>& by);

}  // namespace zoneproof::handover
