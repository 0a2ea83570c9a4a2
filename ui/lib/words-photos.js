// Words about photos, tags and measured caps.
// It never decides whose a photo is. Invariant: a width is never said without its range.

import { count, figure } from './format.js';

/** @import {CapRow, Growth, PhotoRow} from '../api/types.js' */

/**
 * What an act about photos did; empty for any other.
 * @param {string} name
 * @param {Record<string, any>} said
 */
export function photoSentence(name, said) {
  switch (name) {
    case 'photo_add': return added(said);
    case 'photo_tie': return said.tag == null ? 'Photo put among the loose photos.' : `Photo put to log ${said.tag}.`;
    case 'cap_add': return `Cap ${said.cap} of log ${said.tag} measured: ${mm(said.width_tenths)}.`;
    default: return '';
  }
}

/** @param {Record<string, any>} said */
function added({ photos, tied, loose, tag }) {
  if (tied + loose === 0) return photos === 1 ? 'This photo is in the record already.' : 'These photos are in the record already.';
  const parts = [tied ? `${count(tied, 'photo')} put to ${tied === 1 ? `log ${tag}` : 'their logs'}` : '', loose ? `${count(loose, 'photo')} put among the loose ones` : ''];
  return `${parts.filter(Boolean).join(', ')}.`;
}

/** @param {number} tenths */
export function mm(tenths) {
  return `${figure(tenths / 10)} mm`;
}

/** @param {{width_tenths: number, low_tenths: number, high_tenths: number}} width */
export function widthWords({ width_tenths, low_tenths, high_tenths }) {
  return `${mm(width_tenths)} wide, ${figure(low_tenths / 10)} to ${mm(high_tenths)}`;
}

/** @param {Growth} growth */
export function growthWords(growth) {
  const over = growth.hours >= 48 ? count(Math.round(growth.hours / 24), 'day') : count(growth.hours, 'hour');
  return `${figure(growth.tenths_a_day / 10)} mm a day (${figure(growth.low / 10)} to ${figure(growth.high / 10)}), from ${count(growth.caps, 'cap')} over ${over}.`;
}

/** Why a tag gives no measure. @type {Record<string, string>} */
export const WHY_NOT = {
  no_tag: 'No tag can be read in this photo, so nothing tells how large things are. Take one with the whole tag in it, beside the caps.',
  too_small: 'The tag is too small in this photo to measure by. Go nearer: its code should fill at least a tenth of the picture’s width.',
  unclear: 'The tag can be read but is too blurred to measure by. Take one more, with the tag sharp.',
  heic: 'This photo is in the HEIC format, which is kept but cannot be looked into here. Set the camera to “most compatible” (JPEG).',
  too_much_memory: 'This photo is too large to be looked into on this device. It is kept as it is.',
};

/** @param {string} why */
export function unshownWords(why) {
  return why === 'heic' ? 'Kept. HEIC cannot be shown here; the file is safe, and another program can show it.' : 'Kept. It is too large to be shown on this device.';
}

/** @param {PhotoRow} photo */
export function isShown(photo) {
  return photo.mime !== 'image/heic' && (photo.here || photo.moved !== null);
}

/** @param {PhotoRow} photo */
export function awayWords(photo) {
  if (photo.mime === 'image/heic') return 'HEIC: kept, not shown here.';
  if (photo.moved !== null) return `Not here, in ${photo.moved}.`;
  return 'This photo is not on this device yet.';
}

/**
 * The number a cap measured next bears: the first that this photo has not.
 * @param {readonly CapRow[]} caps
 * @param {string} hash
 */
export function nextCap(caps, hash) {
  const taken = new Set(caps.filter(({ photo }) => photo === hash).map(({ cap }) => cap));
  let n = 1;
  while (taken.has(n)) n += 1;
  return n;
}
