// What the yard's own health asks for, on Chores: only when something is wrong or waits for an answer.
// It never shows when all is well. Invariant: each line says its reason and leads to where it is mended.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { icon } from '../components/icons.js';
import { count } from '../lib/format.js';
import { link } from '../lib/router.js';

/** @import {View} from './screen.js' */

/** @param {View} view */
export function care({ trouble, twins }) {
  if (trouble.length === 0 && twins === 0) return nothing;
  return html`<section class="sheet care-lines" aria-labelledby="care-title">
    <h2 id="care-title">Care</h2>
    ${trouble.length ? html`<a class="way-line" id="care-trouble" href=${link('care')}><span><strong>${count(trouble.length, 'trouble')} found when it was looked over</strong> <span class="soft">Nothing was deleted. See what it is and what to do.</span></span>${icon('more')}</a>` : nothing}
    ${twins ? html`<a class="way-line" id="care-twins" href=${link('twins')}><span><strong>${twins === 1 ? 'One picking may have been entered twice' : `${twins} pickings may have been entered twice`}</strong> <span class="soft">One or two? Only you can tell.</span></span>${icon('more')}</a>` : nothing}
  </section>`;
}
