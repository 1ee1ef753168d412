#include "base/file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <system_error>
#include <utility>

#include "messages/base.hpp"

namespace zoneproof {

namespace {

/// A file descriptor that closes itself.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() { close(); }

  bool open() const { return number_ >= 0; }
  int number() const { return number_; }
  bool close() {
    const int number = number_;
    number_ = -1;
    return number < 0 || ::close(number) == 0;
  }

 private:
  int number_;
};

/// The first byte of a pipe, if there is one yet. False: nobody has it open for writing, and nothing would ever come.
bool take_first(const Descriptor& pipe, std::string& bytes) {
  char first = 0;
  const ssize_t count = ::read(pipe.number(), &first, 1);
  if (count == 1) bytes.push_back(first);
  return count != 0;
}

/// Opened without waiting, read and written with.
bool wait_for(const Descriptor& file) {
  const int flags = ::fcntl(file.number(), F_GETFL);
  return flags >= 0 && ::fcntl(file.number(), F_SETFL, flags & ~O_NONBLOCK) == 0;
}

std::string reason() { return std::strerror(errno); }

bool write_all(const Descriptor& file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file.number(), bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

/// A file beside `target` that nobody else has. Its name is left in `temporary`; with no number where none could be
/// made.
Descriptor make_temporary(const std::string& target, std::string& temporary) {
  constexpr int most_left_behind = 100;  // by killed processes of the same number
  for (int i = 0; i < most_left_behind; ++i) {
    temporary = fmt::format("{}.saving-{}-{}", target, ::getpid(), i);
    const int number = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (number >= 0 || errno != EEXIST) return Descriptor(number);
  }
  return Descriptor(-1);
}

/// Permissions for the new file: those of the one it replaces, else what the process's mask leaves of rw-rw-rw-.
bool fill_temporary(Descriptor& file, const std::string& replaced, std::string_view bytes) {
  struct stat old {};
  if (::stat(replaced.c_str(), &old) == 0 && ::fchmod(file.number(), old.st_mode & 07777U) != 0) return false;
  return write_all(file, bytes) && ::fsync(file.number()) == 0 && file.close();
}

/// A device, a pipe or a socket is written into; to put a file in its place would destroy it. One that nobody reads is
/// not waited for.
std::optional<Message> write_into_stream(const std::string& path, std::string_view bytes) {
  Descriptor stream(::open(path.c_str(), O_WRONLY | O_NONBLOCK | O_CLOEXEC));
  if (stream.open() && wait_for(stream) && write_all(stream, bytes) && stream.close()) return std::nullopt;
  return say::file_not_written(path, reason()).at(Place{path, "", 0, 0});
}

}  // namespace

std::string behind_links(const std::string& path) {
  std::error_code failed;
  const std::filesystem::path real = std::filesystem::canonical(path, failed);
  if (!failed) return real;
  const std::filesystem::path leads_to = std::filesystem::read_symlink(path, failed);
  if (failed) return path;  // a new file, or one that cannot be looked at
  const std::filesystem::path there = std::filesystem::path(path).parent_path() / leads_to;
  struct stat status {};
  return ::stat(there.c_str(), &status) != 0 && errno == ELOOP ? path : behind_links(there);
}

bool sync_folder(const std::string& folder) {
  Descriptor descriptor(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  return descriptor.open() && ::fsync(descriptor.number()) == 0;
}

std::optional<std::string> read_file(const std::string& path, std::vector<Message>& messages, std::size_t limit) {
  const Place place{path, "", 0, 0};
  const auto refuse = [&](Message message) {
    messages.push_back(std::move(message).at(place));
    return std::nullopt;
  };
  Descriptor file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
  if (!file.open()) {
    return refuse(errno == ENOENT ? say::file_missing(path) : say::file_unreadable(path, reason()));
  }
  struct stat status {};
  if (::fstat(file.number(), &status) != 0) return refuse(say::file_unreadable(path, reason()));
  if (S_ISDIR(status.st_mode)) return refuse(say::file_is_folder(path));
  std::string bytes;
  if (S_ISFIFO(status.st_mode) && !take_first(file, bytes)) return refuse(say::file_pipe_without_writer(path));
  if (!wait_for(file)) return refuse(say::file_unreadable(path, reason()));

  // Read to the end and not to the size told: a pipe has none, and a file may grow meanwhile.
  char block[1U << 16U];
  for (;;) {
    const ssize_t count = ::read(file.number(), block, sizeof block);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return refuse(say::file_unreadable(path, reason()));
    if (count == 0) return bytes;
    bytes.append(block, static_cast<std::size_t>(count));
    if (bytes.size() > limit) {
      const auto told = std::max<long long>(status.st_size, static_cast<long long>(bytes.size()));
      return refuse(say::file_too_large(path, told, static_cast<long long>(limit)));
    }
  }
}

std::optional<Message> save_file(const std::string& path, std::string_view bytes) {
  const Place place{path, "", 0, 0};
  const std::string target = behind_links(path);
  struct stat status {};
  if (::stat(target.c_str(), &status) != 0) {
    if (errno == ELOOP) return say::file_not_written(path, reason()).at(place);
  } else {
    if (S_ISDIR(status.st_mode)) return say::file_is_folder(path).at(place);
    if (!S_ISREG(status.st_mode)) return write_into_stream(path, bytes);
    if ((status.st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)) == 0) return say::file_write_protected(path).at(place);
  }

  std::string temporary;
  Descriptor file = make_temporary(target, temporary);
  if (!file.open()) {
    const int why = errno;
    struct stat folder {};
    const bool no_folder = ::stat(folder_of(target).c_str(), &folder) != 0;
    errno = why;
    return (no_folder ? say::folder_missing(folder_of(path)) : say::file_not_written(path, reason())).at(place);
  }
  if (!fill_temporary(file, target, bytes) || std::rename(temporary.c_str(), target.c_str()) != 0) {
    Message message = say::file_not_written(path, reason()).at(place);
    ::unlink(temporary.c_str());
    return message;
  }
  if (!sync_folder(folder_of(target))) return say::file_written_unsafely(path, reason()).at(place);
  return std::nullopt;
}

}  // namespace zoneproof
