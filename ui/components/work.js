// Long work on show: its button, how far it is, how to stop it, and what came of it.
// It never starts anything itself. Invariant: what it says is read aloud, and the bar is never the only sign.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { jobWords } from '../lib/jobs.js';

/** @import {JobView} from '../api/types.js' */
/** @import {JobWords} from '../lib/jobs.js' */
/** @import {TemplateResult} from '../vendor/lit-html/lit-html.js' */

/** @typedef {{job: JobView | null, starting: boolean, wrong: string}} Shown */

/**
 * @param {object} w
 * @param {string} w.name the id of the button; `<name>-stop` and `<name>-said` follow from it
 * @param {string} w.label
 * @param {Shown} w.work
 * @param {JobWords} w.words
 * @param {() => void} w.onBegin
 * @param {() => void} w.onStop
 * @param {boolean} [w.main]
 * @param {boolean} [w.off]
 * @param {TemplateResult} [w.beside]
 */
export function work(w) {
  const { job, starting, wrong } = w.work;
  const running = starting || job?.state === 'running';
  return html`<div class="work">
    <p class="acts">
      <button type="button" class=${`button ${w.main ? 'button-main button-wide' : ''}`} id=${w.name} ?disabled=${running || (w.off ?? false)} @click=${w.onBegin}>${w.label}</button>
      ${job?.state === 'running' ? html`<button type="button" class="button button-quiet" id=${`${w.name}-stop`} @click=${w.onStop}>Stop</button>` : nothing}
      ${w.beside ?? nothing}
    </p>
    ${job?.state === 'running' ? html`<progress aria-label=${w.label} max=${Math.max(1, job.total)} value=${job.done}></progress>` : nothing}
    <p id=${`${w.name}-said`} role="status" class=${wrong ? 'wrong' : ''}>${wrong || (job ? jobWords(job, w.words) : '')}</p>
  </div>`;
}
