// Tells a tap of a thumb from rain drops, a palm, a slip and a bounce, from the pointer's own events.
// It never looks at what was tapped. Invariant: a mouse, a pen and the keyboard always pass; a touch passes when one finger
// alone came down and went up at the same place, neither in an instant nor for long, and not right after the last one.

/** Farther than this between down and up is a slip, px. */
export const SLIP = 18;
/** A drop is gone sooner, ms. */
export const DROP = 20;
/** A resting palm stays longer, ms. */
export const PALM = 1500;
/** A bounce of the same tap comes sooner, ms. */
export const BOUNCE = 90;
/** A contact wider than this is a palm or running water, px. */
export const WIDE = 90;

/** @typedef {{pointerId: number, pointerType: string, clientX: number, clientY: number, timeStamp: number, width?: number, height?: number}} Point */

export class Taps {
  constructor() {
    /** @type {Map<number, Point & {crowded: boolean}>} */
    this.down = new Map();
    this.good = true;
    this.last = -Infinity;
  }

  /** @param {Point} e */
  press(e) {
    if (e.pointerType !== 'touch') return void (this.good = true);
    for (const other of this.down.values()) other.crowded = true;
    this.down.set(e.pointerId, { ...plain(e), crowded: this.down.size > 0 });
    this.good = false;
  }

  /** @param {Point} e */
  lift(e) {
    if (e.pointerType !== 'touch') return;
    const began = this.down.get(e.pointerId);
    this.down.delete(e.pointerId);
    if (!began) return void (this.good = false);
    const held = e.timeStamp - began.timeStamp;
    const slid = Math.hypot(e.clientX - began.clientX, e.clientY - began.clientY);
    const wide = Math.max(began.width ?? 0, began.height ?? 0) > WIDE;
    const bounced = e.timeStamp - this.last < BOUNCE;
    this.good = !began.crowded && held >= DROP && held <= PALM && slid <= SLIP && !wide && !bounced;
    this.last = e.timeStamp;
  }

  /** The system took the touch away, for scrolling as a rule. @param {Point} e */
  lose(e) {
    this.down.delete(e.pointerId);
  }

  /** Whether the click that follows is a tap that was meant. */
  meant() {
    return this.good;
  }
}

/** @param {Point} e */
function plain({ pointerId, pointerType, clientX, clientY, timeStamp, width, height }) {
  return { pointerId, pointerType, clientX, clientY, timeStamp, width, height };
}

/**
 * Swallows clicks that were not meant, wherever `.frame-round` is on show.
 * @param {Document} page
 */
export function guard(page) {
  const taps = new Taps();
  const here = (/** @type {Event} */ e) => e.target instanceof Element && e.target.closest('.frame-round') !== null;
  page.addEventListener('pointerdown', (e) => taps.press(e), true);
  page.addEventListener('pointerup', (e) => taps.lift(e), true);
  page.addEventListener('pointercancel', (e) => taps.lose(e), true);
  page.addEventListener('click', (e) => {
    // A click by keyboard or by a screen reader has no count of presses.
    if (e.detail === 0 || !here(e) || taps.meant()) return;
    e.preventDefault();
    e.stopImmediatePropagation();
  }, true);
}
