CREATE TABLE apart(
  id TEXT PRIMARY KEY, one TEXT, other TEXT, void INTEGER NOT NULL DEFAULT 0) STRICT;
INSERT INTO kind(name, sort) VALUES ('apart', 'thing');
