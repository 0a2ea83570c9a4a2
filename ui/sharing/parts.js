// The pieces of sharing.
// They never call the backend. Invariant: what comes in, what goes out and what is passed over are each said.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { text } from '../components/field.js';
import { trouble } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { work } from '../components/work.js';
import { wrongAt } from '../flow/form.js';
import { comesIn, contradiction, goesOut, logsOf, mergeRemarks, merged, notUnderstood, twinQuestion } from '../lib/apart.js';
import { when } from '../lib/format.js';
import { foundWords, jobWords, resultOf, wasStopped } from '../lib/jobs.js';
import { link } from '../lib/router.js';

/** @import {Contradiction, JobView, MergeView} from '../api/types.js' */
/** @import {View} from './screen.js' */

/**
 * @param {View} view
 * @param {{look: (event: Event, view: View) => void, typed: (view: View, typed: string) => void}} on
 */
export function folder(view, on) {
  return html`<section class="sheet" aria-labelledby="folder-title">
    <h2 id="folder-title">A folder both can reach</h2>
    <p class="soft">On a stick, a card, a drive in the house, or a folder another program keeps alike on both. Each device leaves there what it has and takes what the other left. Shadeyard itself sends nothing over a network.</p>
    ${trouble(view.wrong && view.wrong.field === null ? view.wrong.text : '')}
    <form class="form" novalidate @submit=${(/** @type {Event} */ e) => on.look(e, view)}>
      ${text({ name: 'folder', label: 'Shared folder', value: view.folder, hint: 'Its whole path, from the first slash on.', wrong: wrongAt(view.wrong, 'folder'), onInput: (value) => on.typed(view, value) })}
      <p class="acts"><button type="submit" class=${`button button-wide ${view.seen ? '' : 'button-main'}`} id="look" ?disabled=${view.looking}>${view.looking ? 'Looking…' : 'Look what is there'}</button></p>
    </form>
  </section>`;
}

/**
 * @param {View} view
 * @param {{merge: (view: View) => void, stop: (view: View) => void}} on
 */
export function preview(view, on) {
  const { seen } = view;
  const { job } = view.work;
  if (!seen && !job && !view.work.wrong) return nothing;
  const remarks = job && job.state !== 'running' && !wasStopped(job) ? job.found.filter((line, i) => !(job.state === 'failed' && i === job.found.length - 1)) : [];
  return html`<section class="sheet" aria-labelledby="merge-title">
    <h2 id="merge-title">${seen ? 'What a merge would bring' : 'Merging'}</h2>
    ${seen ? coming(seen) : nothing}
    ${seen || job?.state === 'running' ? work({ name: 'merge', label: 'Merge now', work: view.work, words: MERGE, main: true, onBegin: () => on.merge(view), onStop: () => on.stop(view) })
      : html`<p id="merge-said" role="status" class=${view.work.wrong ? 'wrong' : 'strong'}>${view.work.wrong || (job ? jobWords(job, MERGE) : '')}</p>`}
    ${remarks.length ? html`<ul id="merge-found">${foundWords(remarks).map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
  </section>`;
}

const MERGE = {
  running: 'Merging',
  done: (/** @type {JobView} */ job) => merged(resultOf(job)),
  stopped: 'Stopped. What had come in by then is kept; merging again goes on from there.',
  failed: 'The merge did not come to its end; what had come in by then is kept.',
};

/** @param {MergeView} seen */
function coming(seen) {
  const into = comesIn(seen);
  const out = goesOut(seen);
  const remarks = foundWords(mergeRemarks(seen));
  const unread = notUnderstood(seen.not_understood);
  const open = [...seen.contradictions.map(contradiction), ...seen.twins.map((twins) => twinQuestion(twins))];
  return html`${into ? html`<p><span class="soft">Comes in:</span> <strong id="comes-in">${into}</strong></p>` : nothing}
    ${out ? html`<p><span class="soft">Goes out:</span> <strong id="goes-out">${out}</strong></p>` : nothing}
    ${into || out ? nothing : html`<p id="nothing-new">There is nothing new on either side.</p>`}
    ${unread ? html`<p>${unread}</p>` : nothing}
    ${remarks.length ? html`<ul id="remarks">${remarks.map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
    ${open.length ? html`<p>This would be left for you to look at:</p><ul id="left-open">${open.map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
    ${seen.new_acts > 0 ? html`<p class="soft">Before anything comes in, a snapshot of how the yard is now is taken.</p>` : nothing}`;
}

/** @param {View} view */
export function lastMerge({ before }) {
  if (!before) return nothing;
  return html`<section class="sheet" aria-labelledby="last-merge-title">
    <h2 id="last-merge-title">The last merge</h2>
    <p>A snapshot was taken before it, ${when(before.at, '')}. Going back to it takes the merge back, and whatever was written since. The folder keeps the other’s acts: the next merge would bring them in again.</p>
    <p class="acts"><a class="button" id="take-back" href=${link('copy', { from: 'snapshots', name: before.name })}>${icon('undo')} Take back this merge</a></p>
  </section>`;
}

/** @param {View} view */
export function both({ clashes, twins }) {
  if (clashes.length + twins.length === 0) return nothing;
  return html`<section class="sheet" aria-labelledby="both-title">
    <h2 id="both-title">What contradicts</h2>
    ${twins.length ? html`<a class="way-line" id="twins" href=${link('twins')}><span><strong>${twins.length === 1 ? 'One picking may have been entered twice' : `${twins.length} pickings may have been entered twice`}</strong> <span class="soft">One or two? Only you can tell.</span></span>${icon('more')}</a>` : nothing}
    ${clashes.length ? html`<p class="soft">Each may be the truth, so both are kept. Where one is wrong, mend it on the log’s page.</p>
      <ul class="plain clashes">${clashes.map(clash)}</ul>` : nothing}
  </section>`;
}

/** @param {Contradiction} one */
function clash(one) {
  const logs = logsOf(one);
  return html`<li data-clash=${one.kind}><p>${contradiction(one)}</p>
    ${logs.length ? html`<p class="acts">${logs.map((log, i) => html`<a class="button" href=${link('log', { log })}>${logs.length > 1 ? `Log ${one.name}, the ${i === 0 ? 'first' : i === 1 ? 'second' : `${i + 1}th`}` : `Log ${one.name}`}</a>`)}</p>` : nothing}</li>`;
}
