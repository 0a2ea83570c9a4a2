// How a spreadsheet is matched: one column one meaning, order and units asked only when they matter.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { explain, explainCell } from '../../ui/lib/explain.js';
import { MEANINGS, asked, matched, meaningOf, raises, startWith } from '../../ui/lib/sheet.js';
import { MEANING, meaningName, sentence, warning } from '../../ui/lib/words.js';

test('a sheet with a day or a weight starts as pickings, any other as logs', () => {
  assert.equal(startWith({ tag: 0, weight: 2 }, null, null).what, 'pickings');
  assert.equal(startWith({ tag: 0, wood: 1 }, null, null).what, 'logs');
});

test('only what such a row can say is taken from the guess', () => {
  const start = startWith({ tag: 0, day: 1, wood: 2 }, 'logs', null);
  assert.deepEqual(start.columns, { tag: 0, wood: 2 });
  const kept = startWith({ tag: 0, day: 1, wood: 2 }, 'pickings', { ...start, lengths: 'in' });
  assert.deepEqual(kept.columns, { tag: 0, day: 1 });
  assert.equal(kept.lengths, 'in');
});

test('a meaning given to a column is taken from the other, and a column has one', () => {
  assert.deepEqual(matched({ tag: 0, wood: 1 }, 1, 'tag'), { tag: 1 });
  assert.deepEqual(matched({ tag: 0, wood: 1 }, 1, ''), { tag: 0 });
  assert.equal(meaningOf({ tag: 0 }, 0), 'tag');
  assert.equal(meaningOf({ tag: 0 }, 1), '');
});

test('order and units are asked only when a column raises them', () => {
  const match = startWith({ tag: 0 }, 'logs', null);
  assert.deepEqual(raises(match), { dates: false, lengths: false, weights: false, mushroom: true });
  assert.equal(raises({ ...match, columns: { laid: 1, d1: 2 } }).dates, true);
  assert.equal(raises({ ...match, columns: { laid: 1, d1: 2 } }).lengths, true);
  assert.deepEqual(raises({ ...match, what: 'pickings', columns: { weight: 1 } }), { dates: false, lengths: false, weights: true, mushroom: false });
});

test('a default mushroom goes only with logs', () => {
  const match = { ...startWith({ tag: 0 }, 'pickings', null), mushroom: 'shiitake' };
  assert.equal(asked({ file: 'eA==', sheet: { delimiter: 'comma' }, match }).mushroom, null);
  assert.equal(asked({ file: 'eA==', sheet: { delimiter: 'comma' }, match: { ...match, what: 'logs' } }).mushroom, 'shiitake');
});

test('every meaning a column can have has a name', () => {
  const all = new Set([...MEANINGS.logs, ...MEANINGS.pickings]);
  assert.deepEqual([...all].sort(), Object.keys(MEANING).sort());
  assert.equal(meaningName('damaged_pct'), 'per cent damaged');
});

test('each reason a cell is refused for is a sentence with its text', () => {
  const said = (why, detail = {}, text = 'x7') => explainCell({ why, detail, text });
  const whys = ['number', 'whole', 'thousands', 'not_a_date', 'not_a_day', 'two_digit_year', 'future', 'unknown_word', 'no_log', 'several_logs', 'order', 'range', 'too_many_cells'];
  for (const why of whys) assert.match(said(why, { other: 'laid', min: 1, max: 2, unit: 'g', logs: 2 }), /“x7”.*\.$/, why);
  assert.match(explainCell({ why: 'unknown_word', detail: {}, text: 'x7' }, 'spawn'), /Known are plug and sawdust\./);
  assert.match(said('empty', {}, ''), /^The cell is empty/);
  assert.match(said('range', { min: 10, max: 2000, unit: 'mm' }), /1 cm to 200 cm/);
});

test('a sheet that cannot be read says what to do, and that nothing came in', () => {
  for (const why of ['empty_file', 'too_big_bytes', 'not_text', 'quotes', 'too_many_rows', 'too_many_columns', 'no_rows', 'rows_refused']) {
    const { what, safe, todo } = explain({ code: 'invalid', message: '', field: 'text', detail: { why, row: 3, max: 9, bad: 2, max_bytes: 5 } });
    assert.ok(what && todo, why);
    assert.match(safe, /Nothing was taken in/, why);
  }
  assert.match(explain({ code: 'invalid', message: '', field: 'columns', detail: { why: 'empty', word: 'mushroom' } }).what, /No column says the mushroom/);
  assert.match(explain({ code: 'invalid', message: '', field: 'folder', detail: { why: 'not_writable' } }).what, /Nothing can be written/);
});

test('what was taken in is said with its number and a warning about tags', () => {
  assert.equal(sentence('csv_take', { what: 'logs', n: 38 }), '38 logs taken in from a spreadsheet.');
  assert.match(warning('csv_take', { same_tag: 2 }), /2 of them carry tags/);
  assert.equal(warning('csv_take', { same_tag: 0 }), '');
});
