#pragma once
#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// The book: sites, every revision of them with who, when and why, files by their SHA-256, and the people who may work
/// on them. It stands in a folder: `book.sqlite`, `files/`, `backups/`; or in a PostgreSQL database, and then only
/// files and backups are in the folder.
///
/// What it promises: an edit that was acknowledged is there after the program is killed at any moment (and, as far as
/// the disk keeps what it has said to be written, after a power cut); an edit is there whole or not at all; the same
/// edit id twice is one edit; nothing of the history is ever changed or removed.
///
/// Times are given by the caller, in UTC as "2026-03-01T12:34:56Z" or with a fraction of the second; the book has no
/// clock. Texts are UTF-8 without NUL. What is given in another form is refused with a message.
namespace zoneproof::book {

template <class Answer>
using Answered = results::Answered<Answer>;

/// Where a book is.
struct Address {
  std::string folder;  ///< made where it is missing
  std::string
      postgresql;  ///< libpq's connection string ("host=... dbname=...", "postgresql://..."); empty: SQLite.
                   ///< A password belongs into the password file that libpq reads; no message repeats the string
};

enum class Opening {
  make_missing,   ///< a book that is not there is made, an older one is backed up and migrated
  existing_only,  ///< a book that is not there is a problem; an older one is migrated as well
};

/// A site as it stands.
struct SiteEntry {
  std::string id;    ///< as ids of the site file: [a-z][a-z0-9_]{0,39}
  std::string name;  ///< the site's own; empty where it has none
  long long revision = 0;
  std::string sha256;     ///< of its canonical text
  std::string who, when;  ///< of the last revision
};

/// One step of a site's history. The first has neither patch nor undo.
struct Revision {
  long long number = 0;  ///< as the site file says; each is one higher than the one before
  std::string sha256;    ///< of the site's canonical text at this revision
  std::string edit;      ///< id of the edit that made it
  std::string who, when, why;
  std::string patch;  ///< made it of the one before
  std::string undo;   ///< takes this revision's content back
};

/// A change of a site, as whoever made it sends it.
struct Edit {
  std::string site;    ///< id in the book
  std::string id;      ///< made by the client, unique: [A-Za-z0-9_-]{1,64}
  long long base = 0;  ///< number of the revision that it was made on
  std::string patch, undo;
  std::string who, when, why;  ///< `why` may be empty
};

/// What became of an edit.
struct Appended {
  enum class Fate {
    kept,      ///< it is the site's last revision now
    repeated,  ///< this edit was there already; `revision` is the one that it made, which need not be the last
    conflict,  ///< its base is no longer the last revision; nothing was kept
  };
  Fate fate = Fate::kept;
  Revision revision;            ///< kept, repeated
  std::vector<Revision> since;  ///< conflict: all revisions after the base, oldest first
};

struct NewSite {
  std::string id;    ///< wanted; empty: made from the site's name, or "site", with a number where that is taken
  std::string edit;  ///< id of the edit, as in Edit: the same again is the same site once
  std::string who, when, why;
};

/// A file as it was kept.
struct FileEntry {
  std::string sha256;
  std::string kind;  ///< media type, as "image/png"
  long long bytes = 0;
  std::string who, when;  ///< of the first time
};

enum class Role {
  reader,      ///< reads
  technician,  ///< and records what was found on site
  designer,    ///< and edits sites and people
};
std::string_view word_of(Role role);
std::optional<Role> role_of(std::string_view word);

struct Person {
  std::string name;  ///< 1 to 80 characters without control characters, unique
  Role role = Role::reader;
  std::string password;  ///< its hash, as the server writes it; empty: cannot log in
};

/// Somebody who is logged in.
struct Login {
  std::string token_sha256;  ///< of the token that the browser holds: 64 hexadecimal digits
  std::string person;
  std::string since, until;
};

/// What a look through the whole book found.
struct Check {
  long long sites = 0, revisions = 0, files = 0;
  std::vector<Message> problems;
};

/// An open book. Every call may come from any thread; they take turns. Several programs may have the same book open:
/// each sees what the others have kept. A call waits at most some seconds for another program, then says that the book
/// is busy. After any problem the book can be used on: what was refused has left nothing behind.
class Book {
 public:
  /// Opens, makes or migrates. Before a migration a backup is written to `backups/`. Refuses a book that a newer
  /// program has written, a file that is no book, a damaged one.
  static Answered<std::unique_ptr<Book>> open(const Address& address, Opening opening = Opening::make_missing);
  ~Book();
  Book(const Book&) = delete;
  Book& operator=(const Book&) = delete;

