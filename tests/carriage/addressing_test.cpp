// Addresses of a small network, each fault by hand.
#include "carriage/addressing.hpp"

#include "carriage/addressed_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

Verdict addressing_verdict(const char* check, const char* subject, const std::vector<std::string>& operations = {}) {
  return verdict_of(check_addressing, check, subject, operations);
}

std::string yard_has(const std::string& address) { return set("/addresses/a_yard/address", '"' + address + '"'); }
const std::string kPool = set("/networks/net/has_pool", "true"),
                  kPoolFirst = set("/networks/net/pool_first", R"("192.168.20.100")"),
                  kPoolLast = set("/networks/net/pool_last", R"("192.168.20.199")");

TEST(Addressing, ASiteWithoutFaultIsProven) {
  for (const chain::Evidence& one : check_addressing(network_of(addressed_network())))
    EXPECT_EQ(one.verdict, Verdict::proven) << one.id << " of " << one.subject;
}

TEST(Addressing, AnAddressOutsideOfItsNetworkIsBroken) {
  EXPECT_EQ(addressing_verdict("address_in_network", "a_yard", {yard_has("192.168.21.10")}), Verdict::broken);
  EXPECT_EQ(addressing_verdict("address_in_network", "a_yard", {yard_has("fd00::1")}), Verdict::broken);
  EXPECT_EQ(addressing_verdict("address_in_network", "a_yard", {yard_has("192.168.20.254")}), Verdict::proven);
}

TEST(Addressing, AnAddressThatNoDeviceMayHaveIsBroken) {
  for (const char* address : {"192.168.20.0", "192.168.20.255"})
    EXPECT_EQ(addressing_verdict("address_in_network", "a_yard", {yard_has(address)}), Verdict::broken) << address;
  for (const auto& [range, address] : {std::pair("127.0.0.0/8", "127.0.0.1"),
                                       {"224.0.1.0/24", "224.0.1.5"},
                                       {"::/64", "::1"},
                                       {"ff02::/64", "ff02::5"},
                                       {"240.0.0.0/8", "240.0.0.5"}})
    EXPECT_EQ(addressing_verdict("address_in_network", "a_yard",
                                 {set("/networks/net/range", '"' + std::string(range) + '"'), yard_has(address)}),
              Verdict::broken)
        << address;
}

TEST(Addressing, TwoAddressesInAllAreBothForDevices) {  // RFC 3021
  for (const char* address : {"192.168.20.10", "192.168.20.11"})
    EXPECT_EQ(addressing_verdict("address_in_network", "a_yard",
                                 {set("/networks/net/range", R"("192.168.20.10/31")"), yard_has(address)}),
              Verdict::proven);
}

TEST(Addressing, TheFirstAddressOfAnIpv6NetworkIsItsRouters) {  // RFC 4291, 2.6.1
  const std::string range = set("/networks/net/range", R"("fd00:0:0:5::/64")");
  EXPECT_EQ(addressing_verdict("address_in_network", "a_yard", {range, yard_has("fd00:0:0:5::")}), Verdict::broken);
  EXPECT_EQ(addressing_verdict("address_in_network", "a_router",
                               {range, set("/addresses/a_router/address", R"("fd00:0:0:5::")")}),
            Verdict::proven);
}

TEST(Addressing, TheSameAddressTwiceIsToldOfBoth) {
  const auto all = check_addressing(network_of(addressed_network(), patch_of({yard_has("192.168.20.11")})));
  for (const char* subject : {"a_yard", "a_hall"}) {
    EXPECT_EQ(only(all, "address_clash", subject).verdict, Verdict::broken);
    EXPECT_EQ(only(all, "address_clash", subject).remedies.size(), 1u);
  }
  EXPECT_EQ(only(all, "address_clash", "a_unit").verdict, Verdict::proven);
}

TEST(Addressing, TheSameAddressWrittenInTwoWaysIsTheSame) {
  const std::string range = set("/networks/net/range", R"("fd00::/64")");
  const auto hall = [](const char* address) {
    return set("/addresses/a_hall/address", '"' + std::string(address) + '"');
  };
  EXPECT_EQ(addressing_verdict("address_clash", "a_yard", {range, yard_has("fd00::a"), hall("FD00:0:0:0:0:0:0:000A")}),
            Verdict::broken);
  EXPECT_EQ(addressing_verdict("address_clash", "a_yard", {range, yard_has("fd00::a"), hall("fd00::b")}),
            Verdict::proven);
}

