// The picking round: one log a card, most urgent first; its stage as pictures, picked or left, and the next comes.
// It never waits to keep a tap. Invariant: the card on show is in the draft, so a dead phone resumes right there.

import { call, keepPhoto, refused } from '../api/call.js';
import { keptDraft } from '../flow/draft.js';
import { back, go, redraw, replace, tellTrouble, undo, write } from '../flow/onshow.js';
import { inOneText } from '../lib/explain.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { found } from '../round/walk.js';
import { keypad } from '../round/parts.js';
import { PickCard, whole } from './card.js';
import { card, finished, picked } from './parts.js';
import { summary } from './summary.js';

/** @import {ActRow, Done, PickRoundView, Stage} from '../api/types.js' */
/** @import {Field, Typed} from './card.js' */

/** @typedef {{act: string, log: string, words: string, kept: Typed | null}} Walked */

/**
 * @typedef {object} View
 * @property {PickRoundView} shown
 * @property {PickCard | null} card null when no log with caps is left
 * @property {Walked[]} acts this round's acts that can be taken back, newest last
 * @property {boolean} busy
 * @property {string | null} digits typed on the keypad; null when it is shut
 * @property {string} photoWrong
 * @property {string} endRequest
 */

const ACTS = ['pick_look', 'pick_take', 'pick_skip'];

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('round');

/** @param {View} view */
export function title(view) {
  if (view.shown.round.ended) return 'Picking round, summary';
  return view.card ? `Log ${view.card.stop.log.tag}, picking round` : 'Picking round';
}

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ round }) {
  const [shown, kept, { acts }] = await Promise.all([
    call('pick_round_show', { round }),
    /** @type {Promise<Typed | null>} */ (keptDraft(`pick:${round}`)),
    call('act_list', { limit: 30 }),
  ]);
  const at = kept ? shown.stops.findIndex(({ log }) => log.id === kept.log) : -1;
  const start = at >= 0 ? at : shown.next;
  const open = shown.round.ended === null;
  return {
    shown,
    card: open && start !== null ? new PickCard(shown, start, at >= 0 ? kept : null) : null,
    acts: acts.filter((act) => act.undoable && !act.undone && ACTS.includes(act.name) && act.said.round === round).reverse().map(walked),
    busy: false, digits: null, photoWrong: '', endRequest: newRequest(),
  };
}

/**
 * @param {ActRow} act
 * @returns {Walked}
 */
function walked({ act, said }) {
  return { act, log: said.log, words: `log ${said.tag}`, kept: null };
}

/** @param {View} view */
export async function leave(view) {
  await view.card?.written();
}

/** @param {View} view */
export function render(view) {
  if (view.shown.round.ended) return summary(view, on);
  if (view.digits !== null) {
    const hits = found(view.shown.stops, view.digits).map(({ stop, at }) => ({ at, log: stop.log, done: stop.done !== null }));
    return keypad(view.digits, hits, { find: (digits) => on.find(view, digits), reach: (at) => on.reach(view, at) });
  }
  if (!view.card) return finished(view, on);
  return view.card.typed.picking ? picked(view, view.card, on) : card(view, view.card, on);
}

/**
 * @param {View} view
 * @param {number | null} at
 * @param {Typed | null} [kept]
 */
function show(view, at, kept = null) {
  view.card = at === null ? null : new PickCard(view.shown, at, kept);
  view.card?.keep();
  view.digits = null;
  view.photoWrong = '';
  redraw();
  document.querySelector('h1')?.focus({ preventScroll: true });
}

/** @param {View} view @param {number} at */
function after({ shown }, at) {
  const waits = (/** @type {number} */ i) => shown.stops[i].stage !== null && shown.stops[i].done === null;
  const all = shown.stops.map((_, i) => i).filter(waits);
  return all.find((i) => i > at) ?? all[0] ?? null;
}

/**
 * One write at a time; ghost taps in between do nothing.
 * @param {View} view
 * @param {(card: PickCard) => Promise<Done>} writing
 */
async function once(view, writing) {
  const now = view.card;
  if (!now || view.busy || now.fresh()) return;
  view.busy = true;
  redraw();
  /** @type {Done | null} */
  let done = null;
  try {
    await now.written();
    done = await writing(now);
    view.shown = await call('pick_round_show', { round: view.shown.round.id });
  } catch (error) {
    tellTrouble(error);
  }
  view.busy = false;
  if (!done) return redraw();
  view.acts.push({ act: done.act, log: now.typed.log, words: `log ${now.stop.log.tag}`, kept: now.again() });
  show(view, after(view, now.at));
}

/** @param {View} view @param {PickCard} now */
function common(view, now) {
  const round = view.shown.round.id;
  return { round, log: now.typed.log, request: now.typed.request, draft: `pick:${round}` };
}

