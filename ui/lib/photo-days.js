// A log's photos in the order of their days, with what was seen then.
// It never leaves a photo out. Invariant: the oldest is first.

import { STAGE } from './words.js';

/** @import {Entry, PhotoRow} from '../api/types.js' */
/** @typedef {{photo: PhotoRow, day: string, words: string}} Dated */

/**
 * @param {readonly Entry[]} entries newest first
 * @returns {Dated[]}
 */
export function byDate(entries) {
  const all = entries.flatMap(({ day, photos, what }) => photos.map((photo) => ({ photo, day, words: what.kind === 'look' && what.seen !== 'nothing' ? STAGE[what.seen] : '' })));
  const when = (/** @type {Dated} */ one) => one.photo.taken?.slice(0, 19) ?? `${one.day}T99`;
  return all.reverse().sort((a, b) => a.day.localeCompare(b.day) || when(a).localeCompare(when(b)));
}
