ALTER TABLE log_state ADD COLUMN followed TEXT;
ALTER TABLE log_state ADD COLUMN forecasts TEXT;
