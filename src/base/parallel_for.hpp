#pragma once
#include <cstddef>
#include <functional>
#include <stdexcept>
#include <type_traits>
#include <utility>
#include <vector>

namespace zoneproof {

/// Thrown by whoever no longer wants what is being made: a progress callback, say. It is nobody's fault, and passes
/// through everything.
class Stopped : public std::runtime_error {
 public:
  Stopped() : std::runtime_error("stopped") {}
};

/// Calls `body(i)` for i in [0, count), on several threads where there are any. `body` must not depend on the order of
/// the calls, so results are the same for any number of threads. `threads` = 0 means as many as the machine has.
/// All calls are made even where some throw; then the exception of the smallest index is thrown on, whatever thread
/// was faster; all of them speak the caller's language. After a Stopped no further calls are begun, and Stopped is what
/// is thrown on. In the browser the calls are made one after the other.
void parallel_for(std::size_t count, const std::function<void(std::size_t)>& body, int threads = 0);

/// The results of `make(i)` in the order of i. `Result` needs a default constructor; bool is refused, because
/// neighbours of a vector<bool> share a byte.
template <typename Result, typename Make>
std::vector<Result> parallel_map(std::size_t count, Make make, int threads = 0) {
  static_assert(!std::is_same_v<Result, bool>, "vector<bool> cannot be written by several threads");
  std::vector<Result> results(count);
  parallel_for(
      count, [&](std::size_t i) { results[i] = make(i); }, threads);
  return results;
}

}  // namespace zoneproof
