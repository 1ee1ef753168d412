#include "base/ip_address.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>

namespace zoneproof {

namespace {

constexpr std::size_t kGroups = 8;  // of an IPv6 address, 16 bits each
constexpr std::string_view kHexDigits = "0123456789abcdefABCDEF";

using Groups = std::array<unsigned, kGroups>;

/// What stands before the next `mark`, which is taken off with it; the last part leaves `rest` empty.
std::string_view part_taken(std::string_view& rest, char mark) {
  const std::size_t end = std::min(rest.find(mark), rest.size());
  const std::string_view part = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return part;
}

unsigned hex_value(std::string_view digits) {
  unsigned value = 0;
  for (const char c : digits) {
    const std::size_t digit = kHexDigits.find(c);
    value = value * 16 + static_cast<unsigned>(digit < 16 ? digit : digit - 6);  // the capitals stand six later
  }
  return value;
}

/// `digits` holds nothing else.
std::variant<unsigned, IpFault> v4_number(std::string_view digits) {
  if (digits.empty()) return IpFault::v4_empty_number;
  if (digits.size() > 1 && digits.front() == '0') return IpFault::v4_leading_zero;
  if (digits.size() > 3) return IpFault::v4_over_255;
  unsigned value = 0;
  for (const char c : digits) value = value * 10 + static_cast<unsigned>(c - '0');
  if (value > 255) return IpFault::v4_over_255;
  return value;
}

std::variant<IpAddress, IpFault> read_v4(std::string_view written) {
  if (written.find_first_not_of("0123456789.") != std::string_view::npos) return IpFault::foreign_character;
  if (std::count(written.begin(), written.end(), '.') != 3) return IpFault::v4_numbers;
  std::uint32_t number = 0;
  for (int i = 0; i < 4; ++i) {
    const auto part = v4_number(part_taken(written, '.'));
    if (const auto* fault = std::get_if<IpFault>(&part)) return *fault;
    number = (number << 8U) | std::get<unsigned>(part);
  }
  return IpAddress::v4(number);
}

/// The groups on one side of "::", or all of them; as many as were read, at the beginning of `groups`.
class GroupReader {
 public:
  /// `last`: an IPv4 address may stand for the last two groups. Nothing where all is well.
  std::optional<IpFault> read(std::string_view side, bool last) {
    if (side.empty()) return std::nullopt;
    if (side.front() == ':' || side.back() == ':') return IpFault::v6_lone_colon;
    while (!side.empty()) {
      const std::string_view part = part_taken(side, ':');
      const bool dotted = part.find('.') != std::string_view::npos;
      if (dotted && (!last || !side.empty())) return IpFault::v6_dots_inside;
      const auto fault = dotted ? dotted_groups(part) : group(part);
      if (fault) return fault;
    }
    return std::nullopt;
  }

  std::size_t count() const { return count_; }
  unsigned operator[](std::size_t index) const { return groups_[index]; }

 private:
  std::optional<IpFault> group(std::string_view digits) {
    if (digits.size() > 4) return IpFault::v6_group_too_long;
    if (count_ == kGroups) return IpFault::v6_groups_too_many;
    groups_[count_++] = hex_value(digits);
    return std::nullopt;
  }

  std::optional<IpFault> dotted_groups(std::string_view dotted) {
    const auto address = read_v4(dotted);
    if (const auto* fault = std::get_if<IpFault>(&address)) return *fault;
    if (count_ + 2 > kGroups) return IpFault::v6_groups_too_many;
    const std::uint64_t number = std::get<IpAddress>(address).number().low;
    groups_[count_++] = static_cast<unsigned>(number >> 16U);
    groups_[count_++] = static_cast<unsigned>(number & 0xFFFFU);
    return std::nullopt;
  }

