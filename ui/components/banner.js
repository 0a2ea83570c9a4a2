// What stands above every place while the yard can only be read.
// It never hides the screen below it. Invariant: it says what is so, what is safe and what to do.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { explainClosed } from '../lib/explain.js';
import { link } from '../lib/router.js';

/** @import {Closed} from '../api/types.js' */

/** @param {Closed} closed */
export function closedBanner(closed) {
  const { what, safe, todo } = explainClosed(closed);
  return html`<aside class="trouble closed" id="closed" aria-label="This yard can only be read">
    <p class="strong">${what}</p><p>${safe}</p><p>${todo}</p>
    <p class="acts">
      ${closed === 'damaged' ? html`<a class="button" href=${link('care')}>To the backups</a>` : nothing}
      <a class="button" href=${link('archive')}>Write an archive</a>
    </p>
  </aside>`;
}

/** For a form: short, before anything is typed. */
export function closedLine() {
  return html`<p class="trouble" id="closed">This yard can only be read now: what is typed here cannot be saved. <a href=${link('care')}>Why, and what to do</a></p>`;
}
