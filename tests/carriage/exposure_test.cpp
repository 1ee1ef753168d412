// What can be got at from outside, each fault by hand.
#include "carriage/exposure.hpp"

#include "carriage/addressed_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

Verdict exposure_verdict(const char* check, const char* subject, const std::vector<std::string>& operations = {}) {
  return verdict_of(check_exposure, check, subject, operations);
}

std::string service(const char* encrypted, const char* reached_from) {
  return set("/addresses/a_yard/services/pictures", std::string(R"({"transport": "tcp", "port": 554, "encrypted": )") +
                                                        encrypted + R"(, "reached_from": ")" + reached_from + "\"}");
}

const std::string kForwarded = set("/routers/router/forwarded/old", R"({"transport": "tcp", "outside_port": 8080,
    "inside_port": 80, "to": "yard"})");

TEST(Exposure, ASiteWithoutFaultIsProven) {
  const auto all = check_exposure(network_of(addressed_network()));
  EXPECT_GT(all.size(), 20u);
  for (const chain::Evidence& one : all) EXPECT_EQ(one.verdict, Verdict::proven) << one.id << " of " << one.subject;
}

TEST(Exposure, AForwardedPortIsBrokenAndToBeTakenOut) {
  const auto all = check_exposure(network_of(addressed_network(), patch_of({kForwarded})));
  const auto router = only(all, "forwarded_ports", "router");
  EXPECT_EQ(router.verdict, Verdict::broken);
  EXPECT_EQ(router.value, 1.0);
  EXPECT_EQ(router.limit, 0.0);
  ASSERT_EQ(router.remedies.size(), 1u);
  EXPECT_NE(text(router.remedies.front()).find("tcp 8080"), std::string::npos);
  EXPECT_NE(text(router.remedies.front()).find("Yard camera"), std::string::npos);
}

TEST(Exposure, AForwardedPortIsBrokenHoweverManyAreMissing) {
  EXPECT_EQ(only(check_exposure(network_of(addressed_network(),
                                           patch_of({kForwarded, set("/routers/router/forwarded_complete", "false")}))),
                 "forwarded_ports", "router")
                .verdict,
            Verdict::broken);
  EXPECT_EQ(exposure_verdict("forwarded_ports", "router", {set("/routers/router/forwarded_complete", "false")}),
            Verdict::unanswered);
}

TEST(Exposure, APasswordAsDeliveredIsBroken) {
  for (const char* device : {"yard", "recorder", "unit", "router"})
    EXPECT_EQ(exposure_verdict("delivered_password", device,
                               {set(std::string("/addresses/a_") + device + "/own_password", "false")}),
              Verdict::broken);
}

TEST(Exposure, OneOpenDoorOfADeviceIsEnough) {
  const std::string second = set("/addresses/a_second", R"({"device": "router", "network": "net", "given_by": "fixed",
      "address": "192.168.20.99", "gateway": "none", "own_password": false, "services": {}, "services_complete": true})");
  EXPECT_EQ(exposure_verdict("delivered_password", "router", {second}), Verdict::broken);
}

TEST(Exposure, ServicesAreJudgedByFromWhereTheyAreReached) {
  struct Case {
    const char *encrypted, *from;
    Verdict open, plain;
  };
  for (const Case& one : {Case{"false", "own_network", Verdict::proven, Verdict::proven},
                          Case{"false", "site", Verdict::proven, Verdict::broken},
                          Case{"false", "anywhere", Verdict::broken, Verdict::broken},
                          Case{"true", "site", Verdict::proven, Verdict::proven},
                          Case{"true", "anywhere", Verdict::broken, Verdict::proven}}) {
    SCOPED_TRACE(std::string(one.encrypted) + " " + one.from);
    EXPECT_EQ(exposure_verdict("open_services", "yard", {service(one.encrypted, one.from)}), one.open);
    EXPECT_EQ(exposure_verdict("plain_services", "yard", {service(one.encrypted, one.from)}), one.plain);
  }
}

TEST(Exposure, WhatIsFoundOfAServiceDecidesAsFarAsItCan) {
  const auto of = [](const char* check, const char* fields) {
    return exposure_verdict(
        check, "yard",
        {set("/addresses/a_yard/services/odd", std::string(R"({"transport": "tcp", "port": 554, )") + fields + "}")});
  };
  EXPECT_EQ(of("plain_services", R"("reached_from": "own_network")"), Verdict::proven);
  EXPECT_EQ(of("plain_services", R"("encrypted": true)"), Verdict::proven);
  EXPECT_EQ(of("plain_services", R"("encrypted": false)"), Verdict::unanswered);
  EXPECT_EQ(of("plain_services", R"("reached_from": "site")"), Verdict::unanswered);
  EXPECT_EQ(of("open_services", R"("encrypted": true)"), Verdict::unanswered);
}

