#include "base/parallel_for.hpp"

#include <algorithm>
#include <atomic>
#include <exception>

#include "base/language.hpp"

#ifndef __EMSCRIPTEN__
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#endif

namespace zoneproof {

void parallel_for(std::size_t count, const std::function<void(std::size_t)>& body, int threads) {
  std::vector<std::exception_ptr> faults(count);
  const Language language = spoken_language();
  std::atomic<bool> stopped{false};
  const auto guarded = [&](std::size_t i) {
    if (stopped) return;
    const SpokenLanguage here(language);
    try {
      body(i);
    } catch (const Stopped&) {
      stopped = true;
    } catch (...) {
      faults[i] = std::current_exception();
    }
  };
#ifdef __EMSCRIPTEN__
  static_cast<void>(threads);
  for (std::size_t i = 0; i < count; ++i) guarded(i);
#else
  // The library gives no more threads than the machine has unless it is told to expect them.
  using tbb::global_control;
  const std::size_t usual = global_control::active_value(global_control::max_allowed_parallelism);
  const std::size_t wanted = threads > 0 ? static_cast<std::size_t>(threads) : usual;
  const global_control allowed(global_control::max_allowed_parallelism, std::max(usual, wanted));
  tbb::task_arena arena(threads > 0 ? threads : tbb::task_arena::automatic);
  arena.execute([&] { tbb::parallel_for(std::size_t{0}, count, guarded); });
#endif
  if (stopped) throw Stopped();
  for (const std::exception_ptr& fault : faults) {
    if (fault) std::rethrow_exception(fault);
  }
}

}  // namespace zoneproof
