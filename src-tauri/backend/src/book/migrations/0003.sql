ALTER TABLE log ADD COLUMN batch TEXT;
ALTER TABLE log ADD COLUMN lot TEXT;
ALTER TABLE spot ADD COLUMN shade TEXT;
ALTER TABLE spot ADD COLUMN ground TEXT;
ALTER TABLE spot ADD COLUMN water TEXT;
ALTER TABLE spot ADD COLUMN rain TEXT;
ALTER TABLE spot ADD COLUMN winter_sun INTEGER;
ALTER TABLE spot ADD COLUMN heated INTEGER;
ALTER TABLE spot ADD COLUMN note TEXT NOT NULL DEFAULT '';
ALTER TABLE strain ADD COLUMN from_dc INTEGER;
ALTER TABLE strain ADD COLUMN to_dc INTEGER;
ALTER TABLE strain ADD COLUMN note TEXT NOT NULL DEFAULT '';
CREATE TABLE wood(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', scientific TEXT NOT NULL DEFAULT '', conifer INTEGER,
  shiitake INTEGER, hericium INTEGER, density_kg_m3 INTEGER, moisture_pct INTEGER, note TEXT NOT NULL DEFAULT '',
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE batch(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', wood TEXT, felled TEXT, source TEXT NOT NULL DEFAULT '',
  disc_wet_g INTEGER, disc_dry_g INTEGER, doubtful INTEGER, note TEXT NOT NULL DEFAULT '',
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE lot(
  id TEXT PRIMARY KEY, name TEXT NOT NULL DEFAULT '', strain TEXT, form TEXT, source TEXT NOT NULL DEFAULT '',
  received TEXT, kept TEXT, doubtful INTEGER, note TEXT NOT NULL DEFAULT '', void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE weather(
  id TEXT PRIMARY KEY, min_dc INTEGER, max_dc INTEGER, rain_tenths INTEGER, wind_tenths INTEGER, source TEXT,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE put_off(id TEXT PRIMARY KEY, until TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE soak(
  entry TEXT PRIMARY KEY REFERENCES entry(id), part TEXT NOT NULL, water_dc INTEGER, grams INTEGER, began INTEGER) STRICT;
CREATE TABLE weighing(entry TEXT PRIMARY KEY REFERENCES entry(id), grams INTEGER NOT NULL) STRICT;
CREATE TABLE watering(entry TEXT PRIMARY KEY REFERENCES entry(id), litres_tenths INTEGER) STRICT;
CREATE TABLE "move"(entry TEXT PRIMARY KEY REFERENCES entry(id), spot TEXT, why TEXT) STRICT;
CREATE TABLE condition(
  entry TEXT PRIMARY KEY REFERENCES entry(id), bark TEXT, cracks TEXT, wax TEXT, pecked TEXT, competitor TEXT,
  extent TEXT) STRICT;
CREATE TABLE tending(entry TEXT PRIMARY KEY REFERENCES entry(id), what TEXT NOT NULL) STRICT;
INSERT INTO kind(name, sort) VALUES ('wood', 'thing'), ('batch', 'thing'), ('lot', 'thing'), ('weather', 'thing'),
  ('put_off', 'thing'), ('soak', 'entry'), ('weighing', 'entry'), ('watering', 'entry'), ('move', 'entry'),
  ('condition', 'entry'), ('tending', 'entry');
DROP TABLE log_state;
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
  last_tending TEXT, last_tending_day TEXT) STRICT;
ALTER TABLE log_state ADD COLUMN rings TEXT;
CREATE INDEX log_spot ON log(spot);
CREATE INDEX entry_note ON entry(log) WHERE note <> '';
CREATE TABLE searched(
  n INTEGER PRIMARY KEY, log TEXT NOT NULL, of TEXT NOT NULL, what TEXT NOT NULL, text TEXT NOT NULL,
  UNIQUE(log, of, what)) STRICT;
CREATE VIRTUAL TABLE search USING fts5(
  text, content='searched', content_rowid='n', prefix='1 2 3', tokenize='unicode61 remove_diacritics 2');
