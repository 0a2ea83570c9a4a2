// One card of the round: the log at this stop, the tally and damage as tapped so far, and its place in the draft.
// It never draws. Invariant: every tap is written in order, the newest last, and the request id belongs to this card alone.

import { call } from '../api/call.js';
import { tellTrouble } from '../flow/onshow.js';
import { readCount } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';

/** @import {ActRow, Damage, RoundView, Stop} from '../api/types.js' */

/** @typedef {{log: string, text: string, damage: Damage, request: string}} Kept */

/** A second tap meant for the card before comes sooner than this. */
const GHOST = 350;

export class Card {
  /**
   * @param {RoundView} shown
   * @param {number} at
   * @param {Kept | null} kept what was tapped before a kill
   */
  constructor(shown, at, kept) {
    this.round = shown.round.id;
    this.at = at;
    /** @type {Stop} */
    this.stop = shown.stops[at];
    const seen = this.stop.check && this.stop.check.how !== 'skipped' ? this.stop.check : null;
    this.text = kept?.text ?? String(seen?.slugs ?? 0);
    /** @type {Damage} */
    this.damage = kept?.damage ?? seen?.damage ?? 'none';
    this.request = kept?.request ?? newRequest();
    this.spotRequest = newRequest();
    this.born = performance.now();
    /** @type {Promise<unknown>} */
    this.writing = Promise.resolve();
    this.waiting = false;
  }

  /** The card has only just come: a tap now was meant for the one before. */
  fresh() {
    return performance.now() - this.born < GHOST;
  }

  /** @returns {number | null} null when what was typed is no count */
  slugs() {
    const read = readCount(this.text, 'slugs');
    return read.ok ? read.value ?? 0 : null;
  }

  /** @returns {string} why the typed tally cannot be read, else empty */
  wrong() {
    const read = readCount(this.text, 'slugs');
    return read.ok ? '' : read.why;
  }

  /** @param {number} by */
  add(by) {
    this.text = String(Math.max(0, (this.slugs() ?? 0) + by));
    this.keep();
  }

  /** @param {string} text */
  type(text) {
    this.text = text;
    this.keep();
  }

  /** @param {Damage} damage */
  hurt(damage) {
    this.damage = damage;
    this.keep();
  }

  /**
   * @param {string} request
   * @returns {Kept}
   */
  asKept(request) {
    return { log: this.stop.log.id, text: this.text, damage: this.damage, request };
  }

  /** Writes the card as it is; taps while one write runs share the next. */
  keep() {
    if (this.waiting) return;
    this.waiting = true;
    this.writing = this.writing.then(() => {
      this.waiting = false;
      return call('draft_set', { key: `check:${this.round}`, value: JSON.stringify(this.asKept(this.request)) });
    }).catch(tellTrouble);
  }

  /** Resolves once every tap so far is in the draft. */
  written() {
    return this.writing;
  }
}

/**
 * The next stop nobody has seen, going on from here and then from the start.
 * @param {RoundView} shown
 * @param {number} at
 * @returns {number | null}
 */
export function after(shown, at) {
  const ahead = shown.stops.findIndex((stop, i) => i > at && stop.check === null);
  if (ahead >= 0) return ahead;
  const behind = shown.stops.findIndex((stop) => stop.check === null);
  return behind >= 0 ? behind : null;
}

/**
 * Whether an act belongs to this round's walking.
 * @param {ActRow} act
 * @param {string} round
 */
export function isReal(act, round) {
  return (act.name === 'round_check' || act.name === 'round_spot_clean') && act.said.round === round;
}

/**
 * Stops whose tag has these digits: the same number first, then those that begin with them, then the rest.
 * @param {readonly Stop[]} stops
 * @param {string} digits
 * @returns {{stop: Stop, at: number}[]}
 */
export function found(stops, digits) {
  if (digits === '') return [];
  const rank = (/** @type {Stop} */ { log }) => {
    const own = log.tag.replace(/\D/g, '');
    if (own === digits || own.replace(/^0+/, '') === digits) return 0;
    if (own.startsWith(digits)) return 1;
    return own.includes(digits) ? 2 : 3;
  };
  return stops.map((stop, at) => ({ stop, at, rank: rank(stop) })).filter((hit) => hit.rank < 3).sort((a, b) => a.rank - b.rank || a.at - b.at).slice(0, 6);
}
