// What to expect of a log: how long its wood can wait, when it may fruit first, how many years it bears.
// It never computes. Invariant: each expectation says where it comes from.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { whereFrom } from '../components/where-from.js';
import { daysAgo, dayName } from '../lib/format.js';
import { daysLeft } from '../lib/words-life.js';
import { ENDING } from '../lib/words.js';

/** @import {LogView} from '../api/types.js' */

/** @param {LogView} view */
export function expectations(view) {
  const { row, first_fruit: fruit, life, fresh } = view;
  if (row.state in ENDING) return nothing;
  return html`<section aria-labelledby="expect-title" id="expect">
    <h2 id="expect-title">What to expect</h2>
    ${fresh.map((f) => html`<div><p>${f.totem ? 'As a Hericium totem' : 'As a drilled log'}: <strong>${daysLeft(f)}</strong>.</p>${whereFrom(f.from)}</div>`)}
    ${fruit ? html`<div id="first-fruit"><p>First fruit between <strong>${dayName(fruit.from)}</strong> and <strong>${dayName(fruit.to)}</strong>. ${late(view)}</p>
      ${signs(row.mushroom !== 'shiitake')}${whereFrom(fruit.source)}</div>` : nothing}
    <div><p>Bears for about ${life.years.from === life.years.to ? life.years.to : `${life.years.from} to ${life.years.to}`} years from laying.</p>${whereFrom(life.from)}</div>
  </section>`;
}

/** @param {LogView} view */
function late({ first_fruit: fruit, today }) {
  if (!fruit) return '';
  if (daysAgo(fruit.late, today) > 0) return 'It is late: look at it closely, and feel whether it has dried out.';
  return daysAgo(fruit.to, today) > 0 ? 'That has passed: some logs take up to two years (published: Ohio State University Extension F-0042).' : '';
}

/** @param {boolean} hericium */
function signs(hericium) {
  return html`<p class="soft">Signs that it is ready: ${hericium
    ? 'white felt at the joints and cut ends, and the wood no longer rings when tapped'
    : 'white or brown patches at the cut ends, bark that sounds dull when tapped, small bumps under the bark'} (common practice).</p>`;
}
