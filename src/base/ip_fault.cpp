#include "base/ip_fault.hpp"

#include <stdexcept>

#include "messages/base.hpp"

namespace zoneproof {

Message reason(IpFault fault) {
  switch (fault) {
    case IpFault::empty: return say::ip_empty();
    case IpFault::foreign_character: return say::ip_foreign_character();
    case IpFault::zone_id: return say::ip_zone_id();
    case IpFault::brackets: return say::ip_brackets();
    case IpFault::port: return say::ip_port();
    case IpFault::prefix: return say::ip_prefix();
    case IpFault::v4_numbers: return say::ip_v4_numbers();
    case IpFault::v4_empty_number: return say::ip_v4_empty_number();
    case IpFault::v4_leading_zero: return say::ip_v4_leading_zero();
    case IpFault::v4_over_255: return say::ip_v4_over_255();
    case IpFault::v6_groups_missing: return say::ip_v6_groups_missing();
    case IpFault::v6_groups_too_many: return say::ip_v6_groups_too_many();
    case IpFault::v6_group_too_long: return say::ip_v6_group_too_long();
    case IpFault::v6_lone_colon: return say::ip_v6_lone_colon();
    case IpFault::v6_two_gaps: return say::ip_v6_two_gaps();
    case IpFault::v6_empty_gap: return say::ip_v6_empty_gap();
    case IpFault::v6_dots_inside: return say::ip_v6_dots_inside();
    case IpFault::no_prefix: return say::ip_no_prefix();
    case IpFault::prefix_no_number: return say::ip_prefix_no_number();
    case IpFault::prefix_leading_zero: return say::ip_prefix_leading_zero();
    case IpFault::prefix_too_long: return say::ip_prefix_too_long();
    case IpFault::prefix_mask: return say::ip_prefix_mask();
    case IpFault::host_bits: return say::ip_host_bits();
    case IpFault::mask_gap: return say::ip_mask_gap();
  }
  throw std::logic_error("no such fault of an address");
}

}  // namespace zoneproof
