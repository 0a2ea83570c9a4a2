// How wet one log is, its weighings, and the sample disc of its batch.
// It never works anything out. Invariant: the disc is refused when it is heavier dry than wet, and stays as typed.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call, refused } from '../api/call.js';
import { text } from '../components/field.js';
import { head, trouble } from '../components/frame.js';
import { showWrong, wrongAt } from '../flow/form.js';
import { back, redraw, write } from '../flow/onshow.js';
import { explain, inOneText } from '../lib/explain.js';
import { weightUnit } from '../lib/format.js';
import { readGrams } from '../lib/numbers.js';
import { newRequest } from '../lib/request.js';
import { link } from '../lib/router.js';
import { LOGS } from '../lib/topics.js';
import { trend, wetness } from './parts.js';

/** @import {MoistureView} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */

/** @typedef {{shown: MoistureView, wet: string, dry: string, request: string, busy: boolean, wrong: Wrong | null}} View */

export const topics = [...LOGS, 'batch'];
export const title = (/** @type {View} */ view) => `How wet log ${view.shown.tag} is`;

/**
 * @param {Record<string, string>} params
 * @returns {Promise<View>}
 */
export async function load({ log }) {
  return { shown: await call('moisture_show', { log }), wet: '', dry: '', request: newRequest(), busy: false, wrong: null };
}

/** @param {View} view */
export function render(view) {
  const known = ['wet_g', 'dry_g'].includes(view.wrong?.field ?? '');
  return html`${head(title(view), { back: { label: 'Back', onBack: () => on.back(view) } })}
    ${trouble(view.wrong && !known ? view.wrong.text : '')}
    ${wetness(view)}
    <p class="acts"><a class="button button-main" id="weigh" href=${link('weigh')}>Weigh logs</a> <a class="button" href=${link('watering')}>Water</a> <a class="button" id="lifting" href=${link('lifting', { log: view.shown.id })}>Can I lift it?</a></p>
    ${trend(view)}
    ${disc(view)}`;
}

/** @param {View} view */
function disc(view) {
  const { shown, wrong } = view;
  if (!shown.spawn_run) return nothing;
  if (shown.batch === null) return html`<p class="soft" id="no-batch">A sample disc belongs to a batch of wood. This log is in none, so the published moisture of its wood is used as an estimate.</p>`;
  return html`<section class="sheet group" aria-labelledby="disc-title"><h2 id="disc-title">Sample disc of its batch</h2>
    <p class="hint">Cut when the wood is felled: weigh at once, dry at 103 °C until it no longer gets lighter (from memory of ISO 13061-1), weigh again.${shown.disc_wet_g === null ? '' : ` So far: ${shown.disc_wet_g} g wet, ${shown.disc_dry_g} g dry.`}</p>
    <form novalidate @submit=${(/** @type {Event} */ e) => on.disc(e, view)}>
      <div class="two">
        ${text({ name: 'wet_g', label: 'Wet', unit: weightUnit(), value: view.wet, keys: 'decimal', wrong: wrongAt(wrong, 'wet_g'), onInput: (value) => { view.wet = value; } })}
        ${text({ name: 'dry_g', label: 'Dry', unit: weightUnit(), value: view.dry, keys: 'decimal', wrong: wrongAt(wrong, 'dry_g'), onInput: (value) => { view.dry = value; } })}
      </div>
      <p class="acts"><button type="submit" class="button button-main" id="save-disc" ?disabled=${view.busy}>Save the disc</button></p>
    </form></section>`;
}

export const on = {
  /** @param {View} view */
  back: (view) => back(link('log', { log: view.shown.id })),

  /**
   * @param {Event} event
   * @param {View} view
   */
  async disc(event, view) {
    event.preventDefault();
    const [wet, dry] = [readGrams(view.wet), readGrams(view.dry)];
    if (!wet.ok || wet.value === null) return showWrong(view, { field: 'wet_g', text: wet.ok ? 'Type the wet weight.' : wet.why });
    if (!dry.ok || dry.value === null) return showWrong(view, { field: 'dry_g', text: dry.ok ? 'Type the dry weight.' : dry.why });
    if (view.busy || view.shown.batch === null) return;
    Object.assign(view, { busy: true, wrong: null });
    redraw();
    try {
      await write('disc_set', { batch: view.shown.batch, wet_g: wet.value, dry_g: dry.value, request: view.request });
    } catch (error) {
      const why = refused(error);
      view.busy = false;
      showWrong(view, { field: explain(why).field, text: inOneText(why) });
    }
  },
};
