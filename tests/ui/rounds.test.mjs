// Walking the round, and the record's quiet stretches.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { runs } from '../../ui/log/runs.js';
import { showIn } from '../../ui/lib/format.js';
import { lossWhy, reasonWords, roundSentence } from '../../ui/lib/words-rounds.js';
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

test('a risk of loss says what it follows from', () => {
  const loss = (more) => lossWhy({ what: 'trametes', day: '2026-10-03', days: 1, ...more }, '2026-10-05');
  assert.equal(loss({ why: 'seen' }), 'Brackets in zones seen 3 October.');
  assert.equal(loss({ why: 'half' }), 'Brackets in zones, seen 3 October, on half of it or more.');
  assert.equal(loss({ why: 'again', days: 3 }), 'Fungi that take the wood were seen on 3 days, last brackets in zones 3 October.');
  assert.equal(loss({ why: 'seen', what: null }), 'Another fungus seen 3 October.');
});

test('an answer about two baskets says which logs count once', () => {
  const said = (more) => roundSentence('basket_pair_answer', { tags: ['2', '4'], ...more }, String);
  assert.equal(said({ same: true }), 'One basket, entered twice: logs 2 and 4 count once.');
  assert.equal(said({ same: true, tags: ['2'] }), 'One basket, entered twice: log 2 counts once.');
  assert.equal(said({ same: false }), 'Two baskets: both stay.');
});

const check = (slugs, how = 'seen', damage = 'none', note = '') => ({ note, what: { kind: 'check', how, slugs, damage } });

test('night rounds that found nothing are folded, and no entry is left out', () => {
  const look = { note: '', what: { kind: 'look', seen: 'pin' } };
  const record = [check(0), check(0, 'clean'), check(2), check(0), look, check(0, 'skipped'), check(0), check(0, 'seen', 'some'), check(0, 'seen', 'none', 'rain')];
  assert.deepEqual(runs(record).flat(), record);
  assert.deepEqual(runs(record).map((run) => run.length), [2, 1, 1, 1, 1, 1, 1, 1]);
});

test('what a slug night hangs on is said in the units shown', () => {
  const cold = { how: 'slug_cold', inputs: [{ name: 'low_dc', value: -40 }] };
  assert.equal(reasonWords(cold), 'too cold below 4 °C (-4 °C)');
  showIn('us');
  assert.equal(reasonWords(cold), 'too cold below 39.2 °F (24.8 °F)');
  showIn('metric');
});
