// What two devices wrote apart: a merge before and after, contradictions, twins, values that did not win.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { comesIn, contradiction, fieldValue, goesOut, merged, mergeRemarks, twinQuestion, whose } from '../../ui/lib/apart.js';

const view = (more) => ({ new_acts: 0, not_understood: 0, by_kind: {}, changed_fields: 0, photos_to_come: 0, ahead: [], forked: [], passed_over: [], waiting: 0, to_send: 0, contradictions: [], twins: [], ...more });
const twin = (grams, device, caps = null) => ({ id: `${device}${grams}`, device, mine: false, grams, caps, at: '2026-10-03T15:00:00+02:00' });

test('what comes in is counted by what it is', () => {
  assert.equal(comesIn(view({ new_acts: 44, by_kind: { picking: 41, log: 0, setting: 1 }, changed_fields: 3, photos_to_come: 12 })), '41 pickings, 3 changed fields and 12 photos still to come.');
  assert.equal(comesIn(view({ new_acts: 1, by_kind: { look: 1, check: 2 } })), '1 look and 2 checks on night rounds.');
  assert.equal(comesIn(view({ new_acts: 2, by_kind: { unheard_of: 2 } })), '2 acts.');
  assert.equal(comesIn(view({})), '');
});

test('what goes out is counted in acts', () => {
  assert.match(goesOut({ to_send: 5 }), /^5 acts, with the photos/);
  assert.equal(goesOut({ to_send: 0 }), '');
});

test('a merge with nothing new says that nothing was written', () => {
  assert.equal(merged({ acts: 0, blobs: 0, sent: 0 }), 'Merged. There was nothing new on either side, so nothing was written.');
  assert.equal(merged({ acts: 1, blobs: 2, sent: 3 }), 'Merged: 1 act and 2 photos came in and 3 acts went out.');
  assert.equal(merged({ acts: 0, blobs: 0, sent: 1 }), 'Merged: nothing new came in and 1 act went out.');
});

test('what a preview passes over reads as the merge itself leaves it', () => {
  assert.deepEqual(mergeRemarks(view({ passed_over: ['f'], ahead: ['a'], forked: ['b'], waiting: 2 })), ['passed over f', 'clock ahead a', 'two copies b', 'waiting 2']);
});

test('each contradiction is said without taking sides', () => {
  const of = (kind, more = {}) => contradiction({ kind, name: '37', day: null, ids: [], words: [], ...more });
  assert.equal(of('ended_twice', { words: ['lost', 'spent'] }), 'Log 37 ended twice, for different reasons: lost and spent.');
  assert.equal(of('two_rounds', { name: '', day: '2026-10-03' }), 'Two night rounds were begun for the evening of 3 October 2026. Both are kept.');
  assert.equal(of('after_ending', { day: '2026-10-04' }), 'Log 37 ended, and was worked on afterwards, from 4 October 2026 on.');
  assert.equal(of('removed_and_used'), 'Log 37 was taken out on one device and worked on with another.');
  for (const kind of ['one_tag', 'one_spot', 'one_strain']) assert.match(of(kind), /37\.$/);
});

test('twins ask one question with both weights', () => {
  const twins = { log: 'x', tag: '37', day: '2026-10-03', entries: [twin(420, 'a'), twin(400, 'b')] };
  assert.equal(twinQuestion(twins), 'Two people entered a picking of log 37 on 3 October 2026: 420 g and 400 g. One or two?');
  assert.match(twinQuestion({ ...twins, entries: [...twins.entries, twin(null, 'b', 7)] }), /entered 3 pickings .* 420 g, 400 g and 7 caps\. Was one entered twice\?$/);
});

test('a value is said as on the log’s page, and empty is said', () => {
  assert.equal(fieldValue('d1_mm', 125), '12.5 cm');
  assert.equal(fieldValue('wood', 'red-oak'), 'red oak');
  assert.equal(fieldValue('laid', null), 'not laid yet');
  assert.equal(fieldValue('felled', '2024-02'), 'February 2024');
  assert.equal(fieldValue('mushroom', 'erinaceus'), 'lion’s mane');
  assert.equal(fieldValue('note', ''), 'left empty');
  assert.equal(fieldValue('void', 1), 'taken out');
  assert.equal(fieldValue('tag', '37'), '37');
});

test('this device is called so only when it is known which it is', () => {
  assert.equal(whose('0000-abcdef', 'abcdef'), 'this device');
  assert.equal(whose('0000-abcdef', ''), 'device abcdef');
});
