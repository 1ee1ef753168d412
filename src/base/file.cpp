#include "base/file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
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
  Descriptor& operator=(Descriptor&& other) noexcept {
    close();
    number_ = std::exchange(other.number_, -1);
    return *this;
  }
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

bool locked(const Descriptor& file, int how) {
  int got = 0;
  do got = ::flock(file.number(), how);
  while (got != 0 && errno == EINTR);
  return got == 0;
}

/// A file beside the target that nobody else has: locked while somebody writes it, so that others can tell it from what
/// a killed process left behind.
struct Temporary {
  std::string name;
  Descriptor file{-1};    ///< no number where none could be made
  Descriptor locked{-1};  ///< holds the lock beyond the closing of the file, until it has its name
};

Temporary make_temporary(const std::string& target, mode_t permissions) {
  constexpr int most_left_behind = 100;  // by killed processes of the same number
  for (int i = 0; i < most_left_behind; ++i) {
    Temporary made{fmt::format("{}.saving-{}-{}", target, ::getpid(), i)};
    made.file = Descriptor(::open(made.name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, permissions));
    if (!made.file.open() && errno != EEXIST) return made;
    if (!made.file.open()) continue;
    const bool alone = locked(made.file, LOCK_EX);  // a file system without locks: nobody takes it for left behind
    struct stat status {};
    if (alone && ::fstat(made.file.number(), &status) == 0 && status.st_nlink == 0) continue;  // before it was locked
    made.locked = Descriptor(::fcntl(made.file.number(), F_DUPFD_CLOEXEC, 0));
    return made;
  }
  errno = EEXIST;
  return {};
}

/// Permissions for the new file: those of the one it replaces, else what the process's mask leaves of rw-rw-rw-.
bool fill_temporary(Descriptor& file, const std::string& replaced, std::string_view bytes, Access access) {
  struct stat old {};
  const bool as_before = access == Access::as_before && ::stat(replaced.c_str(), &old) == 0;
  if (as_before && ::fchmod(file.number(), old.st_mode & 07777U) != 0) return false;
  return write_all(file, bytes) && ::fsync(file.number()) == 0 && file.close();
}

/// "PATH.saving-PID-N" of a target: what make_temporary() may have made, in any process.
bool is_temporary_of(const std::string& target, const std::string& name) {
  const auto digits = [&](std::size_t from, std::size_t to) {
    return from < to && name.find_first_not_of("0123456789", from) >= to;
  };
  const std::string before = target + ".saving-";
  const std::size_t dash = name.rfind('-');
  return name.rfind(before, 0) == 0 && dash > before.size() && digits(before.size(), dash) &&
         digits(dash + 1, name.size());
}

/// What killed processes left beside a file.
void remove_leftovers(const std::string& target) {
  std::vector<std::string> left;
  std::error_code failed;
  const std::string wanted = std::filesystem::path(target).filename().string();
  for (std::filesystem::directory_iterator at(folder_of(target), failed), end; !failed && at != end;
       at.increment(failed))
    if (is_temporary_of(wanted, at->path().filename().string())) left.push_back(at->path().string());
  for (const std::string& temporary : left) remove_leftover(temporary);
}

std::optional<int> numbered(const std::string& name) {
  int number = 0;
  const auto [end, fault] = std::from_chars(name.data(), name.data() + name.size(), number);
  return fault == std::errc() && end == name.data() + name.size() ? std::optional(number) : std::nullopt;
}

/// The number under which this process has open what a path leads to: 1 of "/dev/stdout". Followed link by link, for
/// what such a link leads to may have no name in the file system.
std::optional<int> open_as(std::filesystem::path path) {
  const std::string ours = fmt::format("/proc/{}/fd", ::getpid());
  constexpr int most_links = 40;  // as many as Linux follows (path_resolution(7))
  for (int i = 0; i < most_links; ++i) {
    std::error_code failed;
    const std::filesystem::path above = path.parent_path();
    const std::filesystem::path folder = std::filesystem::canonical(above.empty() ? "." : above, failed);
    const std::string name = path.filename().string();
    if (!failed && folder == ours) return numbered(name);
    const std::filesystem::path leads_to = std::filesystem::read_symlink(path, failed);
    if (failed) return std::nullopt;
    path = folder / leads_to;
  }
  return std::nullopt;
}

