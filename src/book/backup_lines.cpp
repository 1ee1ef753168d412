#include "book/backup_lines.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <utility>

#include "base/file.hpp"
#include "base/json_text.hpp"
#include "base/sha256.hpp"
#include "messages/base.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

LineChain::LineChain() : sha256_(sha256_hex("")) {}

void LineChain::add(std::string_view line) {
  std::string joined = sha256_ + "\n";
  joined += line;
  sha256_ = sha256_hex(joined);
  ++lines_;
}

LineWriter::LineWriter(std::string path)
    : path_(std::move(path)), temporary_(path_ + ".saving-" + std::to_string(::getpid())) {
  // It holds password hashes: nobody else may read it, at no moment.
  const int made = ::open(temporary_.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, 0600);
  if (made >= 0) file_ = ::fdopen(made, "wb");
  if (file_ == nullptr) fault_ = std::strerror(errno);
}

LineWriter::~LineWriter() {
  if (file_ == nullptr) return;
  std::fclose(file_);
  ::unlink(temporary_.c_str());
}

void LineWriter::line(std::string_view text) {
  chain_.add(text);
  if (!fault_.empty()) return;
  if (std::fwrite(text.data(), 1, text.size(), file_) != text.size() || std::fputc('\n', file_) == EOF) {
    fault_ = std::strerror(errno);
  }
}

std::optional<Message> LineWriter::finish() {
  if (fault_.empty() && (std::fflush(file_) != 0 || ::fsync(::fileno(file_)) != 0)) fault_ = std::strerror(errno);
  if (fault_.empty() && std::rename(temporary_.c_str(), path_.c_str()) != 0) fault_ = std::strerror(errno);
  if (!fault_.empty()) return say::file_not_written(path_, fault_);
  std::fclose(std::exchange(file_, nullptr));
  const std::string folder = std::filesystem::path(path_).parent_path();
  if (!sync_folder(folder.empty() ? "." : folder)) return say::file_written_unsafely(path_, std::strerror(errno));
  return std::nullopt;
}

LineReader::LineReader(const std::string& path) {
  std::error_code error;
  if (std::filesystem::is_regular_file(path, error)) file_.open(path, std::ios::binary);
}

std::optional<std::string> LineReader::next() {
  std::string line;
  std::streambuf& bytes = *file_.rdbuf();
  ++line_;
  for (int byte = bytes.sbumpc(); byte != std::char_traits<char>::eof(); byte = bytes.sbumpc()) {
    if (byte == '\n') return line;
    line.push_back(static_cast<char>(byte));
    if (line.size() > kLargestJsonText) break;
  }
  damaged_ = !line.empty();  // every line ends
  return std::nullopt;
}

}  // namespace zoneproof::book
