// A caution comes once a day, stays at its act, and comes again the next day.

import assert from 'node:assert/strict';
import test from 'node:test';
import { onceADay } from '../../ui/lib/once.js';

test('a caution is shown at the first act of a day and not at the second', () => {
  const kept = new Map();
  const store = { getItem: (k) => kept.get(k) ?? null, setItem: (k, v) => void kept.set(k, v) };
  assert.equal(onceADay(store, 'picking', '2026-10-03', 'card 1'), true);
  assert.equal(onceADay(store, 'picking', '2026-10-03', 'card 1'), true, 'it stays while the act goes on');
  assert.equal(onceADay(store, 'picking', '2026-10-03', 'card 2'), false);
  assert.equal(onceADay(store, 'bait', '2026-10-03', 'card 2'), true, 'another caution has a day of its own');
  assert.equal(onceADay(store, 'picking', '2026-10-04', 'card 3'), true);
});
