// Walking the round, and the record's quiet stretches.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { runs } from '../../ui/log/runs.js';
import { after, belongs, found } from '../../ui/round/walk.js';

const stops = (text) => text.split(' ').map((word) => ({ log: { tag: word.replace('*', '') }, check: word.endsWith('*') ? { how: 'seen' } : null }));
const tags = (hits) => hits.map(({ stop }) => stop.log.tag);

test('the next card is the next one nobody has seen, then from the start, then none', () => {
  assert.equal(after({ stops: stops('1* 2* 3 4') }, 1), 2);
  assert.equal(after({ stops: stops('1 2* 3* 4*') }, 3), 0);
  assert.equal(after({ stops: stops('1* 2* 3*') }, 1), null);
});

test('a log ticked out of turn does not send the round back before its place', () => {
  assert.equal(after({ stops: stops('1 2 3* 4 5') }, 2), 3);
});

test('digits find the log of that number first, then those that begin with it', () => {
  assert.deepEqual(tags(found(stops('14 41 4 104 B-4 004'), '4')), ['4', 'B-4', '004', '41', '14', '104']);
  assert.deepEqual(tags(found(stops('37 A37 73'), '37')), ['37', 'A37']);
  assert.deepEqual(found(stops('37'), ''), []);
  assert.deepEqual(found(stops('37'), '9'), []);
});

test('only checks of this very round can be undone from its card', () => {
  assert.equal(belongs({ name: 'round_check', said: { round: 'r' } }, 'r'), true);
  assert.equal(belongs({ name: 'round_spot_clean', said: { round: 'r' } }, 'r'), true);
  assert.equal(belongs({ name: 'round_check', said: { round: 'other' } }, 'r'), false);
  assert.equal(belongs({ name: 'picking_add', said: { round: 'r' } }, 'r'), false);
});

const check = (slugs, how = 'seen', damage = 'none', note = '') => ({ note, what: { kind: 'check', how, slugs, damage } });

test('night rounds that found nothing are folded, and no entry is left out', () => {
  const look = { note: '', what: { kind: 'look', seen: 'pin' } };
  const record = [check(0), check(0, 'clean'), check(2), check(0), look, check(0, 'skipped'), check(0), check(0, 'seen', 'some'), check(0, 'seen', 'none', 'rain')];
  assert.deepEqual(runs(record).flat(), record);
  assert.deepEqual(runs(record).map((run) => run.length), [2, 1, 1, 1, 1, 1, 1, 1]);
});
