-- The register as it stands after all migrations, with what each table means.
-- A test holds this text against a freshly made register.

-- Facts of this copy: register (its id), device (this device's id), stamp (last hybrid stamp),
-- understood (the version, a hundredfold, up to which kept acts were looked at again, and how often the way of
-- deriving changed since), and
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
-- spot: where it was put when it was entered; where it lies is in log_state.
CREATE TABLE log(
  id TEXT PRIMARY KEY, tag TEXT NOT NULL DEFAULT '', wood TEXT, d1_mm INTEGER, d2_mm INTEGER, d3_mm INTEGER,
  length_mm INTEGER, felled TEXT, mushroom TEXT, strain TEXT, spawn TEXT, method TEXT, laid TEXT,
  spot TEXT, note TEXT NOT NULL DEFAULT '', void INTEGER NOT NULL DEFAULT 0,
  -- Since version 3. batch: wood felled together; lot: the spawn it was laid with.
  batch TEXT, lot TEXT) STRICT;
CREATE INDEX log_tag ON log(tag);
-- walk: place in the walking order.
CREATE TABLE spot(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', walk INTEGER, void INTEGER NOT NULL DEFAULT 0,
  -- Since version 3. shade, ground, water, rain: words of spots/rules. winter_sun 1: bare of shade when
  -- the leaves are down. heated 1: kept from frost. Null: not said.
  shade TEXT, ground TEXT, water TEXT, rain TEXT, winter_sun INTEGER, heated INTEGER,
  note TEXT NOT NULL DEFAULT '') STRICT;
-- name '': a strain whose name nobody knows, only its class.
CREATE TABLE strain(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', mushroom TEXT, class TEXT,
  void INTEGER NOT NULL DEFAULT 0,
  -- Since version 3. Fruits between these, tenths of °C.
  from_dc INTEGER, to_dc INTEGER, note TEXT NOT NULL DEFAULT '') STRICT;
-- day: the evening's day, also past midnight. left: logs without a check when it was ended.
CREATE TABLE round(
  id TEXT PRIMARY KEY, kind TEXT, day TEXT, started INTEGER, zone TEXT, ended INTEGER, "left" INTEGER,
  void INTEGER NOT NULL DEFAULT 0
  -- Since version 5. kind: night or picking. spots: the ids it walks to, with blanks between; null: all.
  -- child 1: it only tallies. later 1: entered afterwards.
  , spots TEXT, child INTEGER, later INTEGER) STRICT;
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
CREATE TABLE look(entry TEXT PRIMARY KEY REFERENCES entry(id), seen TEXT NOT NULL
  -- Since version 5. round: the picking round it was taken on. again: the day to look again.
  , round TEXT, again TEXT) STRICT;
-- grams null: not weighed. caps null: not counted. damaged_pct null: not judged.
CREATE TABLE picking(
  entry TEXT PRIMARY KEY REFERENCES entry(id), grams INTEGER, caps INTEGER, damaged_pct INTEGER, by TEXT
  -- Since version 5. basket: it went into; its weight is shared out when that is typed. stage: the caps as they
  -- were picked. quality: a word of pickings/rules. Null: not said.
  , round TEXT, basket TEXT, stage TEXT, quality TEXT) STRICT;
-- A stop of a round: how seen, clean (ticked with the rest of its spot) or skipped.
CREATE TABLE "check"(
  entry TEXT PRIMARY KEY REFERENCES entry(id), round TEXT NOT NULL, how TEXT NOT NULL,
  slugs INTEGER NOT NULL, damage TEXT NOT NULL
  -- Since version 5. how tallied: a child counted, nobody judged damage. later 1: entered afterwards, at is not
  -- when it was seen. others, hid, did: words of rounds/rules with blanks between; null: not said.
  , later INTEGER, others TEXT, hid TEXT, did TEXT) STRICT;
CREATE INDEX check_round ON "check"(round);
-- The end of a log's watch: spent, lost or discarded.
CREATE TABLE ending(entry TEXT PRIMARY KEY REFERENCES entry(id), why TEXT NOT NULL) STRICT;
-- hash names the blob; of the entry it was taken with. Width and height as it is looked at.
CREATE TABLE photo(
  entry TEXT PRIMARY KEY REFERENCES entry(id), hash TEXT NOT NULL, of TEXT, width INTEGER NOT NULL,
  height INTEGER NOT NULL, mime TEXT NOT NULL, taken TEXT) STRICT;
CREATE INDEX photo_hash ON photo(hash);
CREATE INDEX photo_of ON photo(of);

-- Files by the hash of their bytes (BLAKE3). here 1: whole on this device. about: what was found
-- out about it when it was kept. Local.
CREATE TABLE blob(
  hash TEXT PRIMARY KEY, bytes INTEGER NOT NULL, here INTEGER NOT NULL,
  about TEXT CHECK(about IS NULL OR json_valid(about)),
  -- Since version 4: the folder outside the yard that the file was moved to, read back there by its hash.
  moved TEXT) STRICT;
-- What was being typed; survives a kill. Local.
CREATE TABLE draft(k TEXT PRIMARY KEY, v TEXT NOT NULL, at INTEGER NOT NULL, zone TEXT NOT NULL) STRICT;

-- Version 2.
-- Two observations, named by their ids in text order (id: ONE+OTHER), that look like one entered
-- twice and are not: somebody said so, and it is not asked again. void 1: to be asked again.
CREATE TABLE apart(
  id TEXT PRIMARY KEY, one TEXT, other TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;

-- Version 3.
-- The grower's own woods; conifer 1: a softwood. Ratings 0 to 4. density: fresh, kg/m³. moisture: fresh, per cent
-- of the wet weight.
CREATE TABLE wood(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', scientific TEXT NOT NULL DEFAULT '', conifer INTEGER,
  shiitake INTEGER, hericium INTEGER, density_kg_m3 INTEGER, moisture_pct INTEGER, note TEXT NOT NULL DEFAULT '',
  void INTEGER NOT NULL DEFAULT 0) STRICT;
-- Wood felled together. disc_*: a sample disc, g, wet and oven-dry. doubtful 1: its logs stay out of comparisons of strains.
CREATE TABLE batch(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', wood TEXT, felled TEXT, source TEXT NOT NULL DEFAULT '',
  disc_wet_g INTEGER, disc_dry_g INTEGER, doubtful INTEGER, note TEXT NOT NULL DEFAULT '',
  void INTEGER NOT NULL DEFAULT 0) STRICT;
-- Spawn bought or made together. form: as a log's spawn. received: EDTF. doubtful as above.
CREATE TABLE lot(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', strain TEXT, form TEXT, source TEXT NOT NULL DEFAULT '',
  received TEXT, kept TEXT, doubtful INTEGER, note TEXT NOT NULL DEFAULT '', void INTEGER NOT NULL DEFAULT 0) STRICT;
-- id is the day. Tenths of °C, of mm and of km/h. source: typed, or the station it was read from.
CREATE TABLE weather(
  id TEXT PRIMARY KEY, min_dc INTEGER, max_dc INTEGER, rain_tenths INTEGER, wind_tenths INTEGER, source TEXT,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
-- A chore put off: id is the chore's key, until the day it comes back.
CREATE TABLE put_off(id TEXT PRIMARY KEY, until TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;
-- part: in or out of the tank. water_dc: its water, tenths of °C. grams: the log's weight then. began: the instant,
-- milliseconds since 1970; null: some time on its day.
CREATE TABLE soak(
  entry TEXT PRIMARY KEY REFERENCES entry(id), part TEXT NOT NULL, water_dc INTEGER, grams INTEGER, began INTEGER) STRICT;
-- A log's weight.
CREATE TABLE weighing(entry TEXT PRIMARY KEY REFERENCES entry(id), grams INTEGER NOT NULL) STRICT;
-- Litres, in tenths, on this log; null: not said.
CREATE TABLE watering(entry TEXT PRIMARY KEY REFERENCES entry(id), litres_tenths INTEGER) STRICT;
-- Where the log was put; why: plain, bring_in, harden_off, corrected. Before version 8 the same act set the log's own spot.
CREATE TABLE "move"(entry TEXT PRIMARY KEY REFERENCES entry(id), spot TEXT, why TEXT) STRICT;
-- What a look at the wood itself found; null: not looked at. Words of logs/condition.
CREATE TABLE condition(
  entry TEXT PRIMARY KEY REFERENCES entry(id), bark TEXT, cracks TEXT, wax TEXT, pecked TEXT, competitor TEXT,
  extent TEXT) STRICT;
-- Something done to a log: re-waxed, turned and so on; words of logs/condition.
CREATE TABLE tending(entry TEXT PRIMARY KEY REFERENCES entry(id), what TEXT NOT NULL) STRICT;
-- Worked out from the record after every act; can be made again at any time. Facts only: the state
-- itself depends on the day and is worked out when it is asked for. Since version 3 in this shape.
-- competitor: those seen on its wood, each `day:what:extent`, words of condition or of rounds/sightings, blanks between.
CREATE TABLE log_state(
  log TEXT PRIMARY KEY,
  last_seen TEXT, last_seen_day TEXT, last_seen_at INTEGER,
  first_fruit TEXT,
  last_picked TEXT, last_picked_at INTEGER,
  pickings INTEGER NOT NULL, grams INTEGER NOT NULL, unweighed INTEGER NOT NULL,
  last_damage TEXT,
  ended TEXT, ended_why TEXT,
  photo TEXT,
  soaked_in TEXT, soaked_in_at INTEGER, soaked_in_ms INTEGER,
  soaked_out TEXT, soaked_out_at INTEGER,
  soaks INTEGER NOT NULL DEFAULT 0,
  soaked_grams INTEGER,
  first_grams INTEGER, first_grams_day TEXT,
  last_grams INTEGER, last_grams_day TEXT,
  last_watered TEXT,
  last_moved TEXT,
  last_condition TEXT,
  competitor TEXT, competitor_day TEXT,
  last_tending TEXT, last_tending_day TEXT,
  -- What the end-grain picture needs: {"f": [[first day of a flush, grams or null, not weighed]], "s": [days of soaks]}.
  rings TEXT,
  -- Since version 6. harvest: its pickings, oldest first, each `day:grams:damaged_pct`, days since 1970, empty where not
  -- known. soak_days: days into the tank, likewise. competitor_first: the first day one was seen.
  harvest TEXT, soak_days TEXT, competitor_first TEXT,
  -- Since version 8. Where it lies: as its newest move says, else its own spot.
  spot TEXT) STRICT;
CREATE INDEX entry_note ON entry(log) WHERE note <> '';
-- What can be found by words: a log's tag, its note, and the notes of its entries. of: the log's or the entry's id.
-- what: tag, note or entry. Worked out from the record like log_state.
CREATE TABLE searched(
  n INTEGER PRIMARY KEY, log TEXT NOT NULL, of TEXT NOT NULL, what TEXT NOT NULL, text TEXT NOT NULL,
  UNIQUE(log, of, what)) STRICT;
-- The index over it, by the beginnings of words.
CREATE VIRTUAL TABLE search USING fts5(
  text, content='searched', content_rowid='n', prefix='1 2 3', tokenize='unicode61 remove_diacritics 2');

-- Version 4.
-- The width of one cap in a photo (its hash), tenths of mm, between low and high. cap: its number in its flush. proud_mm: how
-- far it stands out before the tag; null: not said. taken: when, by the camera's own clock; null: when it was written.
CREATE TABLE measure(
  entry TEXT PRIMARY KEY REFERENCES entry(id), photo TEXT NOT NULL, cap INTEGER NOT NULL,
  width_tenths INTEGER NOT NULL, low_tenths INTEGER NOT NULL, high_tenths INTEGER NOT NULL,
  proud_mm INTEGER, taken TEXT) STRICT;
CREATE INDEX measure_photo ON measure(photo);

-- Version 5.
-- What was picked together and is weighed later. grams null: still open.
CREATE TABLE basket(
  id TEXT PRIMARY KEY, day TEXT, opened INTEGER, zone TEXT, round TEXT, grams INTEGER,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
-- id is a picking: whether it begins a flush of its own (split) or belongs to the one before (join), whatever the gap.
CREATE TABLE flush(id TEXT PRIMARY KEY, how TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;
-- A pest or a competitor that was seen; log null: not on a log. extent: of a competitor, as in condition.
CREATE TABLE sighting(
  entry TEXT PRIMARY KEY REFERENCES entry(id), what TEXT NOT NULL, n INTEGER, extent TEXT, hid TEXT, did TEXT,
  spot TEXT, round TEXT) STRICT;
-- When the caps of a look would be cupped: days after the look, in tenths. Between low and high lie 80 in 100.
-- own: of how many of the yard's own fruitings. mean_dc: the warmth it reckoned with.
CREATE TABLE forecast(
  entry TEXT PRIMARY KEY REFERENCES entry(id), look TEXT NOT NULL, stage TEXT NOT NULL, low_tenths INTEGER NOT NULL,
  mid_tenths INTEGER NOT NULL, high_tenths INTEGER NOT NULL, own INTEGER NOT NULL, mean_dc INTEGER) STRICT;

-- Version 8.
CREATE INDEX log_state_spot ON log_state(spot);
CREATE INDEX log_batch ON log(batch);
CREATE INDEX log_lot ON log(lot);
CREATE INDEX log_strain ON log(strain);

-- Version 9.
-- How a log's fruitings went, beside its other facts: these are long, and every list of logs reads those. followed: fruitings
-- from a stage to cupped, each `stage:milliseconds:first day:last day`. forecasts: those kept with looks, each
-- `day:low:mid:high:day cupped`, days in tenths between, the last empty while it is open.
CREATE TABLE log_course(log TEXT PRIMARY KEY, followed TEXT, forecasts TEXT) STRICT;
