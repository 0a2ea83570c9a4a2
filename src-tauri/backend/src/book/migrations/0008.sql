ALTER TABLE log_state ADD COLUMN spot TEXT;
DROP INDEX log_spot;
CREATE INDEX log_state_spot ON log_state(spot);
CREATE INDEX log_batch ON log(batch);
CREATE INDEX log_lot ON log(lot);
CREATE INDEX log_strain ON log(strain);
