// The health of the yard in words, and what going back to a copy would lose.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { age, copyWords, deviceWords, photosMissing, takenBefore, wouldLose } from '../../ui/lib/care.js';
import { explain, explainClosed } from '../../ui/lib/explain.js';
import { link, parse } from '../../ui/lib/router.js';

test('the age of a backup is said in days once it is older than yesterday', () => {
  assert.equal(age('2026-10-03T20:00:00+02:00', '2026-10-03'), 'today at 20:00');
  assert.equal(age('2026-10-02T20:00:00+02:00', '2026-10-03'), 'yesterday at 20:00');
  assert.equal(age('2026-09-20T20:00:00+02:00', '2026-10-03'), '20 September at 20:00, 13 days ago');
});

test('a copy that cannot be read is never counted', () => {
  const row = { name: 'x', at: '', bytes: 5000, acts: 0, logs: 7, entries: 1, photos: 0 };
  assert.equal(copyWords({ ...row, sound: null }), '7 logs, 1 entry and 0 photos, 5 kB');
  assert.equal(copyWords({ ...row, sound: false }), 'cannot be read');
});

test('the loss is counted, or said to be nothing, or said to be unknown', () => {
  const copy = { lost_count: 12, now: { acts: 1 } };
  assert.equal(wouldLose(copy), 'You would lose 12 acts, the newest:');
  assert.match(wouldLose({ ...copy, lost_count: 0 }), /lose nothing/);
  assert.match(wouldLose({ ...copy, now: null }), /cannot be counted/);
  assert.match(photosMissing(0), /^All its photos/);
  assert.match(photosMissing(1), /^1 photo of it is neither/);
});

test('a snapshot says what it was taken before', () => {
  for (const [name, words] of [['before-merge-2026', 'a merge'], ['before-restore-2026', 'going back'], ['before-archive-2026', 'an archive'], ['before-version-2-from-1', 'a newer version']]) assert.match(takenBefore(name), new RegExp(words));
  assert.equal(takenBefore('register-2026'), '');
});

test('a device says how much it wrote and when it was last heard of', () => {
  const row = { device: 'x', short: 'x', acts: 3, last: '2026-10-03T20:00:00+02:00', mine: false, ahead: false };
  assert.equal(deviceWords(row, '2026-10-03'), '3 acts, last heard of today at 20:00');
});

test('a closed yard says what is so, what is safe and what to do', () => {
  for (const closed of ['newer', 'damaged']) {
    const { what, safe, todo } = explainClosed(closed);
    assert.ok(what && safe && todo);
  }
  assert.match(explainClosed('newer').todo, /archive/);
  assert.match(explainClosed('damaged').todo, /backup/);
});

test('what is damaged is named: a copy, an archive, a photo, or the register', () => {
  const what = (name) => explain({ code: 'damaged', message: '', field: null, detail: { what: name } }).what;
  assert.match(what('register-20261003T190000Z-0011223344556677.sqlite'), /^This copy/);
  assert.match(what('archive: acts.jsonl'), /archive/);
  assert.match(what('photo'), /photo/);
  assert.match(what('malformed'), /part of the register/);
});

test('the address of a copy carries its name whole', () => {
  const values = { from: 'snapshots', name: 'before-merge-20261003T190000Z-0011223344556677.sqlite' };
  assert.deepEqual(parse(link('copy', values)), { name: 'copy', params: values });
  assert.equal(parse('#/care').name, 'care');
});
