// Long work in words: how far it is, what came of it, what was found on the way.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { failedJob } from '../../ui/lib/explain.js';
import { deviceName, foundWords, jobWords, resultOf, wasStopped } from '../../ui/lib/jobs.js';

const job = (state, more = {}) => ({ job: '1', state, done: 0, total: 0, found: [], result: null, ...more });
const words = { running: 'Copying', done: () => 'Copied.', stopped: 'Stopped.', failed: 'Not copied.' };

test('work says how far it is only when there are steps to count', () => {
  assert.equal(jobWords(job('running'), words), 'Copying…');
  assert.equal(jobWords(job('running', { done: 3, total: 9 }), words), 'Copying, 3 of 9…');
  assert.equal(jobWords(job('done'), words), 'Copied.');
  assert.equal(jobWords(job('cancelled'), words), 'Stopped.');
});

test('work that failed because it was stopped is said as stopped', () => {
  const stopped = job('failed', { found: ['conflict: cancelled'] });
  assert.equal(wasStopped(stopped), true);
  assert.equal(jobWords(stopped, words), 'Stopped.');
});

test('work that failed says why, what is safe and what to do', () => {
  assert.match(jobWords(job('failed', { found: ['no room left'] }), words), /^Not copied\. The disk is full.*Free some space/);
  assert.match(failedJob('damaged: archive: acts.jsonl'), /not a whole archive/);
  assert.match(failedJob('damaged: register-20261003T190000Z-00112233.sqlite'), /^This copy is not whole/);
  assert.match(failedJob('register version 9 is newer than 2'), /newer Shadeyard/);
  assert.match(failedJob('no such folder'), /^There is no such folder/);
  assert.match(failedJob('fault: something odd'), /something odd/);
});

test('photos that are missing or changed are counted, not listed without end', () => {
  const hash = (n) => String(n).repeat(64).slice(0, 64);
  assert.match(foundWords([`missing ${hash(1)}`])[0], /^1 photo is missing from the yard folder: 11111111\./);
  assert.match(foundWords(Array.from({ length: 8 }, (_, n) => `swapped ${hash(n + 1)}`))[0], /^8 photos are no longer what the camera wrote: 11111111, .* and 3 more\./);
});

test('damage of a table names what the table keeps', () => {
  assert.deepEqual(foundWords(['entry: *** in database main ***\nTree 27 page 27: bad', 'entry: row 4 missing', 'log: x']), ['The register is damaged where it keeps the entries and the logs.']);
});

test('what a merge passed over is said with the file, the device or the number', () => {
  const device = '01234567-89ab-7def-8123-0000001a2b3c';
  const [passed, ahead, twice, waiting] = foundWords(['waiting 1', `two copies ${device}`, `clock ahead ${device}`, 'passed over acts/x/1-2.jsonl.gz']);
  assert.match(passed, /^1 file is not complete yet and was passed over: acts\/x\/1-2\.jsonl\.gz\./);
  assert.match(ahead, /^The clock of device 1a2b3c is more than a day ahead/);
  assert.match(twice, /^Device 1a2b3c exists twice/);
  assert.match(waiting, /^1 act waits for earlier ones/);
});

test('a line nobody knows yet is shown as it is', () => {
  assert.deepEqual(foundWords(['something new']), ['Something new']);
});

test('a result that is no object gives no numbers', () => {
  assert.deepEqual(resultOf(job('done', { result: '{"acts":3}' })), { acts: 3 });
  assert.deepEqual(resultOf(job('done', { result: '/a/path.zip' })), {});
  assert.equal(deviceName('0000-abcdef'), 'device abcdef');
});
