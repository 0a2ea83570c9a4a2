// The pieces of a copy's page.
// They never call the backend. Invariant: counts of now and then stand side by side.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { work } from '../components/work.js';
import { photosMissing, takenBefore, wouldLose } from '../lib/care.js';
import { count, when } from '../lib/format.js';
import { sentence } from '../lib/words.js';

/** @import {Counts} from '../api/types.js' */
/** @import {View} from './screen.js' */

/** @param {View} view */
export function lost({ copy }) {
  const more = copy.lost_count - copy.lost.length;
  return html`<section class="sheet" aria-labelledby="lost-title">
    <h2 id="lost-title">What you would lose</h2>
    <p class="strong" id="would-lose">${wouldLose(copy)}</p>
    ${copy.lost.length ? html`<ol class="plain lost">${copy.lost.map((act) => html`<li>${sentence(act.name, act.said)} <span class="soft">${when(act.at, '')}</span></li>`)}</ol>` : nothing}
    ${more > 0 ? html`<p class="soft">and ${count(more, 'older act')}.</p>` : nothing}
  </section>`;
}

/** @type {[keyof Counts, string][]} */
const ROWS = [['logs', 'Logs'], ['entries', 'Entries'], ['photos', 'Photos'], ['acts', 'Acts']];

/** @param {View} view */
export function whatIsIn({ copy }) {
  const why = takenBefore(copy.name);
  return html`<section class="sheet" aria-labelledby="in-title">
    <h2 id="in-title">What is in it</h2>
    ${why ? html`<p class="soft">Taken ${why}.</p>` : nothing}
    <div class="wide" tabindex="0" role="group" aria-label="What it holds"><table class="table" id="counts">
      <thead><tr><th scope="col"><span class="unseen">What</span></th><th scope="col">Now</th><th scope="col">In this copy</th></tr></thead>
      <tbody>${ROWS.map(([key, name]) => html`<tr data-row=${key}><th scope="row">${name}</th><td>${copy.now === null ? 'not known' : copy.now[key]}</td><td>${copy.then[key]}</td></tr>`)}</tbody>
    </table></div>
    <p id="photos-missing">${photosMissing(copy.photos_missing)}</p>
  </section>`;
}

/**
 * @param {View} view
 * @param {{restore: (view: View) => void, stop: (view: View) => void}} on
 */
export function goBack(view, on) {
  if (view.closed === 'newer') {
    return html`<section class="sheet" aria-labelledby="back-title"><h2 id="back-title">Go back to it</h2>
      <p>A newer Shadeyard wrote the yard as it is now, so nothing is changed here. Open it with the newer one to go back to this copy.</p></section>`;
  }
  const before = view.closed === 'damaged' || view.copy.now === null
    ? 'The damaged register is put aside as it is, in the yard folder. Nothing of it is deleted.'
    : 'Before that, a snapshot of how the yard is now is taken. Going back to that snapshot takes this back.';
  return html`<section class="sheet" aria-labelledby="back-title">
    <h2 id="back-title">Go back to it</h2>
    <p>${before}</p>
    ${work({ name: 'restore', label: 'Go back to this copy', work: view.work, words: RESTORE, main: true, onBegin: () => on.restore(view), onStop: () => on.stop(view) })}
  </section>`;
}

const RESTORE = {
  running: 'Going back',
  done: () => 'Done.',
  stopped: 'Stopped. The yard is as it was.',
  failed: 'It was not gone back to; the yard is as it was.',
};
