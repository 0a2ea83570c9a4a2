// The sheet as it is printed, and as it is typed in.
// They never write. Invariant: both stand in walking order, so that a finger follows the paper.

import { html } from '../vendor/lit-html/lit-html.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { MUSHROOM, woodName } from '../lib/words.js';

/** @import {Damage, PdfPart, SheetView} from '../api/types.js' */
/** @import {View} from './screen.js' */
/** @typedef {typeof import('./screen.js').on} On */

const DATE = 'Night round. Date ________ Walked by ________ From ____ to ____';
const COLUMNS = ['Log', 'What', 'Slugs', 'Damage'];
const DAMAGE = 'none · some · much';
const SIGNS = '“!”: caps out, damage before, or a slug night and slugs or water here. An empty line is a log not reached; write 0 for a clean one.';

/** The sheet as a document: the very lines of the page. @param {SheetView} shown @returns {PdfPart[]} */
export function paper({ stops }) {
  return [
    { part: 'heading', words: 'Round sheet', first: true },
    { part: 'words', words: DATE },
    { part: 'row', cells: ['Log', 'What', 'Spot', 'Slugs', 'Damage'], head: true },
    ...stops.map(({ log, risk }) => /** @type {PdfPart} */ ({ part: 'row', cells: [`${log.tag}${risk ? ' !' : ''}`, woodName(log), log.spot ?? 'no spot', '____', DAMAGE], head: false })),
    { part: 'words', words: SIGNS },
  ];
}

/** @param {SheetView} shown */
export function page({ stops }) {
  return html`<div class="wide" tabindex="0" role="group" aria-label="The sheet, as it is printed"><table class="table paper">
    <caption>${DATE}</caption>
    <thead><tr>${COLUMNS.map((name) => html`<th scope="col">${name}</th>`)}</tr></thead>
    <tbody>${stops.map(({ log, risk }) => html`<tr><th scope="row">${log.tag}${risk ? ' !' : ''}</th><td>${woodName(log)}, ${MUSHROOM[log.mushroom]}<small>${log.spot ?? 'no spot'}</small></td><td class="paper-box"></td><td>${DAMAGE}</td></tr>`)}</tbody>
  </table></div>
  <p class="soft">${SIGNS}</p>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function rows(view, on) {
  const { shown, typed } = view;
  return html`<div class="grid-rows">${shown.stops.map(({ log }) => {
    const line = typed.lines[log.id];
    return html`<div class="grid-row" data-log=${log.id}>
      <span class="grid-tag">${log.tag}</span>
      <label class="unseen" for=${`slugs-${log.id}`}>Slugs on log ${log.tag}</label>
      <input id=${`slugs-${log.id}`} name=${`slugs-${log.id}`} inputmode="numeric" autocomplete="off" placeholder="slugs" .value=${live(line?.slugs ?? '')} @input=${(/** @type {Event} */ e) => on.line(view, log.id, { slugs: /** @type {HTMLInputElement} */ (e.target).value })} />
      <label class="unseen" for=${`damage-${log.id}`}>Damage on log ${log.tag}</label>
      <select id=${`damage-${log.id}`} @change=${(/** @type {Event} */ e) => on.line(view, log.id, { damage: /** @type {Damage} */ (/** @type {HTMLSelectElement} */ (e.target).value) })}>
        ${['none', 'some', 'much'].map((word) => html`<option value=${word} .selected=${live((line?.damage ?? 'none') === word)}>${word === 'none' ? 'no damage' : word}</option>`)}
      </select>
    </div>`;
  })}</div>`;
}
