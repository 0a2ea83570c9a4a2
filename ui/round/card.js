// One card of the round: the log at this stop, the tally and damage as tapped so far, and its place in the draft.
// It never draws. Invariant: every tap is written in order, the newest last, and the request id belongs to this card alone.

import { call } from '../api/call.js';
import { tellTrouble } from '../flow/onshow.js';
import { readCount } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';

/** @import {Damage, Did, Hid, OtherSeen, RoundView, Stop} from '../api/types.js' */

/** @typedef {{others: OtherSeen[], hid: Hid[], did: Did[]}} More other things found at a log */
/** @typedef {{log: string, text: string, damage: Damage, request: string, more?: More}} Kept */

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
    /** @type {More} */
    this.more = kept?.more ?? { others: [...(seen?.others ?? [])], hid: [...(seen?.hid ?? [])], did: [...(seen?.did ?? [])] };
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
   * Puts a word on or takes it off.
   * @param {keyof More} field
   * @param {string} word
   */
  mark(field, word) {
    const words = /** @type {string[]} */ (this.more[field]);
    const at = words.indexOf(word);
    if (at < 0) words.push(word);
    else words.splice(at, 1);
    this.keep();
  }

  /** How many other things are marked. */
  marks() {
    return this.more.others.length + this.more.hid.length + this.more.did.length;
  }

  /**
   * @param {string} request
   * @returns {Kept}
   */
  asKept(request) {
    return { log: this.stop.log.id, text: this.text, damage: this.damage, request, more: this.more };
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
