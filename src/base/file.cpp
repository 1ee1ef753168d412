#include "base/file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "messages/base.hpp"

namespace zoneproof {

namespace {

/// A file descriptor that closes itself.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
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

/// The file that a symbolic link leads to, so that saving replaces that and not the link.
std::string behind_links(const std::string& path) {
  char* const real = ::realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string result(real);
  std::free(real);
  return result;
}

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

/// Permissions for the new file: those of the one it replaces, else what the process's mask leaves of rw-rw-rw-.
bool write_temporary(const std::string& temporary, const std::string& replaced, std::string_view bytes) {
  Descriptor file(::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666));
  if (!file.open()) return false;
  struct stat old {};
  if (::stat(replaced.c_str(), &old) == 0 && ::fchmod(file.number(), old.st_mode & 07777U) != 0) return false;
  return write_all(file, bytes) && ::fsync(file.number()) == 0 && file.close();
}

bool sync_folder(const std::string& folder) {
  Descriptor descriptor(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  return descriptor.open() && ::fsync(descriptor.number()) == 0;
}

}  // namespace

std::optional<std::string> read_file(const std::string& path, std::vector<Message>& messages, std::size_t limit) {
  const Place place{path, "", 0, 0};
  const auto refuse = [&](Message message) {
    messages.push_back(std::move(message).at(place));
    return std::nullopt;
  };
  Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (!file.open()) {
    return refuse(errno == ENOENT ? say::file_missing(path) : say::file_unreadable(path, reason()));
  }
  struct stat status {};
  if (::fstat(file.number(), &status) != 0) return refuse(say::file_unreadable(path, reason()));
  if (S_ISDIR(status.st_mode)) return refuse(say::file_is_folder(path));

  // Read to the end and not to the size told: a pipe has none, and a file may grow meanwhile.
  std::string bytes;
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
  if (::stat(target.c_str(), &status) == 0 && S_ISDIR(status.st_mode)) return say::file_is_folder(path).at(place);

  const std::string temporary = fmt::format("{}.saving-{}", target, ::getpid());
  if (!write_temporary(temporary, target, bytes) || std::rename(temporary.c_str(), target.c_str()) != 0) {
    Message message = say::file_not_written(path, reason()).at(place);
    ::unlink(temporary.c_str());
    return message;
  }
  if (!sync_folder(folder_of(target))) return say::file_written_unsafely(path, reason()).at(place);
  return std::nullopt;
}

}  // namespace zoneproof
