ALTER TABLE log_state ADD COLUMN spot TEXT;
DROP INDEX log_spot;
CREATE INDEX log_state_spot ON log_state(spot);
