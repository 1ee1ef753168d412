#include "base/ip_address.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "base/ip_kind.hpp"
#include "base/ip_network.hpp"

namespace zoneproof {
namespace {

std::string rewritten(const std::string& written) {
  const auto read = read_ip_address(written);
  const auto* address = std::get_if<IpAddress>(&read);
  return address ? text(*address) : text(reason(std::get<IpFault>(read)));
}

// RFC 4291 section 2.2: its examples, each with what RFC 5952 makes of it.
TEST(IpAddress, ReadsTheExamplesOfRfc4291) {
  EXPECT_EQ(rewritten("ABCD:EF01:2345:6789:ABCD:EF01:2345:6789"), "abcd:ef01:2345:6789:abcd:ef01:2345:6789");
  EXPECT_EQ(rewritten("2001:DB8:0:0:8:800:200C:417A"), "2001:db8::8:800:200c:417a");
  EXPECT_EQ(rewritten("FF01:0:0:0:0:0:0:101"), "ff01::101");
  EXPECT_EQ(rewritten("0:0:0:0:0:0:0:1"), "::1");
  EXPECT_EQ(rewritten("0:0:0:0:0:0:0:0"), "::");
  EXPECT_EQ(rewritten("0:0:0:0:0:0:13.1.68.3"), rewritten("::13.1.68.3"));
  EXPECT_EQ(rewritten("0:0:0:0:0:FFFF:129.144.52.38"), "::ffff:129.144.52.38");
}

// RFC 5952 sections 2.2, 4.2 and 4.3.
TEST(IpAddress, WritesTheExamplesOfRfc5952) {
  EXPECT_EQ(rewritten("2001:db8:0:0:0:0:2:1"), "2001:db8::2:1");
  EXPECT_EQ(rewritten("2001:db8::0:1"), "2001:db8::1");
  EXPECT_EQ(rewritten("2001:db8::1:1:1:1:1"), "2001:db8:0:1:1:1:1:1") << "not for a single group";
  EXPECT_EQ(rewritten("2001:0:0:1:0:0:0:1"), "2001:0:0:1::1") << "the longest run";
  EXPECT_EQ(rewritten("2001:db8:0:0:1:0:0:1"), "2001:db8::1:0:0:1") << "the first of equals";
  EXPECT_EQ(rewritten("2001:db8:0:0:aaaa::1"), "2001:db8::aaaa:0:0:1");
  EXPECT_EQ(rewritten("2001:db8:aaaa:bbbb:cccc:dddd::1"), "2001:db8:aaaa:bbbb:cccc:dddd:0:1");
  EXPECT_EQ(rewritten("2001:DB8::AAAA"), "2001:db8::aaaa");
}

TEST(IpAddress, IsRefusedWithOneReason) {
  const std::pair<const char*, IpFault> table[] = {
      {"", IpFault::empty},
      {"camera.local", IpFault::foreign_character},
      {"192.0.2.1 ", IpFault::foreign_character},
      {"2001:db8::g", IpFault::foreign_character},
      {"fe80::1%eth0", IpFault::zone_id},
      {"[2001:db8::1]", IpFault::brackets},
      {"192.0.2.1:554", IpFault::port},
      {"192.0.2.1/24", IpFault::prefix},
      {"192.0.2", IpFault::v4_numbers},
      {"192.0.2.1.1", IpFault::v4_numbers},
      {"192..2.1", IpFault::v4_empty_number},
      {"192.0.2.", IpFault::v4_empty_number},
      {"192.0.2.010", IpFault::v4_leading_zero},
      {"192.0.2.256", IpFault::v4_over_255},
      {"192.0.2.99999999999999999999", IpFault::v4_over_255},
      {"2001:db8:1", IpFault::v6_groups_missing},
      {"1:2:3:4:5:6:7:8:9", IpFault::v6_groups_too_many},
      {"1:2:3:4:5:6:7:192.0.2.1", IpFault::v6_groups_too_many},
      {"2001:db8::12345", IpFault::v6_group_too_long},
      {"2001:db8:::1", IpFault::v6_lone_colon},
      {":2001:db8::1", IpFault::v6_lone_colon},
      {"2001:db8::1:", IpFault::v6_lone_colon},
      {"2001::db8::1", IpFault::v6_two_gaps},
      {"1:2:3:4::5:6:7:8", IpFault::v6_empty_gap},
      {"192.0.2.1::", IpFault::v6_dots_inside},
      {"::192.0.2.300", IpFault::v4_over_255},
  };
  for (const auto& [written, fault] : table) {
    const auto read = read_ip_address(written);
    ASSERT_TRUE(std::holds_alternative<IpFault>(read)) << written;
    EXPECT_EQ(std::get<IpFault>(read), fault) << written << ": " << text(reason(std::get<IpFault>(read)));
  }
}

TEST(IpAddress, HasNoNeighbourBeyondTheEnds) {
  EXPECT_EQ(next(IpAddress::v4(0xFFFFFFFF)), std::nullopt);
  EXPECT_EQ(previous(IpAddress::v4(0)), std::nullopt);
  EXPECT_EQ(next(IpAddress::v6(~Unsigned128{})), std::nullopt);
  EXPECT_EQ(previous(IpAddress::v6({})), std::nullopt);
  EXPECT_EQ(next(IpAddress::v6({0, ~std::uint64_t{0}})), IpAddress::v6({1, 0}));
}

TEST(Unsigned128, IsWrittenInDecimalDigits) {
  EXPECT_EQ(text(Unsigned128{}), "0");
  EXPECT_EQ(text(Unsigned128{0, 10}), "10");
  EXPECT_EQ(text(Unsigned128{1, 0}), "18446744073709551616");
  EXPECT_EQ(text(~Unsigned128{}), "340282366920938463463374607431768211455");
}

rc::Gen<IpAddress> any_address() {
  // Groups that are mostly zero, so that runs of them are met.
  const auto group = rc::gen::oneOf(rc::gen::just(std::uint64_t{0}), rc::gen::just(std::uint64_t{0}),
                                    rc::gen::inRange<std::uint64_t>(0, 0x10000));
  const auto v6 = rc::gen::map(rc::gen::container<std::vector<std::uint64_t>>(8, group), [](const auto& groups) {
    Unsigned128 number;
    for (const std::uint64_t one : groups) number = (number << 16) | Unsigned128{0, one};
    return IpAddress::v6(number);
  });
  const auto v4 = rc::gen::map(rc::gen::arbitrary<std::uint32_t>(), [](std::uint32_t n) { return IpAddress::v4(n); });
  return rc::gen::oneOf(v4, v6);
}

IpNetwork any_network() {
  const IpAddress address = *any_address();
  return IpNetwork::around(address, *rc::gen::inRange(0, bits_of(address.version()) + 1));
}

RC_GTEST_PROP(IpAddressProperty, IsReadAsItIsWritten, ()) {
  const IpAddress address = *any_address();
  RC_ASSERT(std::get<IpAddress>(read_ip_address(text(address))) == address);
}

RC_GTEST_PROP(IpAddressProperty, StandsBetweenItsNeighbours, ()) {
  const IpAddress address = *any_address();
  if (const auto after = next(address)) {
    RC_ASSERT(address < *after);
    RC_ASSERT(previous(*after) == address);
  }
}

RC_GTEST_PROP(IpAddressProperty, OfAnyBytesIsAValueOrAReason, (const std::string& bytes)) {
  for (const std::string& written : {bytes, "::" + bytes, "1.2.3." + bytes, bytes + "/8"}) {
    const auto address = read_ip_address(written);
    if (const auto* fault = std::get_if<IpFault>(&address)) RC_ASSERT(!text(reason(*fault)).empty());
    const auto network = read_ip_network(written);
    if (const auto* read = std::get_if<IpNetwork>(&network)) RC_ASSERT(network_meant(written) == *read);
  }
}

RC_GTEST_PROP(IpNetworkProperty, IsReadAsItIsWritten, ()) {
  const IpNetwork network = any_network();
  RC_ASSERT(std::get<IpNetwork>(read_ip_network(text(network))) == network);
  if (network.version() == IpVersion::v4) {
    RC_ASSERT(std::get<int>(read_netmask(text(netmask(network)))) == network.prefix());
  }
}

RC_GTEST_PROP(IpNetworkProperty, EndsWhereItsNeighbourBegins, ()) {
  const IpNetwork network = any_network();
  RC_ASSERT(contains(network, network.first()));
  RC_ASSERT(contains(network, network.last()));
  if (const auto after = next(network.last())) {
    RC_ASSERT(!contains(network, *after));
    RC_ASSERT(!overlap(network, IpNetwork::around(*after, network.prefix())));
  }
  if (const auto before = previous(network.first())) RC_ASSERT(!contains(network, *before));
}

RC_GTEST_PROP(IpNetworkProperty, HasItsHostsInsideAndNoBroadcastAmongThem, ()) {
  const IpNetwork network = any_network();
  const IpRange usable = hosts(network);
  RC_ASSERT(usable.first <= usable.last);
  RC_ASSERT(common_part(range_of(network), usable) == usable);
  if (const auto everyone = broadcast(network)) RC_ASSERT(!contains(usable, *everyone));
}

TEST(IpRange, IsOfOneVersionAndInOrder) {
  const IpAddress low = IpAddress::v4(1);
  const IpAddress high = IpAddress::v4(9);
  EXPECT_EQ(make_range(high, low), std::nullopt);
  EXPECT_EQ(make_range(low, IpAddress::v6({0, 9})), std::nullopt);
  EXPECT_EQ(text(size_less_one(*make_range(low, high))), "8");
  EXPECT_EQ(common_part(*make_range(low, high), *make_range(IpAddress::v4(5), IpAddress::v4(20))),
            make_range(IpAddress::v4(5), high));
  EXPECT_EQ(common_part(*make_range(low, low), *make_range(high, high)), std::nullopt);
}

IpNetwork network(const char* written) { return std::get<IpNetwork>(read_ip_network(written)); }

// RFC 4291 section 2.3: what is and what is not the prefix 20010DB80000CD3 of 60 bits.
TEST(IpNetwork, ReadsTheExamplesOfRfc4291) {
  EXPECT_EQ(network("2001:0DB8:0000:CD30:0000:0000:0000:0000/60"), network("2001:0DB8:0:CD30::/60"));
  EXPECT_EQ(network("2001:0DB8::CD30:0:0:0:0/60"), network("2001:0DB8:0:CD30::/60"));
  EXPECT_EQ(text(network("2001:0DB8:0:CD30::/60")), "2001:db8:0:cd30::/60");
  EXPECT_EQ(std::get<IpFault>(read_ip_network("2001:0DB8:0:CD3/60")), IpFault::v6_groups_missing);
  EXPECT_EQ(std::get<IpFault>(read_ip_network("2001:0DB8::CD30/60")), IpFault::host_bits);
  EXPECT_EQ(std::get<IpFault>(read_ip_network("2001:0DB8::CD3/60")), IpFault::host_bits);
}

TEST(IpNetwork, IsRefusedWithOneReasonAndSaysWhatWasMeant) {
  struct Row {
    const char* written;
    IpFault fault;
    const char* meant;  ///< empty where it cannot be told
  };
  const Row table[] = {
      {"", IpFault::empty, ""},
      {"192.0.2.0", IpFault::no_prefix, ""},
      {"192.0.2.0/", IpFault::prefix_no_number, ""},
      {"192.0.2.0/a", IpFault::prefix_no_number, ""},
      {"192.0.2.0/24/24", IpFault::prefix_no_number, ""},
      {"192.0.2.0/024", IpFault::prefix_leading_zero, ""},
      {"192.0.2.0/33", IpFault::prefix_too_long, ""},
      {"2001:db8::/129", IpFault::prefix_too_long, ""},
      {"192.0.2.0/255.255.255.0", IpFault::prefix_mask, "192.0.2.0/24"},
      {"192.0.2.0/0.0.0.255", IpFault::prefix_mask, ""},
      {"192.0.2.7/24", IpFault::host_bits, "192.0.2.0/24"},
      {"2001:db8::7/64", IpFault::host_bits, "2001:db8::/64"},
      {"2001:db8::/ffff::", IpFault::prefix_mask, ""},
      {"192.0.2.256/24", IpFault::v4_over_255, ""},
      {"fe80::%1/64", IpFault::zone_id, ""},
  };
  for (const Row& row : table) {
    const auto read = read_ip_network(row.written);
    ASSERT_TRUE(std::holds_alternative<IpFault>(read)) << row.written;
    EXPECT_EQ(std::get<IpFault>(read), row.fault) << row.written;
    const auto meant = network_meant(row.written);
    EXPECT_EQ(meant ? text(*meant) : "", row.meant) << row.written;
  }
  EXPECT_EQ(std::get<IpFault>(read_netmask("255.0.255.0")), IpFault::mask_gap);
  EXPECT_EQ(std::get<IpFault>(read_netmask("0.0.0.255")), IpFault::mask_gap);
}

// RFC 919: all ones; RFC 3021: a network of two addresses has no broadcast, and both may be hosts.
TEST(IpNetwork, HasABroadcastAddressWhereItCan) {
  EXPECT_EQ(text(*broadcast(network("192.0.2.0/24"))), "192.0.2.255");
  EXPECT_EQ(text(*broadcast(network("192.0.2.4/30"))), "192.0.2.7");
  EXPECT_EQ(broadcast(network("192.0.2.4/31")), std::nullopt);
  EXPECT_EQ(broadcast(network("192.0.2.4/32")), std::nullopt);
  EXPECT_EQ(broadcast(network("2001:db8::/64")), std::nullopt);
}

// One address of each block, from the RFCs that the registries of IANA name for them.
TEST(IpKind, IsWhatTheRegistriesSay) {
  const std::pair<const char*, IpKind> table[] = {
      {"1.2.3.4", IpKind::global},
      {"2600::1", IpKind::global},
      {"0.0.0.0", IpKind::unspecified},
      {"0.0.0.1", IpKind::this_network},
      {"127.0.0.1", IpKind::loopback},
      {"::1", IpKind::loopback},
      {"10.1.2.3", IpKind::private_use},
      {"172.31.255.255", IpKind::private_use},
      {"172.32.0.0", IpKind::global},
      {"192.168.1.1", IpKind::private_use},
      {"fd00::1", IpKind::private_use},
      {"169.254.1.1", IpKind::link_local},
      {"fe80::1", IpKind::link_local},
      {"100.64.0.1", IpKind::shared},
      {"100.128.0.0", IpKind::global},
      {"192.0.2.1", IpKind::documentation},
      {"2001:db8::1", IpKind::documentation},
      {"3fff:fff::1", IpKind::documentation},
      {"198.19.255.255", IpKind::benchmarking},
      {"2001:2::1", IpKind::benchmarking},
      {"192.0.0.8", IpKind::protocol},
      {"192.0.0.9", IpKind::global},
      {"2002:c000:204::1", IpKind::protocol},
      {"239.255.255.250", IpKind::multicast},
      {"ff02::1", IpKind::multicast},
      {"240.0.0.1", IpKind::reserved},
      {"255.255.255.255", IpKind::broadcast},
      {"::ffff:192.168.1.1", IpKind::private_use},
  };
  for (const auto& [written, kind] : table) {
    EXPECT_EQ(ip_kind(std::get<IpAddress>(read_ip_address(written))), kind) << written;
  }
}

}  // namespace
}  // namespace zoneproof
