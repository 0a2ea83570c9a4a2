// The words of the yard's work: every chore, every "where from" and every thing asked has its words.
// It never checks a rule. Invariant: no key of the backend shows raw on a screen.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { heading, reason, tapWord } from '../../ui/lib/words-chores.js';
import { HOW, INPUT } from '../../ui/lib/words-where.js';
import { WHY_ASK, workSentence } from '../../ui/lib/words-work.js';

const backend = (/** @type {string} */ path) => readFileSync(new URL(`../../src-tauri/backend/src/${path}`, import.meta.url), 'utf8');
const FILES = ['soaking/rules.rs', 'moisture/rules.rs', 'moisture/rules/dry.rs', 'weather/rules.rs', 'chores/rules.rs', 'pickings/rules.rs', 'logs/rules/due.rs', 'lifting/rules.rs'];

test('every formula and every input of the yard’s work has its words', () => {
  for (const file of FILES) {
    const text = backend(file);
    for (const [, how] of text.matchAll(/WhereFrom::new\(\s*"(\w+)"/g)) assert.ok(HOW[how], `${file}: ${how}`);
    for (const [, from] of text.matchAll(/let from = WhereFrom::new([\s\S]*?);/g)) {
      for (const [, name] of from.matchAll(/\.with\("(\w+)"/g)) assert.ok(INPUT[name], `${file}: ${name}`);
    }
  }
});

test('every chore has a heading, a reason and a word for its tap', () => {
  const kinds = [...backend('due.rs').matchAll(/^ {8}[A-Z]\w+ = "(\w+)",$/gm)].map(([, word]) => word).filter((word) => !['now', 'today', 'soon', 'can'].includes(word));
  assert.equal(kinds.length, 14);
  const why = { low_dc: -20, tank: 2, hours: 25, stage: 'lift_now', seen: '2026-05-01', go: null, left: -3, until: '2026-05-01', dry_days: 9, week_tenths: 0, hot: true, weighed: true, last: '2026-05-01', soaked: '2026-05-01', mean_dc: 150, since: '2026-05-01', days: 9, risk: 'high', why: 'half', what: 'trametes', tells: 'may_be_lost', day: '2026-05-01' };
  for (const what of kinds) {
    const due = /** @type {any} */ ({ key: what, what, urgency: 'now', logs: [{ id: 'a', tag: '7' }], spot: null, why });
    for (const words of [heading(due), reason(due, '2026-05-02'), tapWord(due)]) {
      assert.ok(words && !/undefined|null|NaN/.test(words), `${what}: ${words}`);
    }
  }
});

test('whatever is asked about a log has its words', () => {
  const follows = backend('logs/rules/follows.rs');
  const reasons = /pub enum Reason \{([\s\S]*?)\n {4}\}/.exec(follows)?.[1] ?? '';
  const words = [...reasons.matchAll(/= "(\w+)"/g)].map(([, word]) => word).filter((word) => !['not_ended', 'day_before'].includes(word));
  for (const word of [...words, 'too_heavy', 'too_light']) assert.ok(WHY_ASK[word], word);
});

test('each act of the yard’s work is one sentence', () => {
  const said = { tags: ['1', '2'], n: 2, water_dc: null, spot: null, litres_tenths: 20, name: 'By the gate', wet_g: 480, dry_g: 269, day: '2026-05-01', min_dc: -10, rain_tenths: 0, station: 'XX', until: null };
  for (const name of ['soak_in', 'soak_out', 'weigh_add', 'water_add', 'disc_set', 'weather_set', 'weather_take', 'chore_put_off', 'ways_set']) {
    assert.match(workSentence(name, said) ?? '', /^[A-Z].*\.$/, name);
  }
  assert.equal(workSentence('soak_in', said), 'Logs 1 and 2 put into the tank.');
});
