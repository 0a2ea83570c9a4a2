// Where a number comes from, to open by a tap: the formula in words, what went in, and on whose word.
// It never computes. Invariant: closed it takes one line, open it hides nothing.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { count, shown } from '../lib/format.js';
import { HOW, INPUT, MARK } from '../lib/words-where.js';

/** @import {WhereFrom} from '../api/types.js' */

/** @param {WhereFrom} from */
export function whereFrom(from) {
  return html`<details class="where"><summary>Where from</summary>
    <p>${HOW[from.how] ?? from.how}</p>
    ${from.inputs.length > 0 ? html`<dl class="where-inputs">${from.inputs.map((i) => html`
      <div><dt>${INPUT[i.name] ?? i.name}</dt><dd>${shown(i.name, i.value)}</dd></div>`)}</dl>` : nothing}
    <p class="soft">${MARK[from.mark]}${from.source ? html`: ${from.source}` : nothing}${from.logs === null ? nothing
    : html` (${count(from.logs, 'log')})`}.</p>
  </details>`;
}
