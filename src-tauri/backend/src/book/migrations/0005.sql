ALTER TABLE round ADD COLUMN spots TEXT;
ALTER TABLE round ADD COLUMN child INTEGER;
ALTER TABLE round ADD COLUMN later INTEGER;
ALTER TABLE look ADD COLUMN round TEXT;
ALTER TABLE look ADD COLUMN again TEXT;
ALTER TABLE picking ADD COLUMN round TEXT;
ALTER TABLE picking ADD COLUMN basket TEXT;
ALTER TABLE picking ADD COLUMN stage TEXT;
ALTER TABLE picking ADD COLUMN quality TEXT;
ALTER TABLE "check" ADD COLUMN later INTEGER;
ALTER TABLE "check" ADD COLUMN others TEXT;
ALTER TABLE "check" ADD COLUMN hid TEXT;
ALTER TABLE "check" ADD COLUMN did TEXT;
CREATE TABLE basket(
  id TEXT PRIMARY KEY, day TEXT, opened INTEGER, zone TEXT, round TEXT, grams INTEGER,
  void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE flush(id TEXT PRIMARY KEY, how TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE TABLE sighting(
  entry TEXT PRIMARY KEY REFERENCES entry(id), what TEXT NOT NULL, n INTEGER, extent TEXT, hid TEXT, did TEXT,
  spot TEXT, round TEXT) STRICT;
CREATE TABLE forecast(
  entry TEXT PRIMARY KEY REFERENCES entry(id), look TEXT NOT NULL, stage TEXT NOT NULL, low_tenths INTEGER NOT NULL,
  mid_tenths INTEGER NOT NULL, high_tenths INTEGER NOT NULL, own INTEGER NOT NULL, mean_dc INTEGER) STRICT;
INSERT INTO kind(name, sort) VALUES ('basket', 'thing'), ('flush', 'thing'), ('sighting', 'entry'),
  ('forecast', 'entry');
