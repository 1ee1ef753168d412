#pragma once
#include "base/message.hpp"

namespace zoneproof {

/// Why a text is no address, network or mask of the internet protocol: the first reason found, reading from the left.
/// Reading stops there, as what follows can be judged only by guessing what was meant.
enum class IpFault {
  empty,
  foreign_character,  ///< a letter, blank or sign that no address holds: mostly a name
  zone_id,            ///< "fe80::1%eth0" (RFC 4007): the interface of one machine, of no meaning on another
  brackets,           ///< "[2001:db8::1]", as in addresses of web pages
  port,               ///< "192.0.2.1:554"
  prefix,             ///< "192.0.2.1/24" where an address alone is wanted
  v4_numbers,         ///< not four of them
  v4_empty_number,
  v4_leading_zero,  ///< some read 010 as eight
  v4_over_255,
  v6_groups_missing,  ///< fewer than eight, without "::"
  v6_groups_too_many,
  v6_group_too_long,  ///< more than four digits
  v6_lone_colon,      ///< a single colon at either end, or three in a row
  v6_two_gaps,        ///< "::" twice: how long each is cannot be told
  v6_empty_gap,       ///< "::" beside eight groups
  v6_dots_inside,     ///< the four numbers of an IPv4 address anywhere but at the end
  no_prefix,          ///< a network without "/"
  prefix_no_number,
  prefix_leading_zero,
  prefix_too_long,  ///< beyond 32 or 128
  prefix_mask,      ///< "192.0.2.0/255.255.255.0"
  host_bits,        ///< "192.0.2.1/24": an address inside the network and not its first
  mask_gap          ///< a mask that is not ones followed by zeros
};

/// The reason as the end of a sentence: "a number is above 255".
Message reason(IpFault fault);

}  // namespace zoneproof
