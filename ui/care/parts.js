// The pieces of Care but for the backups.
// They never call the backend. Invariant: whatever is wrong says what is safe and what to do next.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { icon } from '../components/icons.js';
import { work } from '../components/work.js';
import { deviceWords } from '../lib/care.js';
import { notUnderstood } from '../lib/apart.js';
import { explain } from '../lib/explain.js';
import { bytes, capital, count, when } from '../lib/format.js';
import { foundWords } from '../lib/jobs.js';
import { link } from '../lib/router.js';

/** @import {JobView} from '../api/types.js' */
/** @import {Work} from '../flow/job.js' */
/** @import {View} from './screen.js' */

/** What waits for an answer. @param {View} view */
export function open({ twins, clashes }) {
  if (twins.length + clashes.length === 0) return nothing;
  return html`<section class="sheet" aria-labelledby="open-title">
    <h2 id="open-title">Waiting for you</h2>
    ${twins.length ? html`<a class="way-line" id="twins" href=${link('twins')}><span>${twins.length === 1 ? 'One picking may have been entered twice.' : `${twins.length} pickings may have been entered twice.`} <span class="soft">One or two? Only you can tell.</span></span>${icon('more')}</a>` : nothing}
    ${clashes.length ? html`<a class="way-line" id="clashes" href=${link('sharing')}><span>${clashes.length === 1 ? 'One thing in the record contradicts another.' : `${clashes.length} things in the record contradict others.`} <span class="soft">Both are kept; look when you have time.</span></span>${icon('more')}</a>` : nothing}
  </section>`;
}

/**
 * @param {View} view
 * @param {{check: (view: View) => void, stop: (work: Work) => void}} on
 */
export function health(view, on) {
  const last = view.care?.last_check ?? null;
  const found = view.check.job?.state === 'done' ? view.check.job.found : last?.found ?? [];
  const unread = notUnderstood(view.care?.not_understood ?? 0);
  return html`<section class="sheet" aria-labelledby="health-title">
    <h2 id="health-title">Health</h2>
    ${found.length ? html`<p class="care-state">${count(found.length, 'trouble')} found</p>
      <ul class="care-found" id="found">${foundWords(found).map((line) => html`<li>${line}</li>`)}</ul>
      <p>${mendable(found) ? 'The records themselves are sound. Nothing was deleted.' : 'Nothing was deleted. Go back to a backup below, and keep the yard folder as it is until then.'}</p>`
      : html`<p class="care-state">${last ? 'Sound' : 'Not looked over yet'}</p>`}
    ${last ? html`<p class="soft">Looked over ${when(last.at, view.today)}, all records and photos.</p>` : html`<p class="soft">Every record and photo is looked over after each start.</p>`}
    ${unread ? html`<p>${unread}</p>` : nothing}
    ${work({ name: 'check', label: 'Look it over now', work: view.check, words: CHECK, onBegin: () => on.check(view), onStop: () => on.stop(view.check) })}
  </section>`;
}

/** Only photos are missing or changed: another copy may have them. @param {string[]} found */
function mendable(found) {
  return found.every((line) => /^(missing|swapped) /.test(line));
}

const CHECK = {
  running: 'Looking over',
  done: (/** @type {JobView} */ job) => (job.found.length ? `Looked over: ${count(job.found.length, 'trouble')} found, said above. Nothing was changed.` : 'Looked over: the register is sound.'),
  stopped: 'Stopped. Nothing was changed.',
  failed: 'It could not be looked over to the end.',
};

/** @param {View} view */
export function unreadable({ trouble }) {
  if (!trouble) return nothing;
  const { what, safe, todo } = explain(trouble);
  return html`<section class="trouble" role="alert"><p class="strong">${what}</p><p>${safe}</p><p>${todo}</p></section>`;
}

