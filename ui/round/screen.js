// The night round: one log a card, a tally of slugs, damage, tick and the next comes.
// It never waits to keep a tap. Invariant: the card and tally on show are in the draft, so a dead phone resumes right there.

import { html } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { keptDraft } from '../flow/draft.js';
import * as light from '../lib/light.js';
import { back, go, redraw, replace, tellTrouble, undo, write } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { Card } from './card.js';
import { card, finder, finished, more } from './parts.js';
import { summary } from './summary.js';
import { after, belongs } from './walk.js';

/** @import {ActRow, Done, RoundView, RoundWhen} from '../api/types.js' */
/** @import {Kept} from './card.js' */

/**
 * An act of this round that can be taken back; `kept` is what stood on its card.
 * @typedef {{act: string, log: string | null, words: string, kept: Kept | null}} Walked
 */

/**
 * @typedef {object} View
 * @property {RoundView} shown
 * @property {Card | null} card null when no log is left to see
 * @property {Walked[]} acts this round's acts that can be taken back, newest last
 * @property {boolean} busy
 * @property {string | null} digits typed on the keypad; null when it is shut
 * @property {boolean} more other things are being marked
 * @property {RoundWhen} when what is ticked was seen now or last night
 * @property {string} endRequest
 */

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('round');

/** @param {View} view */
export function title(view) {
  if (view.shown.round.ended) return 'Night round, summary';
  return view.card ? `Log ${view.card.stop.log.tag}, night round` : 'Night round';
}

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ round }) {
  light.walk();
  const [shown, kept, { acts }] = await Promise.all([
    call('round_show', { round }),
    /** @type {Promise<Kept | null>} */ (keptDraft(`check:${round}`)),
    call('act_list', { limit: 30 }),
  ]);
  const undoable = acts.filter((act) => act.undoable && !act.undone && belongs(act, round)).reverse();
  const at = kept ? shown.stops.findIndex(({ log }) => log.id === kept.log) : -1;
  const open = shown.round.ended === null;
  const start = at >= 0 ? at : shown.next;
  return {
    shown,
    card: open && start !== null ? new Card(shown, start, at >= 0 ? kept : null) : null,
    acts: undoable.map(walked),
    when: shown.afterwards ? 'last_night' : 'now', busy: false, digits: null, more: false, endRequest: newRequest(),
  };
}

/**
 * @param {ActRow} act
 * @returns {Walked}
 */
function walked({ act, said }) {
  if (!said.log) return { act, log: null, words: 'the clean spot', kept: null };
  return { act, log: said.log, words: `log ${said.tag}`, kept: { log: said.log, text: String(said.slugs), damage: said.damage, request: newRequest(), more: { others: said.others ?? [], hid: said.hid ?? [], did: said.did ?? [] } } };
}

/** @param {View} view */
export async function leave(view) {
  await view.card?.written();
}

/** @param {View} view */
export function render(view) {
  if (view.shown.round.ended) return summary(view, on);
  if (view.digits !== null) return finder(view, on);
  if (view.more && view.card) return more(view, view.card, on);
  return html`${view.card ? card(view, view.card, on) : finished(view, on)}`;
}

/**
 * @param {View} view
 * @param {number | null} at
 * @param {Kept | null} [kept] what stood on the card when its act was taken back
 */
function show(view, at, kept = null) {
  view.card = at === null ? null : new Card(view.shown, at, kept);
  view.card?.keep();
  view.digits = null;
  view.more = false;
  light.walk();
  redraw();
  document.querySelector('h1')?.focus();
}

/**
 * One write at a time; ghost taps in between do nothing.
 * @param {View} view
 * @param {() => Promise<Done>} writing
 * @returns {Promise<Done | null>}
 */
async function once(view, writing) {
  if (view.busy) return null;
  view.busy = true;
  redraw();
  try {
    await view.card?.written();
    const done = await writing();
    view.shown = await call('round_show', { round: view.shown.round.id });
    return done;
  } catch (error) {
    tellTrouble(error);
    return null;
  } finally {
    view.busy = false;
    redraw();
  }
}

/**
 * @param {View} view
 * @param {'seen' | 'skipped'} how
 */
async function check(view, how) {
  const { card: now } = view;
  if (!now || view.busy || now.fresh()) return;
  const slugs = now.slugs();
  if (how === 'seen' && slugs === null) return redraw();
  const round = view.shown.round.id;
  const { log } = now.stop;
  const done = await once(view, () => write('round_check', {
    round, log: log.id, how, slugs: how === 'seen' ? slugs ?? 0 : 0, damage: how === 'seen' ? now.damage : 'none', ...(how === 'seen' ? now.more : {}), when: whenSeen(view), request: now.request, draft: `check:${round}`,
  }));
  if (!done) return;
  view.acts.push({ act: done.act, log: log.id, words: `log ${log.tag}`, kept: now.asKept(newRequest()) });
  show(view, after(view.shown, now.at));
}

