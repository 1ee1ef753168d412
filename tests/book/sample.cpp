#include "book/sample.hpp"

#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "site/file.hpp"
#include "site/patch.hpp"

namespace zoneproof::book {

namespace {

std::unique_ptr<soci::session> session_of(const Address& address) {
  if (address.postgresql.empty()) {
    return std::make_unique<soci::session>(soci::sqlite3, "db=\"" + address.folder + "/book.sqlite\" timeout=5");
  }
  auto sql = std::make_unique<soci::session>("postgresql", address.postgresql);
  *sql << "SET client_min_messages TO warning";
  *sql << "SET search_path TO zoneproof_book";
  return sql;
}

Address server() { return {"", postgresql_of_tests()}; }

}  // namespace

Folder::Folder() {
  std::string name = (std::filesystem::temp_directory_path() / "zoneproof-book-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string postgresql_of_tests() {
  const char* said = std::getenv("ZONEPROOF_TEST_POSTGRESQL");
  return said == nullptr ? "" : said;
}

void clear_postgresql() { behind_its_back(server(), "DROP SCHEMA IF EXISTS zoneproof_book CASCADE"); }

void cut_postgresql() {
  behind_its_back(server(),
                  "SELECT COUNT(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND "
                  "datname = current_database()");
}

void behind_its_back(const Address& address, const std::string& statement) { *session_of(address) << statement; }

long long number_in(const Address& address, const std::string& question) {
  long long number = 0;
  *session_of(address) << question, soci::into(number);
  return number;
}

std::unique_ptr<Book> opened(const Address& address, Opening opening) { return good(Book::open(address, opening)); }

std::string codes(const std::vector<Message>& messages) {
  std::string out;
  for (const Message& message : messages) out += (out.empty() ? "" : ", ") + message.code;
  return out;
}

site::Site site_of(std::string_view text) {
  site::ReadResult read = site::read_site(text, "sample");
  if (!read.site) throw std::runtime_error("the sample is no site: " + codes(read.messages));
  return *std::move(read.site);
}

site::Site small_site(const std::string& name) {
  return site_of(nlohmann::json{{"format", "zoneproof-site"}, {"version", 3}, {"revision", 1}, {"name", name}}.dump());
}

site::Site demo_site(const std::string& name) {
  std::ifstream file(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + name + ".site.json", std::ios::binary);
  return site_of(std::string(std::istreambuf_iterator<char>(file), {}));
}

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

NewSite new_site(const std::string& id, const std::string& edit) { return {id, edit, "Ada", kNow, "drawn up"}; }

Made made_on(const site::Site& base, const std::string& id, const std::string& edit, const std::string& operations) {
  nlohmann::json patch = {{"format", "zoneproof-patch"}, {"version", 1}};
  patch["base_revision"] = {{"number", base.revision}, {"sha256", site::site_hash(base)}};
  patch["operations"] = nlohmann::json::parse(operations);
  const std::string text = patch.dump();
  site::PatchResult result = site::apply_patch(base, text, "patch");
  if (!result.site) throw std::runtime_error("the sample's patch does not apply: " + codes(result.messages));
  return {{id, edit, base.revision, text, result.undo, "Ada", kNow, "because"}, *std::move(result.site)};
}

Made noted(const site::Site& base, const std::string& id, const std::string& edit, const std::string& note) {
  const nlohmann::json operation = {{"op", "add"}, {"path", "/note"}, {"value", note}};
  return made_on(base, id, edit, nlohmann::json::array({operation}).dump());
}

}  // namespace zoneproof::book