/// A device, a pipe or a socket is written into; to put a file in its place would destroy it. One that nobody reads is
/// not waited for. What is open already is written on where it stands, as a shell's redirection has it.
std::optional<Message> write_into_stream(const std::string& path, std::string_view bytes) {
  const auto number = open_as(path);
  Descriptor stream(number ? ::fcntl(*number, F_DUPFD_CLOEXEC, 0)
                           : ::open(path.c_str(), O_WRONLY | O_NONBLOCK | O_CLOEXEC));
  if (stream.open() && (number || wait_for(stream)) && write_all(stream, bytes) && stream.close()) return std::nullopt;
  return say::file_not_written(path, reason()).at(Place{path, "", 0, 0});
}

/// The message for a temporary file that could not be made.
Message not_made(const std::string& path, const std::string& target) {
  const std::string why = reason();
  struct stat folder {};
  const bool no_folder = ::stat(folder_of(target).c_str(), &folder) != 0;
  return no_folder ? say::folder_missing(folder_of(path)) : say::file_not_written(path, why);
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

bool is_stream(const std::string& path) {
  if (open_as(path)) return true;
  struct stat status {};
  return ::stat(path.c_str(), &status) == 0 && !S_ISREG(status.st_mode) && !S_ISDIR(status.st_mode);
}

std::optional<Message> replace_problem(const std::string& path) {
  const Place place{path, "", 0, 0};
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0) {
    if (errno == ELOOP) return say::file_not_written(path, reason()).at(place);
    return std::nullopt;
  }
  if (S_ISDIR(status.st_mode)) return say::file_is_folder(path).at(place);
  if ((status.st_mode & (S_IWUSR | S_IWGRP | S_IWOTH)) == 0) return say::file_write_protected(path).at(place);
  return std::nullopt;
}

bool remove_leftover(const std::string& temporary) {
  const Descriptor file(::open(temporary.c_str(), O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
  if (!file.open() || !locked(file, LOCK_EX | LOCK_NB)) return false;
  // Its writer is dead, or has just given it its name: then something else may be called so by now.
  struct stat held {};
  struct stat named {};
  const bool same = ::fstat(file.number(), &held) == 0 && ::lstat(temporary.c_str(), &named) == 0 &&
                    held.st_dev == named.st_dev && held.st_ino == named.st_ino;
  return same && S_ISREG(held.st_mode) && ::unlink(temporary.c_str()) == 0;
}

std::optional<Message> save_file(const std::string& path, std::string_view bytes, Access access) {
  const Place place{path, "", 0, 0};
  const bool secret = access == Access::owner;
  if (is_stream(path)) {
    if (!secret) return write_into_stream(path, bytes);
    return say::file_not_written(path, std::strerror(EINVAL)).at(place);
  }
  if (auto problem = replace_problem(path);
      problem && !(secret && problem->code == say::file_write_protected(path).code))
    return problem;
  const std::string target = behind_links(path);
  // Not O_TMPFILE, of which a kill leaves nothing: linkat(2) gives it a name that is free, and none that a file has.
  if (secret) remove_leftovers(target);
  Temporary temporary = make_temporary(target, secret ? 0600 : 0666);
  if (!temporary.file.open()) return not_made(path, target).at(place);
  if (!fill_temporary(temporary.file, target, bytes, access) ||
      std::rename(temporary.name.c_str(), target.c_str()) != 0) {
    Message message = say::file_not_written(path, reason()).at(place);
    ::unlink(temporary.name.c_str());
    return message;
  }
  if (!sync_folder(folder_of(target))) return say::file_written_unsafely(path, reason()).at(place);
  return std::nullopt;
}

}  // namespace zoneproof
