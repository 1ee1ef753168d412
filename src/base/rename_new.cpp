#include "base/rename_new.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>

namespace zoneproof {

namespace {

/// What a file system answers that does not know what it is asked for; also what older kernels answer.
bool is_unknown_here(int fault) {
  return fault == EINVAL || fault == ENOSYS || fault == EOPNOTSUPP || fault == EPERM || fault == EMLINK;
}

bool without_replacing(const char* from, const char* to) {
#if defined(RENAME_NOREPLACE) && !defined(__EMSCRIPTEN__)
  return ::renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0;
#else
  (void)from, (void)to;
  errno = ENOSYS;
  return false;
#endif
}

/// link(2) never replaces.
bool by_link(const char* from, const char* to) {
  if (::link(from, to) != 0) return false;
  if (::unlink(from) == 0) return true;
  const int why = errno;
  ::unlink(to);
  errno = why;
  return false;
}

/// Only this program replaces the empty file: to everybody else the name is taken.
bool by_reserving(const char* from, const char* to) {
  const int reserved = ::open(to, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (reserved < 0) return false;
  ::close(reserved);
  if (std::rename(from, to) == 0) return true;
  const int why = errno;
  ::unlink(to);
  errno = why;
  return false;
}

}  // namespace

bool rename_new(const std::string& from, const std::string& to) {
  if (without_replacing(from.c_str(), to.c_str())) return true;
  if (!is_unknown_here(errno)) return false;
  if (by_link(from.c_str(), to.c_str())) return true;
  return is_unknown_here(errno) && by_reserving(from.c_str(), to.c_str());
}

}  // namespace zoneproof
