// Any bytes as the lines of a backup, once as they are and once with the end that belongs to them: restoring refuses
// them and leaves the book empty, or takes them; then everything in the book can be read or is told to be damaged, and
// a backup of it restores again.
#include <unistd.h>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include "book/backup_lines.hpp"
#include "book/book.hpp"
#include "fuzz/held.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;

/// A folder of this process alone; in memory where the machine has such a place, as each try makes a book.
const std::string& folder() {
  static const std::string path = [] {
    const bool memory = std::filesystem::is_directory("/dev/shm");
    const std::filesystem::path parent = memory ? "/dev/shm" : std::filesystem::temp_directory_path();
    return (parent / ("zoneproof-backup-fuzz-" + std::to_string(::getpid()))).string();
  }();
  return path;
}

std::string with_end(std::string_view bytes) {
  book::LineChain chain;
  std::string out;
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t end = std::min(bytes.find('\n', at), bytes.size());
    chain.add(bytes.substr(at, end - at));
    out += std::string(bytes.substr(at, end - at)) + "\n";
    at = end + 1;
  }
  return out + "{\"lines\":" + std::to_string(chain.lines()) + ",\"sha256\":\"" + chain.sha256() + "\"}\n";
}

/// Everything that a page would ask of a book.
void read_all(book::Book& book) {
  const auto sites = book.sites();
  hold(sites.answer.has_value(), "sites can be listed");
  for (const auto& site : *sites.answer) {
    const auto revisions = book.revisions(site.id);
    for (std::size_t i = 0; revisions.answer && i < revisions.answer->size(); ++i) {
      const auto text = book.text(site.id, (*revisions.answer)[i].number);
      hold(text.answer || !text.problems.empty(), "a text is there or its damage is told");
    }
  }
  hold(book.people().answer.has_value(), "people can be listed");
  hold(book.check().answer.has_value(), "what was taken can be checked");
}

void restore(const std::string& bytes) {
  std::filesystem::remove_all(folder());
  const auto opened = book::Book::open({folder() + "/book", ""});
  hold(opened.answer.has_value(), "a book can be made");
  book::Book& book = **opened.answer;
  const std::string path = folder() + "/input.zpbook", again = folder() + "/again.zpbook";
  std::ofstream(path, std::ios::binary) << bytes;
  const auto told = book.restore(path);
  if (!told.answer) {
    hold(!told.problems.empty(), "a refusal has its reason");
    for (const Message& problem : told.problems) hold(!full_text(problem).empty(), "in words");
    hold(book.sites().answer && book.sites().answer->empty() && book.people().answer->empty(), "and leaves nothing");
    return;
  }
  read_all(book);
  hold(book.backup(again).answer.has_value(), "what was taken can be backed up");
  const auto second = book::Book::open({folder() + "/second", ""});
  hold((*second.answer)->restore(again).answer.has_value(), "and restored again");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(reinterpret_cast<const char*>(data), size);
  restore(bytes);
  restore(with_end(bytes));
  std::filesystem::remove_all(folder());
  return 0;
}
