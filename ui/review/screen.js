// The review of the woods: the answer in a sentence first, then the picture, then the table.
// It never computes a figure. Invariant: too few logs to tell is said in words before any number.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { chips } from '../components/field.js';
import { head } from '../components/frame.js';
import { redraw, readdress, tellTrouble } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { MUSHROOM } from '../lib/words.js';
import { answer } from './answer.js';
import { picture } from './picture.js';
import { table, whereFrom } from './parts.js';

/** @import {Mushroom, ReviewView} from '../api/types.js' */

/** @typedef {'per_log_year' | 'per_litre'} Measure */
/** @typedef {ReviewView & {measure: Measure}} View */

export const topics = LOGS;
export const frame = /** @type {const} */ ('tab');
export const title = () => 'Review';

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ mushroom }) {
  return { ...(await call('review_woods', { mushroom: asMushroom(mushroom) })), measure: 'per_log_year' };
}

/**
 * @param {string | undefined} word
 * @returns {Mushroom | null}
 */
function asMushroom(word) {
  return word !== undefined && word in MUSHROOM ? /** @type {Mushroom} */ (word) : null;
}

/** @param {View} view */
export function render(view) {
  const mushrooms = [{ value: 'all', label: 'all' }, ...view.mushrooms.map((m) => ({ value: m, label: MUSHROOM[m] }))];
  const some = view.woods.length > 0;
  return html`${head('Review')}
    <section class="sheet answer" aria-labelledby="answer-title">
      <h2 id="answer-title">Which wood did best?</h2>
      ${view.mushrooms.length > 1 ? chips({ name: 'mushroom', legend: 'Mushroom', options: mushrooms, value: view.mushroom ?? 'all', onPick: (m) => on.mushroom(view, m) }) : nothing}
      <p class="answer-words" id="answer" role="status">${answer(view)}</p>
    </section>
    ${some ? picture(view, on) : nothing}
    ${some ? table(view) : nothing}
    ${some ? whereFrom(view) : nothing}`;
}

export const on = {
  /**
   * @param {View} view
   * @param {string} word
   */
  async mushroom(view, word) {
    const mushroom = asMushroom(word);
    try {
      Object.assign(view, await call('review_woods', { mushroom }));
      readdress(view, link('review', mushroom ? { mushroom } : {}));
      redraw();
    } catch (error) {
      tellTrouble(error);
    }
  },

  /**
   * @param {View} view
   * @param {Measure} measure
   */
  measure(view, measure) {
    view.measure = measure;
    redraw();
  },
};
