// What an act did, as a sentence; and every refusal as three sentences a grower can act on.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { explain, inOneText } from '../../ui/lib/explain.js';
import { sentence, warning } from '../../ui/lib/words.js';

const refused = (code, field, detail) => ({ code, field, detail, message: 'for the log' });

test('each act is said in words', () => {
  assert.equal(sentence('log_add', { tag: '37' }), 'Log 37 added.');
  assert.equal(sentence('log_edit', { tag: '37', fields: ['wood', 'd_mm'] }), 'Log 37 changed: wood and thickness.');
  assert.equal(sentence('log_end', { tag: '37', why: 'spent' }), 'Log 37 ended: spent.');
  assert.equal(sentence('look_add', { tag: '37', seen: 'pin', photos: 1 }), 'Log 37 looked at: pins seen, 1 photo.');
  assert.equal(sentence('round_check', { tag: '37', how: 'seen', slugs: 3, damage: 'some' }), 'Log 37 on the night round: 3 slugs, some damage.');
  assert.equal(sentence('round_spot_clean', { spot: 'Fern row', n: 4 }), '4 logs of Fern row marked clean.');
  assert.equal(sentence('round_end', { day: '2026-11-25', done: 39, logs: 40, slugs: 1 }), 'Night round of 25 November 2026 ended: 39 of 40 logs seen, 1 slug.');
});

test('a picking nobody weighed is not said as nothing', () => {
  assert.equal(sentence('picking_add', { tag: '37', grams: null, caps: 12 }), 'Log 37 picked: not weighed, 12 caps.');
  assert.equal(sentence('picking_add', { tag: '37', grams: 0, caps: null }), 'Log 37 picked: 0 g.');
});

test('taking back says what, and what was left as it is', () => {
  const undone = { name: 'log_edit', said: { tag: '37', fields: ['wood'] } };
  assert.equal(sentence('undo', { undone, kept: ['wood'] }), 'Taken back: Log 37 changed: wood. Changed again since, so left as it is: wood.');
});

test('taking back a taking back is said as done again', () => {
  const undone = { name: 'undo', said: { undone: { name: 'log_add', said: { tag: '37' } } } };
  assert.equal(sentence('undo', { undone, kept: [] }), 'Done again: Log 37 added.');
});

test('the same tag and a conifer are warnings on an act that was done', () => {
  assert.equal(warning('log_add', { tag: '37', same_tag: 0, conifer: false }), '');
  assert.match(warning('log_add', { tag: '37', same_tag: 1, conifer: false }), /another log carries the tag 37/);
  assert.match(warning('log_add', { tag: '37', same_tag: 0, conifer: true }), /conifer/);
});

test('every refusal says what happened, what is safe and what to do', () => {
  const whys = ['empty', 'range', 'order', 'future', 'not_a_date', 'unknown_word', 'too_long', 'not_an_image', 'cut_short', 'too_big_bytes', 'too_big_pixels', 'empty_file', 'heic', 'number', 'never heard of'];
  const all = [
    ...whys.map((why) => refused('invalid', 'tag', { why, min: 1, max: 9, unit: 'g', other: 'felled', word: 'x', max_bytes: 100, width: 1, height: 1 })),
    ...['locked', 'round_open', 'round_ended', 'undone_already', 'nothing_changed', 'ended_already', 'never heard of'].map((why) => refused('conflict', null, { why })),
    ...['missing', 'too_new', 'damaged', 'disk_full', 'bug'].map((code) => refused(code, null, {})),
  ];
  for (const one of all) {
    const said = explain(one);
    for (const part of [said.what, said.safe, said.todo]) {
      assert.match(part, /^.{8,}[.!]$/, JSON.stringify(one));
      assert.doesNotMatch(part, /undefined|null|NaN|\[object/, JSON.stringify(one));
    }
  }
});

test('a length out of range is said in centimetres', () => {
  assert.match(inOneText(refused('invalid', 'd_mm', { why: 'range', min: 20, max: 1000, unit: 'mm' })), /from 2 cm to 100 cm/);
});

test('laid before felled names both', () => {
  assert.match(explain(refused('invalid', 'laid', { why: 'order', other: 'felled' })).what, /laid.*felled/);
});
