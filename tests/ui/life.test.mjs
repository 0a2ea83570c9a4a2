// The words of woods, waiting wood, strains and a log's life: ranges stay ranges, and doubt is said.
import assert from 'node:assert/strict';
import { showIn, shown } from '../../ui/lib/format.js';
import { test } from 'node:test';
import { explain } from '../../ui/lib/explain.js';
import { sentence } from '../../ui/lib/words.js';
import { daysLeft, degrees, question, rating, season, since } from '../../ui/lib/words-life.js';

test('a rating that sources differ on stays a range', () => {
  assert.equal(rating({ low: 4, high: 4 }), '4 of 4, best');
  assert.equal(rating({ low: 2, high: 4 }), '2 to 4 of 4, fair to best');
  assert.equal(rating(null), 'nobody says');
});

test('days left are said exactly, roughly, on the last day, and as stale', () => {
  assert.equal(daysLeft({ left: 12, left_most: 12, stale: false }), '12 days left');
  assert.equal(daysLeft({ left: 0, left_most: 0, stale: false }), 'today is the last day');
  assert.equal(daysLeft({ left: 3, left_most: 30, stale: false }), '3 to 30 days left');
  assert.equal(daysLeft({ left: -2, left_most: 26, stale: false }), 'may be stale; at most 26 days left');
  assert.equal(daysLeft({ left: -1, left_most: -1, stale: true }), 'stale since 1 day');
  assert.equal(daysLeft({ left: -40, left_most: -12, stale: true }), 'stale since 12 to 40 days');
  assert.equal(since([1, 1]), '1 day since felling');
  assert.equal(since(null), 'nobody knows when it was felled');
});

test('where a strain fruits is said in the units shown', () => {
  showIn('us');
  assert.equal(degrees({ from_dc: 40, to_dc: 210 }), '39.2 to 69.8 °F');
  assert.equal(shown('cooler_from_k', 5.5), '9.9 °F', 'a difference has no 32');
  showIn('metric');
  assert.equal(shown('cooler_from_k', 5.5), '5.5 °C');
  assert.equal(degrees({ from_dc: 40, to_dc: 210 }), '4 to 21 °C');
  assert.equal(season([9, 5]), 'September to May');
});

test('fruit out of season asks by tag, and fruit in season does not', () => {
  assert.equal(question({ asks: [], season: null }, '7'), '');
  const out = { class: 'cold', months: [9, 5], from: null };
  assert.equal(question({ asks: [], season: out }, '7'), 'Cold strains fruit in the cool months (here September to May). Is it log 7?');
  assert.match(question({ asks: ['away'], season: null }, '7'), /left the yard. Is it log 7\?$/);
});

test('what an act on wood and spawn did is said, with what follows from doubt', () => {
  assert.equal(sentence('lot_set', { name: 'spring bag', new: false, logs: 3, doubtful: true }), 'Spawn lot spring bag changed. 3 logs of it stay out of comparisons of strains.');
  assert.equal(sentence('batch_set', { name: 'oak', new: true }), 'Batch oak added.');
  assert.equal(sentence('log_unend', { tag: '7' }), 'Log 7 is in the yard again; its ending was taken back.');
});

test('a conifer is refused for planning with its reason, and what is in use says by what', () => {
  const conifer = explain({ code: 'invalid', message: '', field: 'wood', detail: { why: 'conifer', name: 'pine' } });
  assert.match(conifer.what, /Pine is a conifer/);
  assert.equal(conifer.field, 'wood');
  const used = explain({ code: 'conflict', message: '', field: null, detail: { why: 'in_use', logs: 2, lots: 1 } });
  assert.equal(used.what, '2 logs and 1 spawn lot of it stand in the register.');
});
