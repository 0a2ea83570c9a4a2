// The pieces of the tags' screen: how to print them, and which logs.
// They never make the sheet. Invariant: each log is one line to tick.

import { html } from '../vendor/lit-html/lit-html.js';
import { live } from '../vendor/lit-html/directives/live.js';
import { whatItIs } from '../components/log-line.js';

/** @import {View} from './screen.js' */

/** @param {View} view */
export function printing({ bar_mm, code_mm }) {
  return html`<section class="sheet" aria-labelledby="printing-title">
    <h2 id="printing-title">Printing</h2>
    <ol class="tags-steps">
      <li>Print at 100 %, without “fit to page”.</li>
      <li>Lay a ruler on the bar at the foot of the sheet: it has to be ${bar_mm} mm. If not, photos would measure wrong (the code counts as ${code_mm} mm).</li>
      <li>Cut, cover with clear film that is dull, not shiny, and fix it flat near where the log fruits.</li>
    </ol>
  </section>`;
}

/**
 * @param {View} view
 * @param {{tick: (view: View, log: string) => void, all: (view: View, all: boolean) => void}} on
 */
export function chooser(view, on) {
  return html`<section aria-labelledby="which-title">
    <h2 id="which-title">Which logs</h2>
    <p class="acts"><button type="button" class="button" id="all" @click=${() => on.all(view, true)}>Tick all</button>
      <button type="button" class="button" id="none" @click=${() => on.all(view, false)}>Tick none</button></p>
    <ul class="plain tags-list">${view.logs.map((row) => html`<li><label class="tags-line">
      <input type="checkbox" data-log=${row.id} .checked=${live(view.chosen.has(row.id))} @change=${() => on.tick(view, row.id)} />
      <span><strong>${row.tag}</strong> <span class="soft">${whatItIs(row)}</span></span></label></li>`)}</ul>
  </section>`;
}
