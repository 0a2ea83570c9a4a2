// One photo, as large as the screen.
// It never changes or removes a photo; a copy to hand on leaves out where it was taken. Invariant: Escape and back return to the log's page.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { handOut } from '../flow/hand-out.js';
import { icon } from '../components/icons.js';
import { photo } from '../components/photo.js';
import { dayName } from '../lib/format.js';
import { back, go, redraw, tellTrouble, write } from '../flow/onshow.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { awayWords, isShown } from '../lib/words-photos.js';
import { entryWords } from '../log/parts.js';

/** @import {LogView} from '../api/types.js' */
/** @typedef {LogView & {hash: string, zoom: number, busy: boolean, saved: string}} View */

const ZOOMS = [1, 2, 4];

export const topics = /** @type {string[]} */ ([]);
export const frame = /** @type {const} */ ('photo');
export const title = (/** @type {View} */ view) => `Photo of log ${view.row.tag}`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log, hash }) {
  return { ...(await call('log_show', { log })), hash, zoom: 1, busy: false, saved: '' };
}

/** @param {View} view */
export function render(view) {
  const entry = view.entries.find(({ photos }) => photos.some(({ hash }) => hash === view.hash));
  const row = entry?.photos.find(({ hash }) => hash === view.hash) ?? null;
  const words = entry ? `${dayName(entry.day)}. ${entryWords(entry)}` : '';
  const shown = row === null || isShown(row);
  return html`<div class="photo-whole">
    <div class="photo-head">
      <h1 tabindex="-1">Log ${view.row.tag}</h1>
      ${shown ? ZOOMS.map((zoom) => html`<button type="button" class="head-button photo-zoom" data-zoom=${zoom} aria-pressed=${view.zoom === zoom ? 'true' : 'false'} aria-label=${`Zoom ${zoom} times`} @click=${() => on.zoom(view, zoom)}>${zoom}×</button>`) : nothing}
      <button type="button" class="head-button" id="close" aria-label="Close the photo" @click=${() => on.close(view)}>${icon('close')}</button>
    </div>
    ${shown ? html`<div class=${`photo-pan photo-pan-${view.zoom}`} tabindex="0" role="group" aria-label="The photo; scroll to see its parts"><button type="button" class="photo-hold" id="photo-large" aria-label="Hold to brighten the photo">${photo(view.hash, view.zoom > 1 ? 'whole' : 'large', `Photo of log ${view.row.tag}. ${words}`)}</button></div>`
    : html`<p class="photo-hold photo-words">${row ? awayWords(row) : ''}</p>`}
    ${words ? html`<p class="photo-words">${words}</p>` : nothing}
    ${row?.moved ? html`<p class="photo-words" id="moved">The original is not here, in ${row.moved}.</p>` : nothing}
    <p class="photo-acts">
      ${shown ? html`<a class="button" id="measure" href=${link('measure', { log: view.row.id, hash: view.hash })}>Measure caps</a>` : nothing}
      ${row ? html`<button type="button" class="button" id="untie" ?disabled=${view.busy} @click=${() => on.untie(view, row.entry)}>Not this log</button>` : nothing}
      <button type="button" class="button" id="share" ?disabled=${view.busy} @click=${() => on.share(view)}>Save a copy without place</button></p>
    <p class="photo-words" id="share-said" role="status">${view.saved}</p>
  </div>`;
}

export const on = {
  /**
   * @param {View} view
   * @param {number} zoom
   */
  zoom(view, zoom) {
    view.zoom = zoom;
    redraw();
  },

  /**
   * To the loose photos, from where it can be put to its own log.
   * @param {View} view
   * @param {string} entry
   */
  async untie(view, entry) {
    if (view.busy) return;
    view.busy = true;
    redraw();
    try {
      await write('photo_tie', { entry, log: null, request: newRequest() });
      void go(link('photos'));
    } catch (error) {
      tellTrouble(error);
      view.busy = false;
      redraw();
    }
  },

  /** @param {View} view */
  close: (view) => back(link('log', { log: view.row.id })),

  /** @param {View} view */
  async share(view) {
    if (view.busy) return;
    Object.assign(view, { busy: true, saved: '' });
    redraw();
    try {
      const { name, base64 } = await call('photo_share', { hash: view.hash });
      handOut(name, base64);
      view.saved = `Handed to the system to save as ${name}: look in the downloads folder. It is without the place, the camera’s number and its notes. The original stays as it is.`;
    } catch (error) {
      tellTrouble(error);
    }
    view.busy = false;
    redraw();
  },
};

/**
 * @param {KeyboardEvent} event
 * @param {View} view
 */
export function key(event, view) {
  if (event.key === 'Escape') on.close(view);
}