/** @param {View} view */
export function sharing({ care }) {
  const unsent = care?.unsent ?? null;
  const words = care?.shared_folder == null ? 'No folder is shared yet.' : unsent === null ? 'The shared folder is not there now.' : unsent === 0 ? 'The shared folder has all of yours.' : `${count(unsent, 'act')} of yours ${unsent === 1 ? 'is' : 'are'} not in the shared folder yet.`;
  return html`<section class="sheet" aria-labelledby="sharing-title">
    <h2 id="sharing-title">To and from elsewhere</h2>
    <a class="way-line" id="sharing" href=${link('sharing')}><span><strong>Share with another device</strong> <span class="soft" id="unsent">${words}</span></span>${icon('more')}</a>
    <a class="way-line" id="archive" href=${link('archive')}><span><strong>Archive</strong> <span class="soft">Everything in one file of open formats, to keep or to carry.</span></span>${icon('more')}</a>
    <a class="way-line" id="bring-in" href=${link('bring-in')}><span><strong>Bring in a spreadsheet</strong> <span class="soft">Logs or pickings kept elsewhere so far.</span></span>${icon('more')}</a>
  </section>`;
}

/** @param {View} view */
export function devices({ care, today }) {
  if (!care) return nothing;
  return html`<section class="sheet" aria-labelledby="devices-title">
    <h2 id="devices-title">Devices</h2>
    ${care.devices.length === 0 ? html`<p class="soft">This device is ${care.device}. Nothing has been written yet.</p>` : html`<ul class="plain care-devices">${care.devices.map((row) => html`<li data-device=${row.short}>
      <p><strong>${row.short}</strong>${row.mine ? html` <span class="this-device">this device</span>` : nothing}</p>
      <p class="soft">${capital(deviceWords(row, today))}</p>
      ${row.ahead ? html`<p class="wrong">${row.mine ? 'What was last written here lies more than a day ahead of this clock.' : 'Its clock, or the one here, is more than a day off.'} Set both right.</p>` : nothing}
    </li>`)}</ul>
    ${care.devices.some(({ mine }) => mine) ? nothing : html`<p class="soft">This device is ${care.device} and has written nothing yet.</p>`}`}
  </section>`;
}

/** @param {View} view */
export function storage({ care }) {
  if (!care) return nothing;
  const s = care.storage;
  /** @type {[string, string][]} */
  const facts = [
    ['Records', `${bytes(s.register_bytes)}, ${count(care.acts, 'act')}`],
    ['Photos', `${bytes(s.photo_bytes)}, ${count(s.photos, 'photo')}`],
    ['Previews', `${bytes(s.made_bytes)}, made again when needed`],
    ['Backups', `${bytes(s.backups_bytes)} without photos`],
    ['Snapshots', bytes(s.snapshots_bytes)],
  ];
  return html`<section class="sheet" aria-labelledby="storage-title">
    <h2 id="storage-title">Room on this device</h2>
    <dl class="facts">${facts.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>
    <a class="way-line" id="photo-room" href=${link('photo-room')}><span><strong>Photos on this device</strong> <span class="soft">Move originals out for a small phone; files without a record.</span></span>${icon('more')}</a>
  </section>`;
}

/**
 * @param {View} view
 * @param {{details: (view: View) => void, copy: (view: View) => void}} on
 */
export function details(view, on) {
  return html`<section class="sheet" aria-labelledby="details-title">
    <h2 id="details-title">Details for a report</h2>
    <p class="soft">Versions, counts and checks, for whoever looks into a fault. No names, tags, notes, places or paths.</p>
    ${view.details ? html`<div class="field"><label for="details-text">The details</label>
      <textarea id="details-text" readonly rows="10" .value=${view.details}></textarea></div>` : nothing}
    <p class="acts">
      ${view.details ? html`<button type="button" class="button" id="copy-details" @click=${() => on.copy(view)}>Copy</button>` : html`<button type="button" class="button" id="details" @click=${() => on.details(view)}>Show the details</button>`}
    </p>
    <p role="status">${view.copied ? 'Copied.' : ''}</p>
  </section>`;
}

