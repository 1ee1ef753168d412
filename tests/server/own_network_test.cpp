// Where the program answers: the machine itself and its owner's network, by the registries of the named documents.
#include "server/own_network.hpp"

#include <gtest/gtest.h>

namespace zoneproof::server {
namespace {

TEST(OwnNetwork, IsWhatIsSetAsideForPrivateUse) {
  for (const char* own : {"10.0.0.1", "172.16.0.1", "172.31.255.254", "192.168.1.5",  // RFC 1918
                          "169.254.7.7", "fe80::1",                                   // RFC 3927, RFC 4291
                          "100.64.0.1", "100.127.255.254",                            // RFC 6598
                          "fd12:3456:789a::1", "::ffff:192.168.1.5"})                 // RFC 4193, RFC 4291 2.5.5.2
    EXPECT_TRUE(is_of_own_network(own)) << own;
}

TEST(OwnNetwork, IsNotWhatTheWorldReaches) {
  for (const char* outside : {"172.32.0.1", "192.169.0.1", "100.128.0.1", "11.0.0.1", "2600::1", "::ffff:11.0.0.1",
                              "0.0.0.0", "::", "no address", ""})
    EXPECT_FALSE(is_of_own_network(outside)) << outside;
}

}  // namespace
}  // namespace zoneproof::server
