// The server's smaller parts, each by itself.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <thread>

#include "base/file.hpp"
#include "server/attempts.hpp"
#include "server/authority.hpp"
#include "server/lane.hpp"
#include "server/metrics.hpp"
#include "server/recorded.hpp"
#include "server/secrets.hpp"
#include "server/works.hpp"

namespace zoneproof::server {
namespace {

using Json = nlohmann::ordered_json;
using namespace std::chrono_literals;

TEST(Passwords, FitTheirHashAndNoOther) {
  const std::string hash = hash_of_password("seven quiet otters");
  EXPECT_EQ(hash.rfind("$argon2id$v=19$", 0), 0u) << hash;  // RFC 9106, version 1.3
  EXPECT_TRUE(password_fits("seven quiet otters", hash));
  EXPECT_FALSE(password_fits("seven quiet otter", hash));
  EXPECT_NE(hash, hash_of_password("seven quiet otters")) << "salted";
  EXPECT_FALSE(password_fits("", ""));
  EXPECT_FALSE(password_fits("anything", "no hash"));
}

TEST(Tokens, BelongToTextAndKey) {
  // RFC 4231, test case 2, cut to 256 bits of HMAC-SHA-512 (libsodium's crypto_auth_hmacsha512256).
  EXPECT_EQ(tag_of("what do ya want for nothing?", "Jefe"),
            "164b7a7bfcf819e2e395fbe73b56e0a387bd64222e831fd610270cd7ea250554");
  EXPECT_NE(tag_of("a", "key"), tag_of("b", "key"));
  EXPECT_NE(tag_of("a", "key"), tag_of("a", "other"));
  EXPECT_TRUE(same_secret("abc", "abc"));
  EXPECT_FALSE(same_secret("abc", "abd"));
  EXPECT_FALSE(same_secret("abc", "ab"));
  EXPECT_EQ(random_name().size(), 64u);
  EXPECT_NE(random_name(), random_name());
}

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "zoneproof-XXXXXX").string();
    path = mkdtemp(name.data());
  }
  ~Folder() { std::filesystem::remove_all(path); }
  std::filesystem::path path;
};

TEST(Secrets, AreTheirOwnersAlone) {
  const Folder folder;
  const std::string path = (folder.path / "visits.key").string();
  std::vector<Message> problems;
  const auto key = key_of_file(path, problems);
  ASSERT_TRUE(key && problems.empty());
  struct stat about {};
  ASSERT_EQ(::stat(path.c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0600U);
  EXPECT_EQ(key_of_file(path, problems), key) << "the same the next time";
  ASSERT_EQ(::chmod(path.c_str(), 0640), 0);
  EXPECT_FALSE(key_of_file(path, problems));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems.front().code, "server_secret_open_to_others");
}

// What a killed run left holds the bytes of a secret, and nobody would look for it.
TEST(Secrets, OfAKilledRunAreNotLeftBehind) {
  const Folder folder;
  const std::string path = (folder.path / "visits.key").string();
  ASSERT_FALSE(save_file(path + ".saving-1-0", "half of a key"));
  std::vector<Message> problems;
  EXPECT_TRUE(key_of_file(path, problems));
  EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder.path), {}), 1);
}

TEST(Secrets, OfAFolderThatIsNoneAreRefused) {
  const Folder folder;
  const std::string path = (folder.path / "nowhere" / "visits.key").string();
  std::vector<Message> problems;
  EXPECT_FALSE(key_of_file(path, problems));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems.front().code, "folder_missing");
}

TEST(Authority, SpeaksForOwnNetworksAndNames) {
  const Folder folder;
  std::vector<Message> problems;
  const auto first = authority_of(folder.path.string(), {{"workshop.local"}, {"192.168.1.5"}}, problems);
  ASSERT_TRUE(first) << problems.size();
  EXPECT_EQ(fingerprint(first->der).size(), 32u * 3 - 1);
  const auto same = authority_of(folder.path.string(), {{"workshop.local"}, {"192.168.1.5"}}, problems);
  EXPECT_EQ(same->identity.chain, first->identity.chain);
  const auto moved = authority_of(folder.path.string(), {{"workshop.local"}, {"10.0.0.9"}}, problems);
  EXPECT_EQ(moved->der, first->der) << "phones trust the same authority after the address has changed";
  EXPECT_NE(moved->identity.chain, first->identity.chain);
  EXPECT_FALSE(authority_of(folder.path.string(), {{"bank.example"}, {}}, problems));
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems.front().code, "server_authority_not_for");
}

TEST(Attempts, AreFreeAtFirstAndThenWait) {
  Attempts attempts;
  const auto begun = Attempts::Clock::now();
  for (int i = 0; i < Attempts::kFree; ++i) EXPECT_EQ(attempts.begin("ada", "10.0.0.1", begun), 0s);
  EXPECT_EQ(attempts.begin("ada", "10.0.0.1", begun), Attempts::kFirstWait);
  EXPECT_EQ(attempts.begin("ada", "10.0.0.2", begun), Attempts::kFirstWait) << "from elsewhere too";
  EXPECT_EQ(attempts.begin("ben", "10.0.0.1", begun), Attempts::kFirstWait) << "and another name";
  EXPECT_EQ(attempts.begin("ben", "10.0.0.2", begun), 0s);
  EXPECT_EQ(attempts.begin("ada", "10.0.0.1", begun + 5s), 0s);
  EXPECT_EQ(attempts.begin("ada", "10.0.0.1", begun + 5s), 10s) << "twice as long";
  attempts.succeeded("ada", "10.0.0.1");
  EXPECT_EQ(attempts.begin("ada", "10.0.0.1", begun + 5s), 0s);
}

