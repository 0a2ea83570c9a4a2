// The pieces of the archive: writing one, and reading one.
// They never call the backend. Invariant: the path of what was written is shown whole.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { text } from '../components/field.js';
import { work } from '../components/work.js';
import { wrongAt } from '../flow/form.js';
import { count, listed } from '../lib/format.js';
import { foundWords, resultOf } from '../lib/jobs.js';

/** @import {ArchiveView, JobView} from '../api/types.js' */
/** @import {Work} from '../flow/job.js' */
/** @import {View} from './screen.js' */

/**
 * @param {View} view
 * @param {{write: (event: Event, view: View) => void, typed: (view: View, field: 'folder', value: string) => void, stop: (work: Work) => void}} on
 */
export function writing(view, on) {
  const { job } = view.out;
  return html`<section class="sheet" aria-labelledby="write-title">
    <h2 id="write-title">Write one</h2>
    <p class="soft">One zip file with every record, photo and setting: tables that any spreadsheet opens, and the journal of all acts. A page of text inside says how to read it without Shadeyard.</p>
    <form class="form" novalidate @submit=${(/** @type {Event} */ e) => on.write(e, view)}>
      ${text({ name: 'folder', label: 'Into the folder', value: view.folder, hint: 'Its whole path, from the first slash on.', wrong: wrongAt(view.wrong, 'folder'), onInput: (value) => on.typed(view, 'folder', value) })}
    </form>
    ${work({ name: 'write', label: 'Write the archive', work: view.out, words: WRITE, main: true, onBegin: () => on.write(new Event('submit'), view), onStop: () => on.stop(view.out) })}
    ${job?.state === 'done' && job.result ? html`<p class="path" id="written">${job.result}</p>` : nothing}
    ${job?.state === 'done' && job.found.length ? html`<ul>${foundWords(job.found).map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
  </section>`;
}

const WRITE = {
  running: 'Writing',
  done: (/** @type {JobView} */ job) => (job.found.length ? 'Written and read back. Not everything could be put into it:' : 'Written, read back and found whole. It is here:'),
  stopped: 'Stopped. No archive was left behind.',
  failed: 'No archive was written.',
};

/**
 * @param {View} view
 * @param {{look: (event: Event, view: View) => void, read: (view: View) => void, typed: (view: View, field: 'file', value: string) => void, stop: (work: Work) => void}} on
 */
export function reading(view, on) {
  const { seen, into } = view;
  return html`<section class="sheet" aria-labelledby="read-title">
    <h2 id="read-title">Read one</h2>
    <p class="soft">What it holds comes in beside what is here, as in a merge: nothing here is replaced or lost.</p>
    <form class="form" novalidate @submit=${(/** @type {Event} */ e) => on.look(e, view)}>
      ${text({ name: 'file', label: 'From the file', value: view.file, hint: 'Its whole path, from the first slash to “.zip”.', wrong: wrongAt(view.wrong, 'file'), onInput: (value) => on.typed(view, 'file', value) })}
      <p class="acts"><button type="submit" class="button button-wide" id="look" ?disabled=${view.looking}>${view.looking ? 'Looking…' : 'Look into it'}</button></p>
    </form>
    ${seen ? inside(seen) : nothing}
    ${seen || into.job || into.wrong ? work({ name: 'read', label: 'Take it in', work: into, words: READ, main: true, off: !seen, onBegin: () => on.read(view), onStop: () => on.stop(into) }) : nothing}
    ${into.job?.state === 'done' && into.job.found.length ? html`<ul>${foundWords(into.job.found).map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
  </section>`;
}

const READ = {
  running: 'Taking it in',
  done: (/** @type {JobView} */ job) => taken(resultOf(job)),
  stopped: 'Stopped. What had come in by then is kept; taking it in again goes on from there.',
  failed: 'It was not taken in.',
};

/** @param {Record<string, number>} did */
function taken({ acts = 0, blobs = 0 }) {
  if (acts + blobs === 0) return 'Everything in it was here already, so nothing was written.';
  return `Taken in: ${listed([acts ? count(acts, 'act') : '', blobs ? count(blobs, 'photo') : ''].filter(Boolean))}. Care keeps a snapshot from before.`;
}

/** @param {ArchiveView} seen */
function inside(seen) {
  return html`<p><strong id="inside">${count(seen.logs, 'log')}, ${count(seen.photos, 'photo')} and ${count(seen.acts, 'act')} of ${count(seen.devices, 'device')}.</strong>
    <span id="inside-new">${seen.new_acts === 0 ? 'All of these acts are here already.' : `${count(seen.new_acts, 'act')} ${seen.new_acts === 1 ? 'is' : 'are'} new here.`}</span></p>
    ${seen.sound ? html`<p class="soft">It was looked over and is whole.</p>` : html`<p class="wrong">It is not whole; what is sound can still be taken in:</p><ul>${foundWords(seen.found).map((line) => html`<li>${line}</li>`)}</ul>`}`;
}
