// Words about photos and caps, and the order of a log's photos.
// It never opens a window. Invariant: a width is never said without its range.

import assert from 'node:assert/strict';
import test from 'node:test';
import { byDate } from '../../ui/lib/photo-days.js';
import { awayWords, growthWords, isShown, nextCap, photoSentence, widthWords } from '../../ui/lib/words-photos.js';

const photo = (hash, more = {}) => ({ entry: 'e', hash, here: true, moved: null, width: 1, height: 1, mime: 'image/jpeg', taken: null, ...more });

test('what an act about photos did is one sentence', () => {
  assert.equal(photoSentence('photo_add', { photos: 1, tied: 1, loose: 0, tag: '2' }), '1 photo put to log 2.');
  assert.equal(photoSentence('photo_add', { photos: 5, tied: 3, loose: 2, tag: '2' }), '3 photos put to their logs, 2 photos put among the loose ones.');
  assert.equal(photoSentence('photo_add', { photos: 1, tied: 0, loose: 0, tag: '' }), 'This photo is in the record already.');
  assert.equal(photoSentence('photo_tie', { tag: null }), 'Photo put among the loose photos.');
  assert.match(photoSentence('cap_add', { cap: 1, tag: '2', width_tenths: 183 }), /18 mm/);
});

test('a width and a growth carry their range', () => {
  assert.equal(widthWords({ width_tenths: 180, low_tenths: 171, high_tenths: 190 }), '18 mm wide, 17 to 19 mm');
  const growth = { tenths_a_day: 70, low: 60, high: 80, caps: 1, hours: 48, widest_tenths: 300, last: '' };
  assert.equal(growthWords(growth), '7 mm a day (6 to 8), from 1 cap over 2 days.');
});

test('a photo that cannot be shown says where it is or why', () => {
  assert.equal(isShown(photo('a')), true);
  assert.equal(isShown(photo('a', { mime: 'image/heic' })), false);
  assert.equal(isShown(photo('a', { here: false, moved: '/card' })), true, 'its preview stays');
  assert.equal(awayWords(photo('a', { here: false })), 'This photo is not on this device yet.');
  assert.equal(awayWords(photo('a', { here: false, moved: '/card' })), 'Not here, in /card.');
});

test('photos stand by day and hour, the oldest first', () => {
  const look = (day, ...photos) => ({ id: day, act: '', day, at: day, note: '', photos, what: { kind: 'look', seen: 'pin' } });
  const list = byDate([look('2026-10-05', photo('c')), look('2026-10-03', photo('b', { taken: '2026-10-03T09:00:00' }), photo('a', { taken: '2026-10-03T08:00:00' }))]);
  assert.deepEqual(list.map(({ photo: { hash } }) => hash), ['a', 'b', 'c']);
  assert.equal(list[0].words, 'pins');
});

test('the next cap in a photo bears the first number that is free in it', () => {
  const cap = (n, hash) => ({ entry: '', photo: hash, cap: n, width_tenths: 1, low_tenths: 1, high_tenths: 1, day: '' });
  assert.equal(nextCap([], 'a'), 1);
  assert.equal(nextCap([cap(1, 'a'), cap(2, 'a'), cap(3, 'b')], 'a'), 3);
  assert.equal(nextCap([cap(1, 'b')], 'a'), 1, 'the same cap in the next photo');
});
