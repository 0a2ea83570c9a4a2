// Logs to tick, many at once, with large squares for wet fingers.
// It never decides which may be ticked. Invariant: what is ticked is said in words beside the list by its screen.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { repeat } from '../vendor/lit-html/directives/repeat.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { tagLabel } from './log-line.js';

/** @typedef {{id: string, tag: string, words: string, mind?: string}} Tick */

/**
 * @param {object} t
 * @param {string} t.name
 * @param {string} t.legend
 * @param {Tick[]} t.logs
 * @param {Set<string>} t.ticked
 * @param {() => void} t.onChange
 */
export function logTicks({ name, legend, logs, ticked, onChange }) {
  const toggle = (/** @type {string} */ id) => {
    if (!ticked.delete(id)) ticked.add(id);
    onChange();
  };
  return html`<fieldset class="ticks" data-field=${name}><legend>${legend}</legend>
    <ul class="plain">${repeat(logs, ({ id }) => id, ({ id, tag, words, mind }) => html`<li><label class="tick-line" data-tag=${tag}>
      <input type="checkbox" name=${name} value=${id} .checked=${live(ticked.has(id))} @change=${() => toggle(id)} />
      ${tagLabel(tag)}<span class="tick-words">${words}${mind ? html` <strong>${mind}</strong>` : nothing}</span>
    </label></li>`)}</ul>
  </fieldset>`;
}
