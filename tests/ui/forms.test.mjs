// What a form sends: nothing typed is nothing known, and reading a log into its form changes nothing.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { asFields, asTyped, blank, sameFields } from '../../ui/log-form/typed.js';
import { asPicking, blank as blankPicking } from '../../ui/picking/typed.js';

const LOG = {
  tag: '37', wood: 'white-oak', d_mm: [125, 130], length_mm: 1000, felled: '2025-24', mushroom: 'shiitake', strain: 'Old Barn', strain_class: 'wide',
  spawn: 'plug', method: 'drilled', laid: '2026-03', spot: 'Fern row', batch: null, lot: '0190', note: 'two lines\nof note',
};

test('a log read into the form and back is the same log', () => {
  assert.deepEqual(asFields(asTyped(LOG), LOG), { ok: true, fields: LOG });
  const bare = { ...LOG, wood: null, d_mm: [], length_mm: null, felled: null, strain: null, strain_class: null, spawn: null, method: null, laid: null, spot: null, note: '' };
  assert.deepEqual(asFields(asTyped(bare), bare), { ok: true, fields: bare });
  const unknown = { ...LOG, felled: 'XXXX', laid: 'XXXX' };
  assert.deepEqual(asFields(asTyped(unknown), unknown), { ok: true, fields: unknown });
});

test('a form saved as it was opened is known to hold nothing new', () => {
  assert.equal(sameFields(asFields(asTyped(LOG), LOG).fields, LOG), true);
  assert.equal(sameFields({ ...LOG, d_mm: [125] }, LOG), false);
  assert.equal(sameFields({ ...LOG, laid: null }, LOG), false);
});

test('a tag and a mushroom are enough', () => {
  const read = asFields({ ...blank('12'), mushroom: 'erinaceus' }, null);
  assert.equal(read.ok, true);
  assert.equal(read.fields.tag, '12');
  assert.equal(read.fields.laid, 'XXXX');
  assert.equal(read.fields.wood, null);
  assert.deepEqual(read.fields.d_mm, []);
});

test('without a mushroom the form is refused at that field', () => {
  assert.equal(asFields(blank('12'), null).wrong.field, 'mushroom');
});

test('a length that cannot be read is refused at its own field', () => {
  assert.equal(asFields({ ...blank('12'), mushroom: 'shiitake', d: ['12', 'x', ''] }, null).wrong.field, 'd_2');
});

test('a strain class typed for shiitake does not stay with Hericium', () => {
  const read = asFields({ ...asTyped(LOG), mushroom: 'americanum' }, LOG);
  assert.equal(read.fields.strain_class, null);
});

test('a picking without a weight is sent as not weighed', () => {
  const read = asPicking({ ...blankPicking('2026-11-25'), caps: '12' }, '2026-11-25');
  assert.deepEqual(read.picking, { day: '2026-11-25', when: 'now', grams: null, caps: 12, damaged_pct: null, by: null, note: '' });
});

test('yesterday is the day before, over the end of a month too', () => {
  const night = asPicking({ ...blankPicking('2026-11-01'), when: 'last_night' }, '2026-11-01').picking;
  assert.deepEqual([night.day, night.when], [null, 'last_night']);
  assert.equal(asPicking({ ...blankPicking('2026-11-01'), when: 'yesterday' }, '2026-11-01').picking.day, '2026-10-31');
});

test('another day needs its day', () => {
  const other = { ...blankPicking('2026-11-25'), when: 'other' };
  assert.equal(asPicking(other, '2026-11-25').wrong.field, 'day');
  other.day.day = '3';
  assert.equal(asPicking(other, '2026-11-25').picking.day, '2026-11-03');
});