/** It can only be said once the night is over. @param {View} view @returns {RoundWhen} */
function whenSeen(view) {
  return view.shown.afterwards ? view.when : 'now';
}

export const on = {
  /**
   * @param {View} view
   * @param {number} by
   */
  count(view, by) {
    if (view.busy) return;
    view.card?.add(by);
    redraw();
  },

  /**
   * @param {View} view
   * @param {string} text
   */
  typed(view, text) {
    if (text === view.card?.text) return;
    view.card?.type(text);
    redraw();
  },

  /**
   * @param {View} view
   * @param {import('../api/types.js').Damage} damage
   */
  damage(view, damage) {
    if (view.busy) return;
    view.card?.hurt(damage);
    redraw();
  },

  /**
   * @param {View} view
   * @param {RoundWhen} when
   */
  when(view, when) {
    view.when = when;
    redraw();
  },

  /**
   * @param {View} view
   * @param {boolean} open
   */
  more(view, open) {
    view.more = open;
    redraw();
    document.querySelector('h1')?.focus({ preventScroll: true });
  },

  /**
   * @param {View} view
   * @param {keyof import('./card.js').More} field
   * @param {string} word
   */
  mark(view, field, word) {
    if (view.busy) return;
    view.card?.mark(field, word);
    redraw();
  },

  /** @param {View} view */
  tick: (view) => check(view, 'seen'),
  /** @param {View} view */
  skip: (view) => check(view, 'skipped'),

  /** @param {View} view */
  async spotClean(view) {
    const { card: now } = view;
    if (!now || view.busy || now.fresh()) return;
    const { spot_id } = now.stop.log;
    const done = await once(view, () => write('round_spot_clean', { round: view.shown.round.id, spot_id, when: whenSeen(view), request: now.spotRequest }));
    if (!done) return;
    view.acts.push({ act: done.act, log: null, words: now.stop.log.spot ?? 'the clean spot', kept: null });
    show(view, after(view.shown, now.at));
  },

  /** @param {View} view */
  previous(view) {
    if (view.busy) return;
    if (!view.card) return show(view, view.shown.stops.length - 1);
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
      view.shown = await call('round_show', { round: view.shown.round.id });
    }
    view.busy = false;
    if (!done) return redraw();
    const at = view.shown.stops.findIndex(({ log }) => log.id === last.log);
    if (at === -1) return show(view, view.shown.next);
    show(view, at, view.shown.stops[at].check ? null : last.kept);
  },

  /**
   * @param {View} view
   * @param {string | null} digits
   */
  find(view, digits) {
    view.digits = digits;
    redraw();
    if (digits === '' || digits === null) document.querySelector('h1')?.focus({ preventScroll: true });
  },

  /**
   * @param {View} view
   * @param {number} at
   */
  reach: (view, at) => show(view, at),

  putDown: () => back(link('chores')),

  /** @param {View} view */
  async end(view) {
    if (await once(view, () => write('round_end', { round: view.shown.round.id, request: view.endRequest }))) show(view, null);
  },

  leave: () => void replace(link('chores')),
  /** @param {string} log */
  open: (log) => void go(link('log', { log })),
};

/**
 * @param {KeyboardEvent} event
 * @param {View} view
 */
export function key(event, view) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (view.digits !== null) return finding(event, view, view.digits);
  if (view.more) return void (event.key === 'Escape' && on.more(view, false));
  if (!view.card) return;
  const { target } = event;
  const typing = target instanceof HTMLInputElement && target.type !== 'radio';
  const button = target instanceof HTMLButtonElement || target instanceof HTMLAnchorElement;
  if (event.key === 'Enter' && !button) return event.preventDefault(), void on.tick(view);
  if (typing) return;
  if (event.key === '+' || event.key === '=') on.count(view, 1);
  else if (event.key === '-') on.count(view, -1);
  else if (event.key === 's') void on.skip(view);
  else if (event.key === 'u') void on.undo(view);
  else if (/^\d$/.test(event.key)) on.find(view, event.key);
}

/**
 * @param {KeyboardEvent} event
 * @param {View} view
 * @param {string} digits
 */
function finding(event, view, digits) {
  if (event.key === 'Escape') on.find(view, null);
  else if (event.key === 'Backspace') on.find(view, digits.slice(0, -1));
  else if (/^\d$/.test(event.key)) on.find(view, digits + event.key);
}