  Groups groups_ = {};
  std::size_t count_ = 0;
};

IpAddress of_groups(const Groups& groups) {
  Unsigned128 number;
  for (const unsigned group : groups) number = (number << 16) | Unsigned128{0, group};
  return IpAddress::v6(number);
}

std::variant<IpAddress, IpFault> read_v6(std::string_view written) {
  if (written.find_first_not_of("0123456789abcdefABCDEF:.") != std::string_view::npos) {
    return IpFault::foreign_character;
  }
  const std::size_t gap = written.find("::");
  const bool has_gap = gap != std::string_view::npos;
  const std::string_view behind = has_gap ? written.substr(gap + 2) : std::string_view();
  if (!behind.empty() && behind.front() == ':') return IpFault::v6_lone_colon;
  if (behind.find("::") != std::string_view::npos) return IpFault::v6_two_gaps;
  GroupReader before;
  GroupReader after;
  if (const auto fault = before.read(written.substr(0, gap), !has_gap)) return *fault;
  if (const auto fault = after.read(behind, true)) return *fault;
  const std::size_t count = before.count() + after.count();
  if (count > kGroups) return IpFault::v6_groups_too_many;
  if (!has_gap && count < kGroups) return IpFault::v6_groups_missing;
  if (has_gap && count == kGroups) return IpFault::v6_empty_gap;
  Groups groups = {};
  for (std::size_t i = 0; i < before.count(); ++i) groups[i] = before[i];
  for (std::size_t i = 0; i < after.count(); ++i) groups[kGroups - after.count() + i] = after[i];
  return of_groups(groups);
}

struct Run {
  std::size_t first = 0;
  std::size_t size = 0;
};

/// The run of zeros that "::" stands for; of size 0 where no run has two groups (RFC 5952 section 4.2).
Run gap_of(const Groups& groups) {
  Run best;
  Run run;
  for (std::size_t i = 0; i < kGroups; ++i) {
    if (groups[i] != 0) {
      run = {i + 1, 0};
    } else if (++run.size > best.size) {
      best = run;
    }
  }
  return best.size >= 2 ? best : Run{kGroups, 0};
}

std::string v4_text(std::uint64_t number) {
  return fmt::format("{}.{}.{}.{}", number >> 24U, (number >> 16U) & 0xFFU, (number >> 8U) & 0xFFU, number & 0xFFU);
}

std::string v6_text(Unsigned128 number) {
  Groups groups = {};
  for (std::size_t i = 0; i < kGroups; ++i) {
    groups[i] = static_cast<unsigned>((number >> static_cast<unsigned>(16 * (kGroups - 1 - i))).low & 0xFFFFU);
  }
  const Run gap = gap_of(groups);
  std::string out;
  for (std::size_t i = 0; i < kGroups; ++i) {
    if (gap.size > 0 && i == gap.first) {
      out += "::";
      i += gap.size - 1;
      continue;
    }
    if (!out.empty() && out.back() != ':') out += ':';
    out += fmt::format("{:x}", groups[i]);
  }
  return out;
}

}  // namespace

IpAddress IpAddress::of(IpVersion version, Unsigned128 number) {
  return version == IpVersion::v4 ? v4(static_cast<std::uint32_t>(number.low)) : v6(number);
}

std::variant<IpAddress, IpFault> read_ip_address(std::string_view written) {
  if (written.empty()) return IpFault::empty;
  if (written.find('/') != std::string_view::npos) return IpFault::prefix;
  if (written.find('%') != std::string_view::npos) return IpFault::zone_id;
  if (written.find_first_of("[]") != std::string_view::npos) return IpFault::brackets;
  const std::size_t colon = written.find(':');
  if (colon == std::string_view::npos) return read_v4(written);
  // One colon behind four numbers: no IPv6 address has so few.
  const bool v4_before = std::holds_alternative<IpAddress>(read_v4(written.substr(0, colon)));
  if (v4_before && written.find(':', colon + 1) == std::string_view::npos) return IpFault::port;
  return read_v6(written);
}

std::string text(const IpAddress& address) {
  if (address.version() == IpVersion::v4) return v4_text(address.number().low);
  const auto mapped = mapped_v4(address);
  return mapped ? "::ffff:" + v4_text(mapped->number().low) : v6_text(address.number());
}

std::optional<IpAddress> mapped_v4(const IpAddress& address) {
  const bool mapped = address.version() == IpVersion::v6 && (address.number() >> 32) == Unsigned128{0, 0xFFFF};
  return mapped ? std::optional(IpAddress::v4(static_cast<std::uint32_t>(address.number().low))) : std::nullopt;
}

std::optional<IpAddress> next(const IpAddress& address) {
  if (address.number() == last_number(address.version())) return std::nullopt;
  return IpAddress::of(address.version(), address.number() + kOne128);
}

std::optional<IpAddress> previous(const IpAddress& address) {
  if (address.number() == Unsigned128{}) return std::nullopt;
  return IpAddress::of(address.version(), address.number() - kOne128);
}

}  // namespace zoneproof
