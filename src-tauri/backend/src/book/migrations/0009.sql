CREATE TABLE log_course(log TEXT PRIMARY KEY, followed TEXT, forecasts TEXT) STRICT;
-- Where a register cannot be written it is not worked out again.
INSERT INTO log_course SELECT log, followed, forecasts FROM log_state WHERE coalesce(followed, forecasts) IS NOT NULL;
ALTER TABLE log_state DROP COLUMN followed;
ALTER TABLE log_state DROP COLUMN forecasts;
