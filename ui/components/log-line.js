// A log in one line of a list, and its tag as a tin label.
// It never decides what can be done with the log. Invariant: the state is said in words beside the picture.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { capital } from '../lib/format.js';
import { MUSHROOM, STATE, woodName } from '../lib/words.js';
import { endgrain } from './endgrain.js';

/** @import {LogRow} from '../api/types.js' */

/** @param {string} text */
export function tagLabel(text) {
  return html`<span class="tag-label">${text}</span>`;
}

/**
 * What a log is, in a few words.
 * @param {LogRow} row
 */
export function whatItIs(row) {
  return `${capital(woodName(row))} · ${MUSHROOM[row.mushroom]}`;
}

/**
 * @param {LogRow} row
 * @param {string} today
 * @param {string} href
 */
export function logLine(row, today, href) {
  return html`<a class="log-line" href=${href} data-log=${row.id}>
    ${endgrain(row, today)}
    <span class="log-line-words">
      ${tagLabel(row.tag)}
      <span class="log-line-what">${whatItIs(row)}</span>
      <span class="log-line-state">${capital(STATE[row.state])}${row.spot ? html` <span class="soft">· ${row.spot}</span>` : nothing}</span>
    </span>
  </a>`;
}
