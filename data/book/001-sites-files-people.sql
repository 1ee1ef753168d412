-- The first book. {text}, {whole} and {strict} are what each database calls a text ordered by its bytes, a whole number of
-- 64 bits, and a table that refuses values of another kind. Statements end in a semicolon at the end of a line.
CREATE TABLE sites (
  id {text} NOT NULL PRIMARY KEY,
  name {text} NOT NULL,
  revision {whole} NOT NULL
) {strict};

-- Every revision, for ever. `packed` is the site's text at this revision, compressed against the text of revision
-- `packed_against`, or by itself where that is the revision's own number.
CREATE TABLE revisions (
  site {text} NOT NULL REFERENCES sites (id),
  number {whole} NOT NULL,
  edit {text} NOT NULL,
  sha256 {text} NOT NULL,
  who {text} NOT NULL,
  made_at {text} NOT NULL,
  why {text} NOT NULL,
  patch {text} NOT NULL,
  undo {text} NOT NULL,
  packed_against {whole} NOT NULL,
  packed {text} NOT NULL,
  PRIMARY KEY (site, number),
  UNIQUE (edit, site),
  CHECK (number >= 0 AND packed_against >= 0 AND packed_against <= number)
) {strict};

CREATE TABLE files (
  sha256 {text} NOT NULL PRIMARY KEY,
  kind {text} NOT NULL,
  bytes {whole} NOT NULL,
  who {text} NOT NULL,
  made_at {text} NOT NULL
) {strict};

CREATE TABLE people (
  name {text} NOT NULL PRIMARY KEY,
  role {text} NOT NULL CHECK (role IN ('reader', 'technician', 'designer')),
  password {text} NOT NULL
) {strict};

CREATE TABLE logins (
  token_sha256 {text} NOT NULL PRIMARY KEY,
  person {text} NOT NULL REFERENCES people (name) ON DELETE CASCADE,
  begun_at {text} NOT NULL,
  ends_at {text} NOT NULL
) {strict};
CREATE INDEX logins_of_person ON logins (person);
