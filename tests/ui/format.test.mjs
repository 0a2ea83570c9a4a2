// Values as text: nothing unknown reads as nothing, and days count across months and years.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bytes, clockTime, cm, count, dayName, dayPlus, daysAgo, figure, grams, gramsAtLeast, listed, minutes, size, when } from '../../ui/lib/format.js';

test('not weighed is not zero', () => {
  assert.equal(grams(null), 'not weighed');
  assert.equal(grams(0), '0 g');
  assert.equal(grams(1234), '1234 g');
  assert.equal(grams(12345), '12.3 kg');
});

test('a sum with a missing weight is at least that much', () => {
  assert.equal(gramsAtLeast(500, 1), 'at least 500 g');
  assert.equal(gramsAtLeast(500, 0), '500 g');
});

test('lengths come back in centimetres', () => {
  assert.equal(cm(125), '12.5');
  assert.equal(cm(null), '');
  assert.equal(size({ d_mm: [125, 130], length_mm: 1000 }), '12.5 / 13 cm thick, 100 cm long');
  assert.equal(size({ d_mm: [], length_mm: null }), '');
});

test('days are counted over the end of a month, a year and the change to summer time', () => {
  assert.equal(daysAgo('2026-10-31', '2026-11-01'), 1);
  assert.equal(daysAgo('2025-12-31', '2026-01-01'), 1);
  assert.equal(daysAgo('2026-03-28', '2026-03-30'), 2);
  assert.equal(dayPlus('2026-03-01', -1), '2026-02-28');
  assert.equal(dayPlus('2024-02-28', 1), '2024-02-29');
});

test('near days have names, far ones their year', () => {
  assert.equal(dayName('2026-11-25', '2026-11-25'), 'today');
  assert.equal(dayName('2026-11-24', '2026-11-25'), 'yesterday');
  assert.equal(dayName('2026-10-03', '2026-11-25'), '3 October');
  assert.equal(dayName('2025-10-03', '2026-11-25'), '3 October 2025');
});

test('a time is shown as the clock stood where it was written', () => {
  assert.equal(clockTime('2026-11-25T19:42:00+01:00'), '19:42');
  assert.equal(when('2026-11-24T23:59:00-08:00', '2026-11-25'), 'yesterday at 23:59');
});

test('minutes are said as hours', () => {
  assert.equal(minutes(45), '45 minutes');
  assert.equal(minutes(60), '1 hour');
  assert.equal(minutes(120), '2 hours');
  assert.equal(minutes(90), '1 hour 30 minutes');
});

test('a computed figure has no more digits than it can carry', () => {
  assert.equal(figure(0), '0');
  assert.equal(figure(3.14159), '3.1');
  assert.equal(figure(9.99), '10');
  assert.equal(figure(406.4), '406');
});

test('counts, lists and sizes read as words', () => {
  assert.equal(count(1, 'log'), '1 log');
  assert.equal(count(0, 'log'), '0 logs');
  assert.equal(listed(['wood', 'size', 'spot']), 'wood, size and spot');
  assert.equal(listed(['wood'], 'or'), 'wood');
  assert.equal(bytes(999), '999 bytes');
  assert.equal(bytes(5100000), '5.1 MB');
});
