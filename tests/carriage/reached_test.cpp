// Who reaches whom, by addresses and by cables.
#include "carriage/reached.hpp"

#include "carriage/addressed_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

Verdict reached_verdict(const char* check, const char* subject, const std::vector<std::string>& operations = {}) {
  return verdict_of(check_reached, check, subject, operations);
}

/// The yard camera in a network of its own, in which the router is too.
std::vector<std::string> yard_apart(const char* gateway_of_yard, const char* gateway_of_recorder) {
  return {set("/networks/outside", R"({"range": "192.168.30.0/24", "vlan": 30, "has_pool": false})"),
          set("/addresses/a_router_outside", R"({"device": "router", "network": "outside", "given_by": "fixed",
              "address": "192.168.30.1", "gateway": "none"})"),
          set("/addresses/a_yard/network", R"("outside")"),
          set("/addresses/a_yard/address", R"("192.168.30.10")"),
          set("/addresses/a_yard/gateway", '"' + std::string(gateway_of_yard) + '"'),
          set("/addresses/a_recorder/gateway", '"' + std::string(gateway_of_recorder) + '"')};
}

TEST(Reached, ASiteWithoutFaultIsProven) {
  for (const chain::Evidence& one : check_reached(network_of(addressed_network())))
    EXPECT_EQ(one.verdict, Verdict::proven) << one.id << " of " << one.subject;
}

TEST(Reached, EveryPairOfTheClipsIsAsked) {
  const auto all = check_reached(network_of(addressed_network()));
  EXPECT_EQ(only(all, "reached", "yard").condition, "recorder");
  EXPECT_EQ(only(all, "reached", "hall").condition, "recorder");
  EXPECT_EQ(only(all, "reached", "recorder").condition, "unit");
  EXPECT_EQ(only(all, "reached", "unit").condition, "router");
}

TEST(Reached, AnotherNetworkNeedsARouterAtBothEnds) {
  EXPECT_EQ(reached_verdict("reached", "yard", yard_apart("router", "router")), Verdict::proven);
  EXPECT_EQ(reached_verdict("reached", "yard", yard_apart("none", "none")), Verdict::broken);
}

TEST(Reached, AWayWithoutAWayBackIsOpen) {
  for (const auto& operations : {yard_apart("router", "none"), yard_apart("none", "router")}) {
    const auto yard = only(check_reached(network_of(addressed_network(), patch_of(operations))), "reached", "yard");
    EXPECT_EQ(yard.verdict, Verdict::unanswered);
    EXPECT_EQ(yard.remedies.size(), 1u);
  }
  EXPECT_TRUE(lacks(
      only(check_reached(network_of(addressed_network(), patch_of(yard_apart("router", "none")))), "reached", "yard"),
      "/addresses/a_recorder/gateway", "undecided"));
}

// RFC 3927, 2.7: a router must not send such an address on; a device takes one where DHCP gave it none.
TEST(Reached, AUnitWithALinkLocalAddressDoesNotGetOut) {
  const std::vector<std::string> operations = {set("/networks/net/range", R"("169.254.0.0/16")"),
                                               set("/addresses/a_unit/address", R"("169.254.7.13")")};
  EXPECT_EQ(reached_verdict("way_out", "unit"), Verdict::proven);
  EXPECT_EQ(reached_verdict("way_out", "unit", operations), Verdict::broken);
}

TEST(Reached, ARouterThatSendsOnMayKnowAWay) {
  auto operations = yard_apart("router_2", "router_2");
  operations.insert(operations.begin(), set("/routers/router_2", R"({"name": "Second router"})"));
  operations.push_back(set("/addresses/a_router_2", R"({"device": "router_2", "network": "net", "given_by": "fixed",
      "address": "192.168.20.2", "gateway": "router"})"));
  EXPECT_EQ(reached_verdict("reached", "yard", operations), Verdict::unanswered);
}

TEST(Reached, CablesHaveToBeThere) {
  EXPECT_EQ(reached_verdict("reached", "yard", {R"({"op": "remove", "path": "/data_links/l_recorder"})"}),
            Verdict::unanswered);
  EXPECT_EQ(reached_verdict("reached", "yard", {set("/data_links/l_second", R"({"a": "switch", "b": "recorder",
      "cable": "none"})")}),
            Verdict::unanswered);
}

TEST(Reached, AUnitWithoutGatewayKeepsItsClips) {
  EXPECT_EQ(reached_verdict("way_out", "unit"), Verdict::proven);
  EXPECT_EQ(reached_verdict("way_out", "unit", {set("/addresses/a_unit/gateway", R"("none")")}), Verdict::broken);
}

TEST(Reached, AGatewayThatIsNotInTheNetworkIsNoWayOut) {
  EXPECT_EQ(reached_verdict("way_out", "unit",
                            {set("/networks/office", R"({"range": "192.168.1.0/24", "has_pool": false})"),
                             set("/addresses/a_router/network", R"("office")"),
                             set("/addresses/a_router/address", R"("192.168.1.1")")}),
            Verdict::broken);
}

TEST(Reached, AnotherRouterAsGatewayMayLeadOut) {
  EXPECT_EQ(reached_verdict("way_out", "unit",
                            {set("/routers/router_2", R"({"name": "Second router"})"),
                             set("/addresses/a_unit/gateway", R"("router_2")")}),
            Verdict::unanswered);
}

TEST(Reached, AStreamThatGoesElsewhereIsBroken) {
  EXPECT_EQ(reached_verdict("stream_to", "ch1"), Verdict::proven);
  EXPECT_EQ(reached_verdict("stream_to", "ch1", {set("/cameras/yard/streams/all/to", R"("unit")")}), Verdict::broken);
  EXPECT_EQ(reached_verdict("stream_to", "ch1", {set("/channels/ch1/recorder", R"("none")")}), Verdict::broken);
  EXPECT_EQ(
      reached_verdict("stream_to", "ch1",
                      {set("/channels/ch1/recorder", R"("none")"), set("/cameras/yard/streams/all/to", R"("unit")")}),
      Verdict::proven);
}

TEST(Reached, LivePicturesAloneAreNotAsked) {
  const auto all = check_reached(network_of(addressed_network(), patch_of({set("/channels/ch1/live_only", "true")})));
  EXPECT_FALSE(any(all, "stream_to", "ch1"));
  EXPECT_FALSE(any(all, "reached", "yard"));
}

TEST(Reached, WhatIsMissingIsNamed) {
  expect_unanswered(check_reached,
                    {{"/addresses/a_yard", "reached", "yard", "/addresses"},
                     {"/addresses/a_yard/network", "reached", "yard"},
                     {"/addresses/a_recorder/network", "reached", "recorder"},
                     {"/data_links/l_recorder", "reached", "yard", "/data_links"},
                     {"/addresses/a_unit", "way_out", "unit", "/addresses"},
                     {"/addresses/a_unit/gateway", "way_out", "unit"},
                     {"/addresses/a_unit/network", "way_out", "unit"},
                     {"/addresses/a_router", "way_out", "unit", "/addresses"},
                     {"/units/unit/monitoring", "way_out", "unit"},
                     {"/monitoring_paths/path/uplink", "way_out", "unit"},
                     {"/uplinks/line/router", "way_out", "unit"},
                     {"/channels/ch1/recorder", "stream_to", "ch1"},
                     {"/channels/ch1/camera", "stream_to", "ch1"},
                     {"/channels/ch1/stream", "stream_to", "ch1"},
                     {"/cameras/yard/streams/all/to", "stream_to", "ch1"}},
                    addressed_network());
}

}  // namespace
}  // namespace zoneproof::carriage
