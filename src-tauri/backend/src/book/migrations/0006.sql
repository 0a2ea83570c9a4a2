ALTER TABLE log_state ADD COLUMN harvest TEXT;
ALTER TABLE log_state ADD COLUMN soak_days TEXT;
ALTER TABLE log_state ADD COLUMN competitor_first TEXT;
