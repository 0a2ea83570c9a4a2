// Photos of a log: the strip of small ones, and one alone.
// It never loads an original into a list. Invariant: in Lamp a photo stays dim and red until it is held.

import { html } from '../vendor/lit-html/lit-html.js';
import { photoUrl } from '../api/call.js';
import { awayWords, isShown } from '../lib/words-photos.js';

/** @import {PhotoRow} from '../api/types.js' */

/**
 * @param {PhotoRow[]} photos
 * @param {string} words what they show
 * @param {(hash: string) => string} href
 */
export function photoStrip(photos, words, href) {
  return html`<div class="photo-strip">
    ${photos.map((photo, i) => (isShown(photo)
      ? html`<a class="photo-thumb" href=${href(photo.hash)} data-photo=${photo.hash}><span class="photo-dim"><img src=${photoUrl(photo.hash, 'small')} alt=${`Photo ${photos.length > 1 ? `${i + 1} ` : ''}of ${words}`} loading="lazy" /></span></a>`
      : html`<a class="photo-thumb photo-away" href=${href(photo.hash)} data-photo=${photo.hash}>${awayWords(photo)}</a>`))}
  </div>`;
}

/**
 * @param {string} hash
 * @param {'small' | 'large' | 'whole'} size
 * @param {string} alt
 */
export function photo(hash, size, alt) {
  return html`<span class="photo-dim"><img src=${photoUrl(hash, size)} alt=${alt} /></span>`;
}
