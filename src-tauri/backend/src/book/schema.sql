-- The register as it stands after all migrations, with what each table means.
-- A test holds this text against a freshly made register.

-- Facts of this copy: register (its id), device (this device's id), stamp (last hybrid stamp),
-- understood (the version up to which kept acts were looked at again), and
-- device.* (what concerns this device alone, e.g. device.light). Never shared.
CREATE TABLE meta(k TEXT PRIMARY KEY, v ANY) STRICT;

-- Which tables are shared: things have editable fields, entries are observations.
CREATE TABLE kind(name TEXT PRIMARY KEY, sort TEXT NOT NULL CHECK(sort IN ('thing', 'entry'))) STRICT;

-- What was done, of all devices. seq has no gap on its device. at is the wall clock in milliseconds
-- since 1970, zone the local offset then; stamp is the hybrid clock and decides. request makes a
-- double tap one act. undoes names the act taken back. applied 0: not understood by this version, kept.
CREATE TABLE act(
  n INTEGER PRIMARY KEY, device TEXT NOT NULL, seq INTEGER NOT NULL, stamp TEXT NOT NULL,
  at INTEGER NOT NULL, zone TEXT NOT NULL, name TEXT NOT NULL, request TEXT UNIQUE, undoes TEXT,
  body TEXT NOT NULL CHECK(json_valid(body)), applied INTEGER NOT NULL CHECK(applied IN (0, 1)),
  UNIQUE(device, seq)) STRICT;
CREATE INDEX act_undoes ON act(undoes) WHERE undoes IS NOT NULL;

-- All versions of all fields. The one that stands has the greatest (stamp, device).
CREATE TABLE field(
  thing TEXT NOT NULL, name TEXT NOT NULL, stamp TEXT NOT NULL, device TEXT NOT NULL, value ANY,
  PRIMARY KEY(thing, name, stamp, device)) STRICT, WITHOUT ROWID;

-- Things. Each row shows the values that stand; void 1: taken out, still here. A thing may be a
-- stub when something that names it came before it. Lengths in mm. felled and laid are EDTF
-- (ISO 8601-2): 2026-11-25, 2026-11, 2026, 2021-21 (spring), XXXX (unknown); laid null: not yet.
CREATE TABLE log(
  id TEXT PRIMARY KEY, tag TEXT NOT NULL DEFAULT '', wood TEXT, d1_mm INTEGER, d2_mm INTEGER, d3_mm INTEGER,
  length_mm INTEGER, felled TEXT, mushroom TEXT, strain TEXT, spawn TEXT, method TEXT, laid TEXT,
  spot TEXT, note TEXT NOT NULL DEFAULT '', void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE INDEX log_tag ON log(tag);
-- walk: place in the walking order.
CREATE TABLE spot(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', walk INTEGER, void INTEGER NOT NULL DEFAULT 0) STRICT;
-- name '': a strain whose name nobody knows, only its class.
CREATE TABLE strain(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', mushroom TEXT, class TEXT,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
-- day: the evening's day, also past midnight. left: logs without a check when it was ended.
CREATE TABLE round(
  id TEXT PRIMARY KEY, kind TEXT, day TEXT, started INTEGER, zone TEXT, ended INTEGER, "left" INTEGER,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE INDEX round_day ON round(day);
-- id is the setting's name: place, lat and lon (millionths of a degree), night_after_min.
CREATE TABLE setting(id TEXT PRIMARY KEY, value ANY, void INTEGER NOT NULL DEFAULT 0) STRICT;

-- Observations. Never edited: a correction replaces, a removal voids. day is the local day it is
-- about, at and zone when it was written. log may name a log that has not come yet.
CREATE TABLE entry(
  id TEXT PRIMARY KEY, kind TEXT NOT NULL REFERENCES kind(name), log TEXT, day TEXT NOT NULL,
  at INTEGER NOT NULL, zone TEXT NOT NULL, note TEXT NOT NULL DEFAULT '', replaces TEXT,
  void INTEGER NOT NULL DEFAULT 0, act INTEGER NOT NULL REFERENCES act(n)) STRICT;
CREATE INDEX entry_log ON entry(log, day);
CREATE INDEX entry_kind ON entry(kind, day);
CREATE INDEX entry_act ON entry(act);
-- What a look saw: nothing, or the cap stage.
CREATE TABLE look(entry TEXT PRIMARY KEY REFERENCES entry(id), seen TEXT NOT NULL) STRICT;
-- grams null: not weighed. caps null: not counted. damaged_pct null: not judged.
CREATE TABLE picking(
  entry TEXT PRIMARY KEY REFERENCES entry(id), grams INTEGER, caps INTEGER, damaged_pct INTEGER, by TEXT) STRICT;
-- A stop of a round: how seen, clean (ticked with the rest of its spot) or skipped.
CREATE TABLE "check"(
  entry TEXT PRIMARY KEY REFERENCES entry(id), round TEXT NOT NULL, how TEXT NOT NULL,
  slugs INTEGER NOT NULL, damage TEXT NOT NULL) STRICT;
CREATE INDEX check_round ON "check"(round);
-- The end of a log's watch: spent, lost or discarded.
CREATE TABLE ending(entry TEXT PRIMARY KEY REFERENCES entry(id), why TEXT NOT NULL) STRICT;
-- hash names the blob; of the entry it was taken with. Width and height as it is looked at.
CREATE TABLE photo(
  entry TEXT PRIMARY KEY REFERENCES entry(id), hash TEXT NOT NULL, of TEXT, width INTEGER NOT NULL,
  height INTEGER NOT NULL, mime TEXT NOT NULL, taken TEXT) STRICT;
CREATE INDEX photo_hash ON photo(hash);
CREATE INDEX photo_of ON photo(of);

-- Worked out from the record after every act; can be made again at any time. Facts only: the state
-- itself depends on the day and is worked out when it is asked for.
CREATE TABLE log_state(
  log TEXT PRIMARY KEY, last_seen TEXT, last_seen_day TEXT, last_seen_at INTEGER, first_fruit TEXT,
  last_picked TEXT, last_picked_at INTEGER, pickings INTEGER NOT NULL, grams INTEGER NOT NULL,
  unweighed INTEGER NOT NULL, last_damage TEXT, ended TEXT, ended_why TEXT, photo TEXT) STRICT;

-- Files by the hash of their bytes (BLAKE3). here 1: whole on this device. about: what was found
-- out about it when it was kept. Local.
CREATE TABLE blob(
  hash TEXT PRIMARY KEY, bytes INTEGER NOT NULL, here INTEGER NOT NULL,
  about TEXT CHECK(about IS NULL OR json_valid(about))) STRICT;
-- What was being typed; survives a kill. Local.
CREATE TABLE draft(k TEXT PRIMARY KEY, v TEXT NOT NULL, at INTEGER NOT NULL, zone TEXT NOT NULL) STRICT;

-- Version 2.
-- Two observations, named by their ids in text order (id: ONE+OTHER), that look like one entered
-- twice and are not: somebody said so, and it is not asked again. void 1: to be asked again.
CREATE TABLE apart(
  id TEXT PRIMARY KEY, one TEXT, other TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;
