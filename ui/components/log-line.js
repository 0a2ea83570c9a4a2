// A log in one line of a list, and its tag as a tin label.
// It never decides what can be done with the log. Invariant: the state is said in words beside the picture.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { capital } from '../lib/format.js';
import { MUSHROOM, STATE, woodName } from '../lib/words.js';
import { link } from '../lib/router.js';
import { endgrain } from './endgrain.js';

/** @import {LogRow} from '../api/types.js' */

/**
 * @param {string} text
 * @param {boolean} [twice] another live log carries it too
 */
export function tagLabel(text, twice = false) {
  return html`<span class="tag-label">${text}</span>${twice ? html` <span class="tag-twice">tag on two logs</span>` : nothing}`;
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
 * @param {unknown} [more] words below, e.g. where it was found
 */
export function logLine(row, today, href, more = nothing) {
  return html`<a class="log-line" href=${href} data-log=${row.id}>
    ${endgrain(row)}
    <span class="log-line-words">
      ${tagLabel(row.tag, row.tag_twice)}
      <span class="log-line-what">${whatItIs(row)}</span>
      <span class="log-line-state">${capital(STATE[row.state])}${row.spot ? html` <span class="soft">· ${row.spot}</span>` : nothing}</span>
      ${more}
    </span>
  </a>`;
}

/**
 * Where one log is meant and another has its tag: says so and offers both.
 * @param {LogRow} row
 */
export function tagTwice(row) {
  if (!row.tag_twice) return nothing;
  return html`<p class="mind" id="tag-twice">Another log carries the tag ${row.tag} too. This one: ${whatItIs(row)}${row.spot ? `, ${row.spot}` : ''}. <a class="button button-quiet" href=${link('yard', { search: row.tag })}>Show both</a></p>`;
}