TEST(Addressing, APrinterWithTheAddressOfTheRecorderStopsClipsToo) {
  const std::string printer = set("/addresses/a_switch", R"({"device": "switch", "network": "net", "given_by": "fixed",
      "address": "192.168.20.12", "gateway": "none"})");
  EXPECT_EQ(addressing_verdict("address_clash", "a_recorder", {printer}), Verdict::broken);
  EXPECT_EQ(addressing_verdict("address_clash", "a_switch", {printer}), Verdict::broken);
}

TEST(Addressing, ADeviceDoesNotClashWithItself) {
  EXPECT_EQ(
      addressing_verdict("address_clash", "a_yard", {set("/addresses/a_again", R"({"device": "yard", "network": "net",
      "given_by": "fixed", "address": "192.168.20.10", "gateway": "none"})")}),
      Verdict::proven);
}

TEST(Addressing, WithoutAllAddressesNoClashIsExcludedNotEvenOfReservedOnes) {
  const std::string reserved = set("/addresses/a_yard/given_by", R"("reserved")");
  for (const std::string& incomplete : {set("/networks/net/addresses_complete", "false"),
                                        std::string(R"({"op": "remove", "path": "/networks/net/addresses_complete"})")})
    EXPECT_EQ(addressing_verdict("address_clash", "a_yard", {incomplete, kPool, kPoolFirst, kPoolLast, reserved}),
              Verdict::unanswered);
}

TEST(Addressing, AnAddressTypedInThatThePoolGivesOutIsBroken) {
  const auto in_pool = [](const char* address, const char* given_by) {
    return addressing_verdict("address_in_pool", "a_yard",
                              {kPool, kPoolFirst, kPoolLast, yard_has(address),
                               set("/addresses/a_yard/given_by", '"' + std::string(given_by) + '"')});
  };
  EXPECT_EQ(in_pool("192.168.20.100", "fixed"), Verdict::broken);
  EXPECT_EQ(in_pool("192.168.20.199", "fixed"), Verdict::broken);
  EXPECT_EQ(in_pool("192.168.20.99", "fixed"), Verdict::proven);
  EXPECT_EQ(in_pool("192.168.20.200", "fixed"), Verdict::proven);
  EXPECT_EQ(in_pool("192.168.20.150", "reserved"), Verdict::proven);
}

TEST(Addressing, AReservedAddressThatNobodyGivesOutIsBroken) {
  EXPECT_EQ(addressing_verdict("address_in_pool", "a_yard", {set("/addresses/a_yard/given_by", R"("reserved")")}),
            Verdict::broken);
}

TEST(Addressing, AnAddressFromThePoolMayChange) {
  for (const char* device : {"yard", "recorder", "unit", "router"}) {
    const std::string at = std::string("/addresses/a_") + device;
    const std::vector<std::string> from_pool = {kPool, kPoolFirst, kPoolLast, set(at + "/given_by", R"("pool")"),
                                                R"({"op": "remove", "path": ")" + at + "/address\"}"};
    const std::string subject = std::string("a_") + device;
    EXPECT_EQ(addressing_verdict("address_changes", subject.c_str(), from_pool), Verdict::broken);
    EXPECT_EQ(addressing_verdict("address_changes", subject.c_str()), Verdict::proven);
  }
}

TEST(Addressing, APoolBeyondItsNetworkOrBackwardsIsBroken) {
  const auto pool = [](const std::string& first, const std::string& last) {
    return addressing_verdict(
        "pool_in_network", "net",
        {kPool, set("/networks/net/pool_first", '"' + first + '"'), set("/networks/net/pool_last", '"' + last + '"')});
  };
  EXPECT_EQ(pool("192.168.20.1", "192.168.20.254"), Verdict::proven);
  EXPECT_EQ(pool("192.168.20.0", "192.168.20.254"), Verdict::broken);
  EXPECT_EQ(pool("192.168.20.1", "192.168.20.255"), Verdict::broken);
  EXPECT_EQ(pool("192.168.20.200", "192.168.21.10"), Verdict::broken);
  EXPECT_EQ(pool("192.168.20.200", "192.168.20.100"), Verdict::broken);
  EXPECT_EQ(pool("192.168.20.200", "fd00::1"), Verdict::broken);
}

