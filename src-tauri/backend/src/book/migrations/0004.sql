CREATE TABLE measure(
  entry TEXT PRIMARY KEY REFERENCES entry(id), photo TEXT NOT NULL, cap INTEGER NOT NULL,
  width_tenths INTEGER NOT NULL, low_tenths INTEGER NOT NULL, high_tenths INTEGER NOT NULL,
  proud_mm INTEGER, taken TEXT) STRICT;
CREATE INDEX measure_photo ON measure(photo);
INSERT INTO kind(name, sort) VALUES ('measure', 'entry');
ALTER TABLE blob ADD COLUMN moved TEXT;
