// Real taps pass; drops, palms, slips, bounces and a second finger do not.

import assert from 'node:assert/strict';
import test from 'node:test';
import { BOUNCE, DROP, PALM, SLIP, Taps } from '../../ui/lib/taps.js';

const at = (t, more = {}) => ({ pointerId: 1, pointerType: 'touch', clientX: 100, clientY: 700, timeStamp: t, width: 20, height: 20, ...more });

function tap(taps, from, to, more = {}, end = {}) {
  taps.press(at(from, more));
  taps.lift(at(to, { ...more, ...end }));
  return taps.meant();
}

test('a thumb passes', () => {
  assert.equal(tap(new Taps(), 0, 80), true);
  assert.equal(tap(new Taps(), 0, 80, {}, { clientX: 100 + SLIP }), true);
});

test('a drop, a palm, a slip and running water do not', () => {
  assert.equal(tap(new Taps(), 0, DROP - 1), false);
  assert.equal(tap(new Taps(), 0, PALM + 1), false);
  assert.equal(tap(new Taps(), 0, 80, {}, { clientY: 700 + SLIP + 1 }), false);
  assert.equal(tap(new Taps(), 0, 80, { width: 200 }), false);
});

test('a bounce of one tap is one tap, and two quick ones are two', () => {
  const taps = new Taps();
  assert.equal(tap(taps, 0, 60), true);
  assert.equal(tap(taps, 70, 60 + BOUNCE - 1), false);
  assert.equal(tap(taps, 300, 380), true);
});

test('two fingers at once tap nothing', () => {
  const taps = new Taps();
  taps.press(at(0));
  taps.press(at(10, { pointerId: 2, clientX: 200 }));
  taps.lift(at(80));
  assert.equal(taps.meant(), false);
  taps.lift(at(90, { pointerId: 2, clientX: 200 }));
  assert.equal(taps.meant(), false);
  assert.equal(tap(taps, 400, 480), true);
});

test('a touch that scrolled away taps nothing, and a mouse always does', () => {
  const taps = new Taps();
  taps.press(at(0));
  taps.lose(at(40));
  assert.equal(taps.meant(), false);
  assert.equal(tap(taps, 500, 501, { pointerType: 'mouse' }), true);
});
