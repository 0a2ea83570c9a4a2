// The end-grain picture: puts the backend's shapes on the screen.
// It never draws a log itself. Invariant: the same log is the same picture in lists, on its page, on the map and in rounds.

import { html, svg } from '../vendor/lit-html/lit-html.js';

/** @import {Drawn, LogRow, Shape} from '../api/types.js' */

/**
 * @param {Pick<LogRow, 'grain'>} row
 * @param {{spoken?: boolean}} [more] spoken: read aloud where no words beside it say the same
 */
export function endgrain({ grain }, { spoken = false } = {}) {
  return spoken
    ? html`<svg class="grain" viewBox="0 0 100 100" role="img" aria-label=${grain.words}>${shapes(grain)}</svg>`
    : html`<svg class="grain" viewBox="0 0 100 100" aria-hidden="true" focusable="false">${shapes(grain)}</svg>`;
}

/** The bare shapes, for a picture within a picture. @param {Drawn} grain */
export function shapes(grain) {
  return grain.shapes.map((/** @type {Shape} */ shape) => (shape.shape === 'path'
    ? svg`<path class=${shape.class} d=${shape.d} />`
    : svg`<circle class=${shape.class} cx=${shape.cx} cy=${shape.cy} r=${shape.r} />`));
}