  /// What opening left to be said: made anew, migrated and where the backup is.
  const std::vector<Message>& notes() const;

  // Sites. ------------------------------------------------------------------------------------------------------------
  /// All sites, by id.
  Answered<std::vector<SiteEntry>> sites();
  Answered<SiteEntry> site(const std::string& id);

  /// A new site; its first revision has the number that the site itself tells. A wanted id that is taken is a problem.
  Answered<SiteEntry> add_site(const NewSite& made, const site::Site& site);

  /// Keeps an edit, or tells why not (fate `conflict` is an answer, no problem). `after` is the site after the edit,
  /// as site::apply_patch returned it: its revision must be base + 1. When this returns `kept`, it is on the disk.
  /// Where the site's text is refused as unreadable nothing is kept. Cost: linear in the site.
  Answered<Appended> append(const Edit& edit, const site::Site& after);

  /// What became of an edit id before; nothing where it is new. For answering a repeated request before any work.
  Answered<std::optional<Revision>> edit_before(const std::string& site, const std::string& edit);

  /// Revisions of a site, newest first: those below `before` (without it from the last on), `most` of them at most.
  Answered<std::vector<Revision>> revisions(const std::string& site, std::optional<long long> before = std::nullopt,
                                            std::size_t most = 100);
  /// All revisions after `after`, oldest first.
  Answered<std::vector<Revision>> revisions_since(const std::string& site, long long after);
  Answered<Revision> revision(const std::string& site, long long number);

  /// The site's canonical text at a revision (without it at the last), byte for byte as it was kept, held against its
  /// SHA-256.
  Answered<std::string> text(const std::string& site, std::optional<long long> number = std::nullopt);

  // Files. ------------------------------------------------------------------------------------------------------------
  /// Keeps a file under its SHA-256; the same bytes again are the same file once, and stay what they were first.
  Answered<FileEntry> keep_file(std::string_view bytes, const std::string& kind, const std::string& who,
                                const std::string& when);
  Answered<FileEntry> file(const std::string& sha256);
  /// Its bytes, held against the SHA-256.
  Answered<std::string> file_bytes(const std::string& sha256);

  // People. -----------------------------------------------------------------------------------------------------------
  /// All people, by name.
  Answered<std::vector<Person>> people();
  Answered<std::optional<Person>> person(const std::string& name);
  /// Adds; a name that is there already is a problem.
  Answered<Person> add_person(const Person& person);
  /// Changes role and password; a name that is not there is a problem. A new password or role ends the person's logins.
  Answered<Person> change_person(const Person& person);
  /// Removes a person with all logins; the history keeps the name. Whether that was there.
  Answered<bool> remove_person(const std::string& name);

  /// Keeps a login; those that have ended by its `since` are forgotten.
  Answered<Login> keep_login(const Login& login);
  /// The login of a token, nothing where there is none or it has ended by `now`.
  Answered<std::optional<Login>> login(const std::string& token_sha256, const std::string& now);
  Answered<bool> end_login(const std::string& token_sha256);

  // The whole. --------------------------------------------------------------------------------------------------------
  /// Looks through everything: the database's own check, each text against its SHA-256, each patch against the texts
  /// that it joins, each file. Cost: reads every revision; some 10 ms each.
  Answered<Check> check(const results::Progress& progress = {});

  /// Writes all of the book, its files too, as one file that can be restored into any kind of book; logins are left
  /// out. It holds password hashes: its owner alone may read it. Others may write into the book meanwhile.
  Answered<Check> backup(const std::string& path, const results::Progress& progress = {});
  /// Fills an empty book from a backup: all of it, or on any problem nothing. Older backups are migrated.
  Answered<Check> restore(const std::string& path, const results::Progress& progress = {});

  struct Inside;  ///< src/book/inside.hpp: for this folder and its tests
  explicit Book(std::unique_ptr<Inside> inside);

 private:
  std::unique_ptr<Inside> inside_;
};

}  // namespace zoneproof::book