TEST(Attempts, NeverWaitLongerThanTheLongestAndAreForgotten) {
  Attempts attempts;
  auto now = Attempts::Clock::now();
  std::chrono::seconds wait{0}, longest{0};
  for (int i = 0; i < 60; ++i) {
    wait = attempts.begin("ada", "10.0.0.1", now);
    longest = std::max(longest, wait);
    now += wait;
  }
  EXPECT_EQ(longest, Attempts::kLongest);
  EXPECT_EQ(attempts.begin("ada", "10.0.0.1", now + Attempts::kForgotten + 1s), 0s);
}

TEST(Lane, WorksInOrderAndRefusesWhenFull) {
  std::mutex gate;
  gate.lock();
  std::vector<int> done;
  Lane lane(1, 3);
  EXPECT_TRUE(lane.put([&] { const std::lock_guard wait(gate); }));
  while (lane.waiting() > 0) std::this_thread::yield();
  for (int i = 0; i < 3; ++i) EXPECT_TRUE(lane.put([&, i] { done.push_back(i); }));
  EXPECT_FALSE(lane.put([] {}));
  gate.unlock();
  lane.close();
  EXPECT_THAT(done, testing::ElementsAre(0, 1, 2)) << "what was taken is finished";
  EXPECT_FALSE(lane.put([] {}));
}

TEST(Works, AreStoppedAtTheirNextWord) {
  std::atomic<int> told{0};
  Works works([&](const std::string&, const Json&) { ++told; });
  std::atomic<bool> begun{false};
  const auto number =
      works.begin({"handover", "mill", "ada", Language::english}, [&](const results::Progress& progress) {
        while (true) {
          progress("going on");
          begun = true;
        }
        return WorkMade{};
      });
  ASSERT_TRUE(number);
  while (!begun) std::this_thread::yield();
  EXPECT_EQ(works.state(*number)->at("state"), "running");
  EXPECT_TRUE(works.stop(*number));
  works.close();
  EXPECT_EQ(works.state(*number)->at("state"), "stopped");
  EXPECT_GE(told, 1);
  EXPECT_FALSE(works.stop(*number + 1));
}

TEST(Works, TellFilesProblemsAndFaults) {
  Works works([](const std::string&, const Json&) {});
  const auto good = works.begin({"handover", "mill", "ada", Language::english}, [](const results::Progress&) {
    return WorkMade{{{"a.zip", "application/zip", "bytes"}}, {}};
  });
  const auto bad = works.begin({"handover", "mill", "ada", Language::english},
                               [](const results::Progress&) -> WorkMade { throw std::runtime_error("broken inside"); });
  while (works.under_way() > 0) std::this_thread::yield();
  EXPECT_EQ(works.state(*good)->at("file"), "/api/work/1/files/a.zip");
  EXPECT_EQ(works.file(*good, "a.zip")->bytes, "bytes");
  EXPECT_EQ(works.file(*good, "b.zip"), nullptr);
  EXPECT_EQ(works.state(*bad)->at("state"), "failed");
  EXPECT_EQ(works.state(*bad)->at("problems").at(0).at("code"), "own_fault");
}

TEST(Recorded, IsWhatWasMeasuredAndRead) {
  const auto first = [](const char* operations) { return first_not_recorded(Json::parse(operations)); };
  EXPECT_FALSE(first(R"([{"op": "add", "path": "/cables/c/length_m", "value": {"value": 3, "origin": "measured"}}])"));
  EXPECT_FALSE(first(
      R"([{"op": "add", "path": "/parts/p/zone_terminal/readings/r1", "value": {}}, {"op": "test", "path": "/name"}])"));
  EXPECT_FALSE(first(R"([{"op": "remove", "path": "/parts/p/zone_terminal/readings/r1"}])"));
  EXPECT_EQ(first(R"([{"op": "replace", "path": "/cables/c/length_m", "value": 3}])"), "/cables/c/length_m");
  EXPECT_EQ(first(R"([{"op": "remove", "path": "/cables/c"}])"), "/cables/c");
  EXPECT_EQ(first(R"([{"op": "move", "from": "/zones/z", "path": "/parts/p/zone_terminal/readings/r1"}])"),
            "/parts/p/zone_terminal/readings/r1");
  EXPECT_EQ(first(R"([{"op": "add", "path": "/zones/z", "value": {"origin": "typical"}}])"), "/zones/z");
  EXPECT_EQ(first(R"([{"op": "replace", "path": "/parts/p", "value": {"origin": "measured", "battery": {}}}])"),
            "/parts/p")
      << "a data sheet is no number";
  EXPECT_EQ(first(R"([{"op": "replace", "path": "/parts/p", "value": {"origin": "measured"}}])"), "/parts/p");
  EXPECT_EQ(first(R"([{"op": "add", "path": "/x", "value": {"origin": "measured", "value": {"a": 1}}}])"), "/x");
}

TEST(Metrics, AreTextThatACollectorReads) {
  Metrics metrics;
  metrics.answered("GET", "/api/sites", 200, 3ms);
  metrics.answered("GET", "/api/sites", 200, 30ms);
  const std::string text = metrics.text({{"zoneproof_connections", "Open.", 2.0}});
  EXPECT_THAT(text,
              testing::HasSubstr("zoneproof_requests_total{method=\"GET\",route=\"/api/sites\",status=\"200\"} 2\n"));
  EXPECT_THAT(text, testing::HasSubstr(
                        "zoneproof_request_seconds_bucket{method=\"GET\",route=\"/api/sites\",le=\"0.005\"} 1\n"));
  EXPECT_THAT(text, testing::HasSubstr("le=\"+Inf\"} 2\n"));
  EXPECT_THAT(text, testing::HasSubstr("# TYPE zoneproof_connections gauge\nzoneproof_connections 2\n"));
}

}  // namespace
}  // namespace zoneproof::server