export const on = {
  /** @param {View} view @param {Stage} stage */
  stage(view, stage) {
    if (view.busy) return;
    view.card?.set({ stage });
    redraw();
  },

  /** @param {View} view @param {boolean} open */
  picking(view, open) {
    if (view.busy || (open && view.card?.fresh())) return;
    view.card?.set({ picking: open });
    redraw();
    document.querySelector('h1')?.focus({ preventScroll: true });
  },

  /** @param {View} view @param {Partial<Typed>} words */
  typed(view, words) {
    if (view.busy) return;
    view.card?.set(words);
    redraw();
  },

  /** @param {View} view */
  look: (view) => once(view, (now) => write('pick_look', { ...common(view, now), seen: now.typed.stage ?? 'nothing', again: null, photos: now.typed.photos })),

  /** @param {View} view */
  skip: (view) => once(view, (now) => write('pick_skip', common(view, now))),

  /**
   * @param {View} view
   * @param {boolean} basket weighed in the kitchen
   */
  take: (view, basket) => once(view, (now) => {
    const { stage, caps, grams, damaged, by, quality, photos } = now.typed;
    return write('pick_take', {
      ...common(view, now), seen: stage, grams: basket ? null : whole(grams), basket, caps: whole(caps), damaged_pct: whole(damaged),
      by: by || null, quality: quality || null, photos,
    });
  }),

  /** @param {View} view @param {Field} field */
  field: (view, field) => on.typed(view, { field }),

  /** @param {View} view @param {Event} event */
  async photo(view, event) {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    const now = view.card;
    if (!file || !now) return;
    view.photoWrong = '';
    try {
      if (file.size > view.shown.max_bytes) throw { code: 'invalid', message: '', field: 'photo', detail: { why: 'too_big_bytes', max_bytes: view.shown.max_bytes } };
      const { hash } = await keepPhoto(file);
      if (!now.typed.photos.includes(hash)) now.set({ photos: [...now.typed.photos, hash] });
      await now.written();
    } catch (error) {
      view.photoWrong = inOneText(refused(error));
    }
    input.value = '';
    redraw();
  },

  /** @param {View} view */
  previous(view) {
    if (view.busy) return;
    if (!view.card) return show(view, Math.max(0, view.shown.asked - 1));
    if (view.card.at > 0) show(view, view.card.at - 1);
  },

  /** @param {View} view */
  async undo(view) {
    const last = view.acts.at(-1);
    if (!last || view.busy) return;
    view.busy = true;
    redraw();
    const done = await undo(last.act);
    if (done) {
      view.acts.pop();
      view.shown = await call('pick_round_show', { round: view.shown.round.id });
    }
    view.busy = false;
    if (!done) return redraw();
    const at = view.shown.stops.findIndex(({ log }) => log.id === last.log);
    show(view, at === -1 ? view.shown.next : at, at === -1 ? null : last.kept);
  },

  /** @param {View} view @param {string | null} digits */
  find(view, digits) {
    view.digits = digits;
    redraw();
  },

  /** @param {View} view @param {number} at */
  reach: (view, at) => show(view, at),

  putDown: () => back(link('chores')),

  /** @param {View} view */
  async end(view) {
    if (view.busy) return;
    view.busy = true;
    redraw();
    try {
      await write('round_end', { round: view.shown.round.id, request: view.endRequest });
      view.shown = await call('pick_round_show', { round: view.shown.round.id });
    } catch (error) {
      tellTrouble(error);
    }
    view.busy = false;
    show(view, view.card?.at ?? null);
  },

  leave: () => void replace(link('chores')),
  /** @param {string} basket */
  weigh: (basket) => void go(link('basket', { basket })),
  /** @param {string} log */
  open: (log) => void go(link('log', { log })),
};

/**
 * @param {KeyboardEvent} event
 * @param {View} view
 */
export function key(event, view) {
  if (event.ctrlKey || event.metaKey || event.altKey || view.shown.round.ended) return;
  const digit = /^\d$/.test(event.key);
  if (view.digits !== null) {
    if (event.key === 'Escape') on.find(view, null);
    else if (event.key === 'Backspace') on.find(view, view.digits.slice(0, -1));
    else if (digit) on.find(view, view.digits + event.key);
    return;
  }
  const now = view.card;
  if (!now) return;
  const button = event.target instanceof HTMLButtonElement || event.target instanceof HTMLInputElement;
  if (now.typed.picking) return padKey(event, view, now, button);
  if (event.key === 'Enter' && !button) on.picking(view, true);
  else if (event.key === 'l') void on.look(view);
  else if (event.key === 's') void on.skip(view);
  else if (event.key === 'u') void on.undo(view);
  else if (digit) on.find(view, event.key);
}

/**
 * @param {KeyboardEvent} event
 * @param {View} view
 * @param {PickCard} now
 * @param {boolean} button
 */
function padKey(event, view, now, button) {
  const { field } = now.typed;
  if (event.key === 'Escape') on.picking(view, false);
  else if (event.key === 'Backspace') on.typed(view, { [field]: now.typed[field].slice(0, -1) });
  else if (/^\d$/.test(event.key)) on.typed(view, { [field]: now.typed[field] + event.key });
  else if (event.key === 'Enter' && !button) void on.take(view, now.typed.grams === '');
}
