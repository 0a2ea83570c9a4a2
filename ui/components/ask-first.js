// What is asked before something unusual is written: the reasons, log by log, and the two answers.
// It never refuses. Invariant: what is asked is said once for the whole act, and "yes" does the same act.

import { html } from '../vendor/lit-html/lit-html.js';
import { WHY_ASK } from '../lib/words-work.js';

/** @typedef {{tag: string, why: string, detail: Record<string, any>}} Asked */

/**
 * @param {object} a
 * @param {string} a.title
 * @param {Asked[]} a.asks
 * @param {string} a.yes
 * @param {() => void} a.onYes
 * @param {() => void} a.onNo
 */
export function askFirst({ title, asks, yes, onYes, onNo }) {
  const reasons = [...new Set(asks.map(({ why, detail }) => `${why} ${JSON.stringify(detail)}`))];
  const of = (/** @type {string} */ reason) => asks.filter(({ why, detail }) => `${why} ${JSON.stringify(detail)}` === reason);
  return html`<section class="sheet mind ask-first" id="ask-first" role="alertdialog" aria-labelledby="ask-title">
    <h2 id="ask-title" tabindex="-1">${title}</h2>
    <ul class="plain ask-list">${reasons.map((reason) => {
    const [first, ...more] = of(reason);
    const tags = [first, ...more].map(({ tag }) => tag).join(', ');
    return html`<li data-why=${first.why}><strong>${tags}</strong> ${(WHY_ASK[first.why] ?? (() => first.why))(first.detail)}.</li>`;
  })}</ul>
    <p class="acts"><button type="button" class="button button-main" id="ask-yes" @click=${onYes}>${yes}</button>
    <button type="button" class="button" id="ask-no" @click=${onNo}>Not so</button></p>
  </section>`;
}
