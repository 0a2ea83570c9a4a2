// Rough dates keep their roughness. The written forms are EDTF, ISO 8601-2 (seasons 21 to 24; from memory).
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { daysIn, fromParts, fromYearDay, toParts, toYearDay, yearDayName } from '../../ui/lib/rough.js';
import { rough } from '../../ui/lib/format.js';

const parts = (given) => ({ kind: 'day', day: '', month: '', season: '', year: '', ...given });

test('what is read is written back the same', () => {
  for (const edtf of ['2026-11-25', '2024-02-29', '2026-11', '2026-01', '2026', '2021-21', '2021-22', '2021-23', '2021-24', 'XXXX']) {
    assert.deepEqual(fromParts(toParts(edtf, 'none')), { ok: true, value: edtf });
  }
});

test('not laid yet and nobody knows when stay two things', () => {
  assert.deepEqual(fromParts(toParts(null, 'none')), { ok: true, value: null });
  assert.deepEqual(fromParts(toParts('XXXX', 'none')), { ok: true, value: 'XXXX' });
});

test('an unknown felling day stays written as nothing', () => {
  assert.deepEqual(fromParts(toParts(null, 'unknown'), null), { ok: true, value: null });
});

test('a day that the month does not have is refused, leap years included', () => {
  assert.equal(fromParts(parts({ day: '29', month: '2', year: '2024' })).ok, true);
  for (const [day, month, year] of [['29', '2', '2025'], ['29', '2', '1900'], ['31', '4', '2025'], ['0', '1', '2025'], ['32', '1', '2025'], ['1.5', '1', '2025'], ['', '1', '2025']]) {
    assert.equal(fromParts(parts({ day, month, year })).part, 'day', `${day}.${month}.${year}`);
  }
});

test('a missing part is asked for by name', () => {
  assert.equal(fromParts(parts({ kind: 'year', year: '24' })).part, 'year');
  assert.equal(fromParts(parts({ kind: 'month', year: '2024' })).part, 'month');
  assert.equal(fromParts(parts({ kind: 'season', year: '2024' })).part, 'season');
});

test('months have their days', () => {
  assert.deepEqual([1, 2, 4, 12].map((month) => daysIn(2026, month)), [31, 28, 30, 31]);
});

test('a rough date is said no sharper than it is known', () => {
  assert.equal(rough('2025-10-12', ''), '12 October 2025');
  assert.equal(rough('2025-10', ''), 'October 2025');
  assert.equal(rough('2025-21', ''), 'spring 2025');
  assert.equal(rough('2025', ''), '2025');
  assert.equal(rough('XXXX', ''), 'day not known');
  assert.equal(rough(null, 'not laid yet'), 'not laid yet');
});

test('a day of every year is read and said, and 29 February is none', () => {
  for (const text of ['01-01', '03-05', '12-31']) assert.deepEqual(fromYearDay(toYearDay(text)), { ok: true, value: text });
  assert.deepEqual(fromYearDay(toYearDay(null)), { ok: true, value: null });
  assert.equal(yearDayName('07-01'), '1 July');
  for (const [day, month] of [['29', '2'], ['31', '4'], ['0', '1'], ['', '3'], ['1st', '3']]) {
    assert.equal(fromYearDay({ day, month }).ok, false, `${day}.${month}`);
  }
});
