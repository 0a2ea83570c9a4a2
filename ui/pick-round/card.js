// One card of the picking round: the stage seen, what is typed of a picking, its photos, and its place in the draft.
// It never draws. Invariant: every tap is written in order, the newest last, and the request id belongs to this card alone.

import { call } from '../api/call.js';
import { tellTrouble } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';

/** @import {By, PickRoundView, PickStop, PickQuality, Stage} from '../api/types.js' */
/** @typedef {'caps' | 'grams' | 'damaged'} Field */

/**
 * @typedef {object} Typed
 * @property {string} log
 * @property {Stage | null} stage
 * @property {boolean} picking the pad is open
 * @property {Field} field
 * @property {string} caps
 * @property {string} grams
 * @property {string} damaged
 * @property {By | ''} by
 * @property {PickQuality | ''} quality
 * @property {string[]} photos
 * @property {string} request
 */

/** A second tap meant for the card before comes sooner than this. */
const GHOST = 350;

export class PickCard {
  /**
   * @param {PickRoundView} shown
   * @param {number} at
   * @param {Typed | null} kept what was tapped before a kill
   */
  constructor(shown, at, kept) {
    this.round = shown.round.id;
    this.at = at;
    /** @type {PickStop} */
    this.stop = shown.stops[at];
    /** @type {Typed} */
    this.typed = kept ?? {
      log: this.stop.log.id, stage: this.stop.done?.seen ?? this.stop.stage, picking: false, field: 'caps', caps: '', grams: '', damaged: '', by: '', quality: '', photos: [], request: newRequest(),
    };
    this.born = performance.now();
    /** @type {Promise<unknown>} */
    this.writing = Promise.resolve();
    this.waiting = false;
  }

  /** The card has only just come: a tap now was meant for the one before. */
  fresh() {
    return performance.now() - this.born < GHOST;
  }

  /** @param {Partial<Typed>} words */
  set(words) {
    Object.assign(this.typed, words);
    this.keep();
  }

  /** What stood on the card, for a card that comes back by an undo. @returns {Typed} */
  again() {
    return { ...this.typed, photos: [...this.typed.photos], request: newRequest() };
  }

  /** Writes the card as it is; taps while one write runs share the next. */
  keep() {
    if (this.waiting) return;
    this.waiting = true;
    this.writing = this.writing.then(() => {
      this.waiting = false;
      return call('draft_set', { key: `pick:${this.round}`, value: JSON.stringify(this.typed) });
    }).catch(tellTrouble);
  }

  /** Resolves once every tap so far is in the draft. */
  written() {
    return this.writing;
  }
}

/** @param {string} text @returns {number | null} */
export function whole(text) {
  return text === '' ? null : Number(text);
}
