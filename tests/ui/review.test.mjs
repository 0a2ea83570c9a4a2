// The sentence of Review, word for word, and that no word is missing.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answer, chance, layWords, tiedWords } from '../../ui/review/answer.js';
import { shown, showIn, woodVolume } from '../../ui/lib/format.js';
import { ASIDE, BY_GROUP, MEASURE, UNTOLD, groupName, measured, withUnit } from '../../ui/lib/words-review.js';
import { forecastWords, logWords, monthName, seasonName } from '../../ui/season/report.js';
import { HOW } from '../../ui/lib/words-where.js';
import { readFileSync } from 'node:fs';

const asked = { by: 'wood', measure: 'log_year', mushroom: 'shiitake', from: null, to: null, spot: null };
const bare = { kind: 'no_logs', key: null, name: null, chance: null, close: [], need: null };

test('the answer claims no more than it may', () => {
  assert.equal(answer(asked, { ...bare, kind: 'best', name: 'sugar maple', chance: 0.93 }),
    'Sugar maple gave most for a log and year for shiitake: 93\u00a0% sure that no other wood is better.');
  assert.equal(answer(asked, { ...bare, kind: 'close', name: 'sugar maple', chance: 0.7, close: ['white oak', 'red oak'], need: 12 }),
    'Sugar maple leads for shiitake, 70\u00a0% sure, but it cannot be told apart from white oak or red oak. About 12 more logs of each of the first two would likely tell.');
  assert.match(answer(asked, { ...bare, kind: 'too_few' }), /^Too few logs to tell which wood/);
  for (const kind of ['no_logs', 'nothing_yet', 'one_group']) assert.doesNotMatch(answer(asked, { ...bare, kind, name: 'white oak' }), /\d/);
  assert.match(answer({ ...asked, mushroom: 'erinaceus' }, { ...bare, kind: 'too_few' }), /lion’s mane/);
  assert.equal(chance(0.9999), 'more than 98\u00a0% sure');
});

test('what to lay next is said where the answer is about wood and tells', () => {
  assert.equal(layWords(asked, { ...bare, kind: 'best', name: 'sugar maple' }), 'To lay next: sugar maple.');
  assert.equal(layWords(asked, { ...bare, kind: 'close', name: 'beech', close: ['sugar maple', 'red oak', 'white oak'] }),
    'To lay next: beech, sugar maple or red oak; three or more of each, so that they can be told apart.');
  for (const kind of ['no_logs', 'nothing_yet', 'too_few', 'one_group']) assert.equal(layWords(asked, { ...bare, kind, name: 'beech' }), '');
  assert.equal(layWords({ ...asked, by: 'spot' }, { ...bare, kind: 'best', name: 'Ditch' }), '');
});

test('figures stand in the units that are set', () => {
  assert.equal(withUnit('log_year', 459), '459\u00a0g');
  assert.equal(groupName('thickness', '125_to_150_mm'), '12.5 to 15 cm');
  showIn('us');
  try {
    assert.equal(withUnit('log_year', 459), '16\u00a0oz');
    assert.equal(withUnit('life', 3000), '6.6\u00a0lb');
    // A kilogram a cubic metre is 0.99885 ounces a cubic foot (by the definitions of pound and inch).
    assert.equal(withUnit('litre', 500), '499\u00a0oz');
    assert.equal(withUnit('soonest', 1.25), '1.3\u00a0years');
    assert.equal(withUnit('dry_kg', 8.8), '8.8\u00a0%');
    assert.match(measured('litre').axis, /cubic foot/);
    assert.match(answer({ ...asked, measure: 'litre' }, { ...bare, kind: 'best', name: 'beech', chance: 0.95 }), /most for a cubic foot of wood/);
    assert.equal(groupName('thickness', '125_to_150_mm'), '4.9 to 5.9 in');
    assert.equal(woodVolume(12.5), '0.44 cubic feet');
    assert.equal(shown('litres', 12.5), '0.44 ft³');
    assert.equal(shown('gave_g', 459), '1.0 lb');
  } finally {
    showIn('metric');
  }
  assert.equal(woodVolume(12.5), '13 litres');
});

test('a season bears one year or two, and forecasts say how many came true and how far off they were', () => {
  assert.equal(seasonName({ year: 2026, last: '2026-12-31' }), '2026');
  assert.equal(seasonName({ year: 2025, last: '2026-03-04' }), '2025/26');
  assert.equal(monthName({ of: '2026-03', grams: 0, pickings: 0, unweighed: 0 }), 'Mar');
  const score = { n: 12, hits: 10, hit_pct: 83.3, miss_days: 1.5, open: 2, few: false };
  assert.equal(forecastWords(score), '10 of 12 forecasts came true (83\u00a0%), 1.5 days off on the mean.');
  assert.match(forecastWords({ ...score, n: 1, hits: 1, hit_pct: 100, miss_days: 0, few: true }), /^1 of 1 forecast came true.*to the day.*too few/);
  assert.equal(forecastWords({ n: 0, hits: 0, hit_pct: null, miss_days: null, open: 3, few: true }), '');
  const log = { tag: '7', wood_name: null, mushroom: 'shiitake' };
  assert.deepEqual(logWords({ log, grams: 0, unweighed: 2, photo: null })[2], '2 pickings not weighed');
  assert.deepEqual(logWords({ log, grams: 0, unweighed: 0, photo: null }), ['Log 7', 'Wood not known, shiitake', 'Not picked yet']);
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
