// Values of a log that another device wrote and that did not win.
// It never changes one; editing the log does. Invariant: nothing shows when devices agree.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { fieldValue, whose } from '../lib/apart.js';
import { capital, when } from '../lib/format.js';
import { fieldName } from '../lib/words.js';

/** @import {Version} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @param {View} view */
export function others({ losers, mine, today }) {
  if (losers.length === 0) return nothing;
  const by = (/** @type {Version} */ version) => html`<span class="soft">${whose(version.device, mine)}, ${when(version.at, today)}</span>`;
  return html`<details class="where" id="others"><summary>Other values</summary>
    <p class="soft">Two devices wrote these apart. The later one stands; to change it, edit the log.</p>
    <dl class="facts">${losers.map(({ name, stands, others: left }) => html`<div data-field=${name}><dt>${capital(fieldName(name))}</dt>
      <dd><p><strong>${fieldValue(name, stands.value)}</strong> ${by(stands)}</p>${left.map((version) => html`<p>not ${fieldValue(name, version.value)} ${by(version)}</p>`)}</dd></div>`)}</dl>
  </details>`;
}
