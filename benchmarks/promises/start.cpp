// How long the command takes to start, beside a command that does nothing.
#include <spawn.h>
#include <sys/wait.h>

#include <array>
#include <stdexcept>

#include "promises/promise.hpp"

extern char** environ;

namespace zoneproof::promises {

namespace {

void run(const char* program, const char* argument) {
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", 1 /* O_WRONLY */, 0);
  std::array<char*, 3> arguments = {const_cast<char*>(program), const_cast<char*>(argument), nullptr};
  pid_t child = 0;
  const int trouble = posix_spawnp(&child, program, &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  int status = 0;
  if (trouble != 0 || waitpid(child, &status, 0) != child || status != 0)
    throw std::runtime_error(std::string("does not run: ") + program);
}

}  // namespace

std::vector<Figure> start() {
  Figure figure;
  figure.promise = "start of a command";
  figure.unit = "ms";
  figure.beside = "`true`; the aim is 30 ms more";
  figure.ours = 1e3 * seconds_of([] { run(ZONEPROOF_COMMAND, "--version"); }, 0.2);
  figure.theirs = 1e3 * seconds_of([] { run("true", nullptr); }, 0.2);
  figure.aim_ours = figure.theirs + 30.0;
  figure.limit = "loading the shared libraries";
  return {figure};
}

}  // namespace zoneproof::promises
