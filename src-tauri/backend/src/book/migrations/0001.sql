-- Version 1 of the register. Comments on what each table means stand in ../schema.sql.
CREATE TABLE meta(k TEXT PRIMARY KEY, v ANY) STRICT;
CREATE TABLE kind(name TEXT PRIMARY KEY, sort TEXT NOT NULL CHECK(sort IN ('thing', 'entry'))) STRICT;

CREATE TABLE act(
  n INTEGER PRIMARY KEY, device TEXT NOT NULL, seq INTEGER NOT NULL, stamp TEXT NOT NULL,
  at INTEGER NOT NULL, zone TEXT NOT NULL, name TEXT NOT NULL, request TEXT UNIQUE, undoes TEXT,
  body TEXT NOT NULL CHECK(json_valid(body)), applied INTEGER NOT NULL CHECK(applied IN (0, 1)),
  UNIQUE(device, seq)) STRICT;
CREATE INDEX act_undoes ON act(undoes) WHERE undoes IS NOT NULL;

CREATE TABLE field(
  thing TEXT NOT NULL, name TEXT NOT NULL, stamp TEXT NOT NULL, device TEXT NOT NULL, value ANY,
  PRIMARY KEY(thing, name, stamp, device)) STRICT, WITHOUT ROWID;

CREATE TABLE log(
  id TEXT PRIMARY KEY, tag TEXT NOT NULL DEFAULT '', wood TEXT, d1_mm INTEGER, d2_mm INTEGER, d3_mm INTEGER,
  length_mm INTEGER, felled TEXT, mushroom TEXT, strain TEXT, spawn TEXT, method TEXT, laid TEXT,
  spot TEXT, note TEXT NOT NULL DEFAULT '', void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE INDEX log_tag ON log(tag);
CREATE TABLE spot(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', walk INTEGER, void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE strain(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', mushroom TEXT, class TEXT,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE round(
  id TEXT PRIMARY KEY, kind TEXT, day TEXT, started INTEGER, zone TEXT, ended INTEGER, "left" INTEGER,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE INDEX round_day ON round(day);
CREATE TABLE setting(id TEXT PRIMARY KEY, value ANY, void INTEGER NOT NULL DEFAULT 0) STRICT;

CREATE TABLE entry(
  id TEXT PRIMARY KEY, kind TEXT NOT NULL REFERENCES kind(name), log TEXT, day TEXT NOT NULL,
  at INTEGER NOT NULL, zone TEXT NOT NULL, note TEXT NOT NULL DEFAULT '', replaces TEXT,
  void INTEGER NOT NULL DEFAULT 0, act INTEGER NOT NULL REFERENCES act(n)) STRICT;
CREATE INDEX entry_log ON entry(log, day);
CREATE INDEX entry_kind ON entry(kind, day);
CREATE INDEX entry_act ON entry(act);
CREATE TABLE look(entry TEXT PRIMARY KEY REFERENCES entry(id), seen TEXT NOT NULL) STRICT;
CREATE TABLE picking(
  entry TEXT PRIMARY KEY REFERENCES entry(id), grams INTEGER, caps INTEGER, damaged_pct INTEGER, by TEXT) STRICT;
CREATE TABLE "check"(
  entry TEXT PRIMARY KEY REFERENCES entry(id), round TEXT NOT NULL, how TEXT NOT NULL,
  slugs INTEGER NOT NULL, damage TEXT NOT NULL) STRICT;
CREATE INDEX check_round ON "check"(round);
CREATE TABLE ending(entry TEXT PRIMARY KEY REFERENCES entry(id), why TEXT NOT NULL) STRICT;
CREATE TABLE photo(
  entry TEXT PRIMARY KEY REFERENCES entry(id), hash TEXT NOT NULL, of TEXT, width INTEGER NOT NULL,
  height INTEGER NOT NULL, mime TEXT NOT NULL, taken TEXT) STRICT;
CREATE INDEX photo_hash ON photo(hash);
CREATE INDEX photo_of ON photo(of);

CREATE TABLE log_state(
  log TEXT PRIMARY KEY, last_seen TEXT, last_seen_day TEXT, last_seen_at INTEGER, first_fruit TEXT,
  last_picked TEXT, last_picked_at INTEGER, pickings INTEGER NOT NULL, grams INTEGER NOT NULL,
  unweighed INTEGER NOT NULL, last_damage TEXT, ended TEXT, ended_why TEXT, photo TEXT) STRICT;

CREATE TABLE blob(
  hash TEXT PRIMARY KEY, bytes INTEGER NOT NULL, here INTEGER NOT NULL,
  about TEXT CHECK(about IS NULL OR json_valid(about))) STRICT;
CREATE TABLE draft(k TEXT PRIMARY KEY, v TEXT NOT NULL, at INTEGER NOT NULL, zone TEXT NOT NULL) STRICT;

INSERT INTO kind(name, sort) VALUES
  ('log', 'thing'), ('spot', 'thing'), ('strain', 'thing'), ('round', 'thing'), ('setting', 'thing'),
  ('look', 'entry'), ('picking', 'entry'), ('check', 'entry'), ('ending', 'entry'), ('photo', 'entry');
