// On what the clips of a zone lean: all that carries them, feeds them or lets others in.
#include "carriage/leans_on.hpp"

#include <gmock/gmock.h>

#include "carriage/addressed_site.hpp"
#include "carriage/route.hpp"

namespace zoneproof::carriage {
namespace {

using testing::Contains;
using testing::Not;

/// The addressed network with a zone whose clips are those of the yard camera.
std::set<std::string> leaned_on(std::vector<std::string> operations = {}) {
  operations.push_back(set("/zones", R"({"z": {"number": 1, "name": "Yard", "type": "intruder"}})"));
  operations.push_back(set("/triggers", R"({"t": {"zone": "z", "source": "loop_tap", "unit": "unit", "channel": 1}})"));
  const site::Site site = network_of(addressed_network(), patch_of(operations));
  return clips_lean_on(site, Routes(site), "z");
}

TEST(LeansOn, EverythingOnTheWayWithItsAddresses) {
  const std::set<std::string> all = leaned_on();
  for (const char* thing :
       {"yard", "l_yard", "switch", "l_recorder", "recorder", "l_unit", "unit", "l_router", "router", "line", "path",
        "backup", "a_yard", "a_recorder", "a_unit", "a_router", "net", "ch1"})
    EXPECT_THAT(all, Contains(thing));
  for (const char* thing : {"hall", "injector", "l_hall", "ch2"}) EXPECT_THAT(all, Not(Contains(thing)));
}

// The yard camera takes its power from an injector over a cable of its own.
TEST(LeansOn, WhatFeedsACameraOverAnotherCable) {
  const std::set<std::string> all =
      leaned_on({set("/data_links/l_power", R"({"name": "Power alone", "a": "beside", "b": "yard", "cable": "none"})"),
                 set("/backups/far", R"({"name": "Backup in the yard", "part": "stand", "loads_complete": true})"),
                 set("/injectors/beside", R"({"name": "Injector in the yard", "part": "adder", "powered_by": "far"})"),
                 set("/cameras/yard/powered_by", R"("l_power")")});
  for (const char* thing : {"l_power", "beside", "far"}) EXPECT_THAT(all, Contains(thing));
}

TEST(LeansOn, ARouterElsewhereThatHandsAPortOnToTheRecorder) {
  const std::vector<std::string> other = {
      set("/routers/other", R"({"name": "Router of the shop next door", "part": "gate", "powered_by": "none"})")};
  EXPECT_THAT(leaned_on(other), Not(Contains("other")));
  std::vector<std::string> open = other;
  open.push_back(set("/routers/other/forwarded",
                     R"({"way_in": {"transport": "tcp", "outside_port": 8000, "inside_port": 80, "to": "recorder"}})"));
  EXPECT_THAT(leaned_on(open), Contains("other"));
}

}  // namespace
}  // namespace zoneproof::carriage
