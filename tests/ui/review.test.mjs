// The sentence of Review, word for word, and that no word is missing.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answer, chance, tiedWords } from '../../ui/review/answer.js';
import { ASIDE, BY_GROUP, MEASURE, UNTOLD, groupName } from '../../ui/lib/words-review.js';
import { HOW } from '../../ui/lib/words-where.js';
import { readFileSync } from 'node:fs';

const asked = { by: 'wood', measure: 'log_year', mushroom: 'shiitake', from: null, to: null, spot: null };
const bare = { kind: 'no_logs', key: null, name: null, chance: null, close: [], need: null };

test('the answer claims no more than it may', () => {
  assert.equal(answer(asked, { ...bare, kind: 'best', name: 'sugar maple', chance: 0.93 }),
    'Sugar maple gave most for a log and year for shiitake: 93 % sure that no other wood is better.');
  assert.equal(answer(asked, { ...bare, kind: 'close', name: 'sugar maple', chance: 0.7, close: ['white oak', 'red oak'], need: 12 }),
    'Sugar maple leads for shiitake, 70 % sure, but it cannot be told apart from white oak or red oak. About 12 more logs of each of the first two would likely tell.');
  assert.match(answer(asked, { ...bare, kind: 'too_few' }), /^Too few logs to tell which wood/);
  for (const kind of ['no_logs', 'nothing_yet', 'one_group']) assert.doesNotMatch(answer(asked, { ...bare, kind, name: 'white oak' }), /\d/);
  assert.match(answer({ ...asked, mushroom: 'erinaceus' }, { ...bare, kind: 'too_few' }), /lion’s mane/);
  assert.equal(chance(0.9999), 'more than 98 % sure');
});

test('what was never mixed is said', () => {
  assert.equal(tiedWords({ ...asked, mushroom: null }, { with: 'mushroom', groups: ['beech'], only: ['erinaceus'] }),
    'All your beech logs have mushroom lion’s mane, and no other wood has: wood and mushroom cannot be told apart there.');
});

test('every word of the backend has one here', () => {
  const types = readFileSync(new URL('../../ui/api/types.d.ts', import.meta.url), 'utf8');
  const words = (name) => [...(new RegExp(`export type ${name} = ([^;]+);`).exec(types)?.[1] ?? '').matchAll(/"(\w+)"/g)].map((m) => m[1]);
  for (const [name, here] of [['GroupBy', BY_GROUP], ['Measure', MEASURE], ['Untold', UNTOLD], ['Aside', ASIDE]]) {
    assert.ok(words(name).length > 3, name);
    for (const word of words(name)) assert.ok(here[word], `${name} ${word}`);
  }
  for (const measure of words('Measure')) assert.ok(HOW[`review_${measure}`], measure);
  assert.equal(groupName('laid_month', '04'), 'April');
});