TEST(Addressing, NetworksThatOverlapAreBroken) {
  const auto beside = [](const std::string& range) {
    return addressing_verdict(
        "networks_overlap", "net",
        {set("/networks/office", R"({"range": ")" + range + R"(", "vlan": 7, "has_pool": false})")});
  };
  EXPECT_EQ(beside("192.168.21.0/24"), Verdict::proven);
  EXPECT_EQ(beside("fd00::/8"), Verdict::proven);
  for (const char* range : {"192.168.20.0/24", "192.168.20.128/25", "192.168.0.0/16"})
    EXPECT_EQ(beside(range), Verdict::broken) << range;
}

TEST(Addressing, AGatewayInAnotherNetworkIsBroken) {
  const std::string office = set("/networks/office", R"({"range": "192.168.1.0/24", "vlan": 1, "has_pool": false})");
  EXPECT_EQ(addressing_verdict("gateway_reached", "a_unit"), Verdict::proven);
  EXPECT_EQ(
      addressing_verdict("gateway_reached", "a_unit", {office, set("/addresses/a_router/network", R"("office")")}),
      Verdict::broken);
  EXPECT_FALSE(any(check_addressing(network_of(addressed_network())), "gateway_reached", "a_yard")) << "it has none";
}

TEST(Addressing, NetworksThatNoClipPassesAreNotAsked) {
  const auto all = check_addressing(network_of(
      addressed_network(),
      patch_of(
          {set("/networks/office", R"({"range": "192.168.1.0/24", "has_pool": true, "addresses_complete": false})"),
           set("/addresses/a_office", R"({"device": "router", "network": "office", "given_by": "fixed",
                    "address": "192.168.1.1", "gateway": "none"})")})));
  EXPECT_FALSE(any(all, "address_clash", "a_office"));
  EXPECT_FALSE(any(all, "pool_in_network", "office"));
}

TEST(Addressing, WhatIsMissingIsNamed) {
  expect_unanswered(check_addressing,
                    {{"/addresses/a_yard/address", "address_in_network", "a_yard"},
                     {"/addresses/a_yard/address", "address_clash", "a_yard"},
                     {"/addresses/a_yard/address", "address_clash", "a_hall"},
                     {"/addresses/a_yard/address", "address_in_pool", "a_yard"},
                     {"/addresses/a_yard/network", "address_in_network", "a_yard"},
                     {"/addresses/a_yard/given_by", "address_in_pool", "a_yard"},
                     {"/addresses/a_yard/given_by", "address_changes", "a_yard"},
                     {"/addresses/a_unit/gateway", "gateway_reached", "a_unit"},
                     {"/addresses/a_router/network", "gateway_reached", "a_unit"},
                     {"/addresses/a_router", "gateway_reached", "a_unit", "/addresses"},
                     {"/networks/net/range", "address_in_network", "a_yard"},
                     {"/networks/net/range", "networks_overlap", "net"},
                     {"/networks/net/has_pool", "address_in_pool", "a_yard"},
                     {"/networks/net/addresses_complete", "address_clash", "a_yard", nullptr, "incomplete_list"}},
                    addressed_network());
}

TEST(Addressing, APoolThatIsNotKnownLeavesAddressesOpen) {
  for (const std::string& missing : {kPoolFirst, kPoolLast}) {
    const std::string& other = missing == kPoolFirst ? kPoolLast : kPoolFirst;
    EXPECT_EQ(addressing_verdict("address_in_pool", "a_yard", {kPool, other}), Verdict::unanswered);
    EXPECT_EQ(addressing_verdict("pool_in_network", "net", {kPool, other}), Verdict::unanswered);
  }
}

TEST(Addressing, TheSameAddressOfAThingThatNobodyNamesIsOpen) {
  EXPECT_EQ(addressing_verdict("address_clash", "a_yard",
                               {set("/addresses/a_thing", R"({"network": "net", "given_by": "fixed",
      "address": "192.168.20.10", "gateway": "none"})")}),
            Verdict::unanswered);
}

}  // namespace
}  // namespace zoneproof::carriage