TEST(Exposure, AnAddressOfTheInternetIsBrokenUnlessTheRouterHasIt) {
  const auto has = [](const char* address) {
    return exposure_verdict("public_address", "a_yard",
                            {set("/addresses/a_yard/address", '"' + std::string(address) + '"')});
  };
  EXPECT_EQ(has("8.20.30.40"), Verdict::broken);
  EXPECT_EQ(has("2600::10"), Verdict::broken);
  for (const char* address : {"10.0.0.5", "172.31.0.5", "100.64.0.5", "169.254.3.5", "fd00::5", "fe80::5"})
    EXPECT_EQ(has(address), Verdict::proven) << address;
  EXPECT_FALSE(any(check_exposure(network_of(addressed_network(),
                                             patch_of({set("/addresses/a_router/address", R"("8.20.30.40")")}))),
                   "public_address", "a_router"));
}

TEST(Exposure, AnAddressFromThePoolIsOfTheKindOfItsNetwork) {
  const auto in = [](const char* range) {
    return exposure_verdict(
        "public_address", "a_yard",
        {set("/networks/net/range", '"' + std::string(range) + '"'), set("/addresses/a_yard/given_by", R"("pool")"),
         R"({"op": "remove", "path": "/addresses/a_yard/address"})"});
  };
  EXPECT_EQ(in("192.168.20.0/24"), Verdict::proven);
  EXPECT_EQ(in("8.20.30.0/24"), Verdict::broken);
  EXPECT_EQ(in("10.0.0.0/7"), Verdict::unanswered);
  EXPECT_EQ(exposure_verdict("public_address", "a_yard",
                             {set("/addresses/a_yard/given_by", R"("pool")"),
                              R"({"op": "remove", "path": "/addresses/a_yard/address"})",
                              R"({"op": "remove", "path": "/addresses/a_yard/network"})"}),
            Verdict::unanswered);
}

TEST(Exposure, AGatewayThatACameraDoesNotNeedIsThin) {
  const auto all =
      check_exposure(network_of(addressed_network(), patch_of({set("/addresses/a_yard/gateway", R"("router")")})));
  EXPECT_EQ(only(all, "way_out_not_needed", "a_yard").verdict, Verdict::thin);
  EXPECT_EQ(only(all, "way_out_not_needed", "a_yard").remedies.size(), 1u);
  EXPECT_EQ(only(all, "way_out_not_needed", "a_recorder").verdict, Verdict::proven);
  EXPECT_FALSE(any(all, "way_out_not_needed", "a_unit")) << "it needs one";
}

TEST(Exposure, AGatewayIntoTheNetworkOfTheRecorderIsNeeded) {
  const std::vector<std::string> apart = {
      set("/networks/outside", R"({"range": "192.168.30.0/24", "vlan": 30, "has_pool": false})"),
      set("/addresses/a_router_outside", R"({"device": "router", "network": "outside", "given_by": "fixed",
          "address": "192.168.30.1", "gateway": "none"})"),
      set("/addresses/a_yard/network", R"("outside")"), set("/addresses/a_yard/gateway", R"("router")"),
      set("/addresses/a_recorder/gateway", R"("router")")};
  for (const char* subject : {"a_yard", "a_recorder"})
    EXPECT_EQ(exposure_verdict("way_out_not_needed", subject, apart), Verdict::proven);
}

TEST(Exposure, ADeviceWithoutAddressInTheFileIsNotForgotten) {
  for (const char* check : {"delivered_password", "open_services", "plain_services"})
    EXPECT_EQ(exposure_verdict(check, "yard", {R"({"op": "remove", "path": "/addresses/a_yard"})"}),
              Verdict::unanswered);
}

TEST(Exposure, WhatIsMissingIsNamed) {
  const char* book = "/rulebooks/european_intruder/entries/";
  const std::string ports = std::string(book) + "forwarded_ports_most",
                    passwords = std::string(book) + "delivered_passwords_most",
                    open = std::string(book) + "open_services_most", plain = std::string(book) + "plain_services_most";
  expect_unanswered(check_exposure,
                    {{"/routers/router/forwarded_complete", "forwarded_ports", "router", nullptr, "incomplete_list"},
                     {"/addresses/a_yard/own_password", "delivered_password", "yard"},
                     {"/addresses/a_yard/services_complete", "open_services", "yard", nullptr, "incomplete_list"},
                     {"/addresses/a_yard/services_complete", "plain_services", "yard", nullptr, "incomplete_list"},
                     {"/addresses/a_yard/address", "public_address", "a_yard"},
                     {"/addresses/a_yard/gateway", "way_out_not_needed", "a_yard"},
                     {ports.c_str(), "forwarded_ports", "router", nullptr, "no_rule"},
                     {passwords.c_str(), "delivered_password", "yard", nullptr, "no_rule"},
                     {open.c_str(), "open_services", "yard", nullptr, "no_rule"},
                     {plain.c_str(), "plain_services", "yard", nullptr, "no_rule"}},
                    addressed_network());
}

}  // namespace
}  // namespace zoneproof::carriage
