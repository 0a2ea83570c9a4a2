ALTER TABLE log_state ADD COLUMN spot TEXT;
-- Where a register cannot be written it is not worked out again: until then where its own spot says.
UPDATE log_state SET spot = (SELECT spot FROM log WHERE id = log_state.log);
DROP INDEX log_spot;
CREATE INDEX log_state_spot ON log_state(spot);
CREATE INDEX log_batch ON log(batch);
CREATE INDEX log_lot ON log(lot);
CREATE INDEX log_strain ON log(strain);
