#include "handover/set_words.hpp"

#include "base/message.hpp"
#include "messages/handover.hpp"

namespace zoneproof::handover {

using site::Word;

std::string words(const Word<site::ZoneType>& type) {
  if (!type.value) return {};
  switch (*type.value) {
    case site::ZoneType::intruder: return text(say::type_intruder());
    case site::ZoneType::entry_exit: return text(say::type_entry_exit());
    case site::ZoneType::follower: return text(say::type_follower());
    case site::ZoneType::twenty_four_hour: return text(say::type_twenty_four_hour());
    case site::ZoneType::tamper: return text(say::type_tamper());
    case site::ZoneType::fire: return text(say::type_fire());
    case site::ZoneType::hold_up: return text(say::type_hold_up());
    case site::ZoneType::technical: return text(say::type_technical());
    case site::ZoneType::access: return text(say::type_access());
  }
  return {};
}

std::string words(const Word<site::Level>& level) {
  if (!level.value) return {};
  return text(level.is(site::Level::high) ? say::level_high() : say::level_low());
}

std::string words(const Word<site::ClockSource>& source) {
  if (!source.value) return {};
  switch (*source.value) {
    case site::ClockSource::time_server: return text(say::clock_time_server());
    case site::ClockSource::station: return text(say::clock_station());
    case site::ClockSource::free_running: return text(say::clock_free_running());
  }
  return {};
}

std::string words(const Word<site::ClipSending>& sending) {
  if (!sending.value) return {};
  return text(sending.is(site::ClipSending::while_recording) ? say::sent_while_recording() : say::sent_when_complete());
}

std::string words(const Word<site::AddressBy>& by) {
  if (!by.value) return {};
  switch (*by.value) {
    case site::AddressBy::fixed: return text(say::address_fixed());
    case site::AddressBy::reserved: return text(say::address_reserved());
    case site::AddressBy::pool: return text(say::address_pool());
  }
  return {};
}

std::string words(const Word<site::BondKind>& kind) {
  if (!kind.value) return {};
  switch (*kind.value) {
    case site::BondKind::wire: return text(say::bond_wire());
    case site::BondKind::coaxial_screen: return text(say::bond_coaxial_screen());
    case site::BondKind::data_screen: return text(say::bond_data_screen());
    case site::BondKind::serial_line: return text(say::bond_serial_line());
    case site::BondKind::earth: return text(say::bond_earth());
  }
  return {};
}

std::string words(const Word<site::ActiveWhen>& when) {
  if (!when.value) return {};
  switch (*when.value) {
    case site::ActiveWhen::armed: return text(say::active_armed());
    case site::ActiveWhen::disarmed: return text(say::active_disarmed());
    case site::ActiveWhen::alarm: return text(say::active_alarm());
    case site::ActiveWhen::normal: return text(say::active_normal());
  }
  return {};
}

std::string words(const Word<site::MissedBy>& by) {
  if (!by.value) return {};
  switch (*by.value) {
    case site::MissedBy::station: return text(say::missed_by_station());
    case site::MissedBy::zone: return text(say::missed_by_zone());
    case site::MissedBy::nobody: return text(say::missed_by_nobody());
  }
  return {};
}

}  // namespace zoneproof::handover
