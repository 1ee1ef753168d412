#pragma once
#include <functional>
#include <iosfwd>
#include <mutex>
#include <string>
#include <string_view>

#include "chain/evidence.hpp"

/// Where a command writes: words to a person, results to a program, progress to whoever watches.
namespace zoneproof::cli {

/// What the world around the program is like; main() finds it out, tests state it.
struct Terminal {
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  bool no_colour = false;    ///< the person asked for none (NO_COLOR, or TERM=dumb)
  bool light_sheet = false;  ///< dark letters on a light ground
  bool true_colour = false;  ///< 24-bit colours; else the nearest of the 256
  std::string language;      ///< the variable ZONEPROOF_LANGUAGE; empty where it is not set
  std::string book;          ///< folder of the book: the variable ZONEPROOF_BOOK, else the person's own place for it
  std::string postgresql;    ///< the variable ZONEPROOF_POSTGRESQL; empty where it is not set
  std::function<std::string()> person;  ///< who runs the program, as the machine knows them; asked only where it counts
};

/// What a piece of text is; only a terminal shows the difference.
enum class Style { plain, heading, faint, proven, thin, broken, unanswered };

Style style_of(chain::Verdict verdict);

class Screen {
 public:
  static constexpr std::size_t kWidth = 100;  ///< cells; nothing that is written for people is wider

  Screen(std::ostream& out, std::ostream& err, const Terminal& terminal) : out_(out), err_(err), terminal_(terminal) {}

  std::ostream& out() { return out_; }
  std::ostream& err() { return err_; }
  const Terminal& terminal() const { return terminal_; }

  /// A line of results, broken at blanks; `indent` cells before each line, `first` (as wide as `indent`) on the first.
  void line(std::string_view text = {}, std::size_t indent = 0, Style style = Style::plain);
  /// A heading with an empty line above it, unless it is the first thing on the screen.
  void heading(std::string_view text);
  /// "word  text": the word in its style in a column of its own of `indent` cells, the text beside it.
  void entry(std::string_view word, std::string_view text, std::size_t indent, Style style = Style::plain,
             std::size_t before = 0);
  /// Text that is laid out already.
  void raw(std::string_view text);

  std::string painted(std::string_view text, Style style) const;

  /// Progress, on a terminal only; from any thread. The line is wiped by the next thing that is written.
  void progress(std::string_view text);
  void end_progress();

 private:
  void begin_writing();

  std::ostream& out_;
  std::ostream& err_;
  Terminal terminal_;
  bool anything_ = false;
  bool progress_shown_ = false;
  std::mutex progress_mutex_;
};

}  // namespace zoneproof::cli
