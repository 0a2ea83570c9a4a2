// Mushrooms, their strains and the spawn lots: what fruits when, and what is doubtful.
// It never compares strains. Invariant: a range without the grower's word says whose it is.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { call } from '../api/call.js';
import { head } from '../components/frame.js';
import { icon } from '../components/icons.js';
import { whereFrom } from '../components/where-from.js';
import { capital, count, rough } from '../lib/format.js';
import { back } from '../flow/onshow.js';
import { link } from '../lib/router.js';
import { MUSHROOM, MUSHROOM_FULL, SPAWN, STRAIN_CLASS } from '../lib/words.js';
import { KEPT, degrees, season } from '../lib/words-life.js';

/** @import {ClassLine, LotRow, Mushroom, StrainRow, StrainsView} from '../api/types.js' */

export const topics = ['strain', 'lot', 'log'];
export const title = () => 'Mushrooms and strains';

/** @returns {Promise<StrainsView>} */
export const load = () => call('strains_show', {});

const MUSHROOMS = /** @type {Mushroom[]} */ (Object.keys(MUSHROOM));

/** @param {StrainsView} view */
export function render(view) {
  return html`${head('Mushrooms and strains', { back: { label: 'Back', onBack: on.back } })}
    <p class="acts"><a class="button" id="add-strain" href=${link('strain', { strain: 'new' })}>${icon('plus')} Add a strain</a>
      <a class="button" id="add-lot" href=${link('lot', { lot: 'new' })}>${icon('plus')} Add a spawn lot</a></p>
    ${MUSHROOMS.map((mushroom) => section(view, mushroom))}
    <section aria-labelledby="lots-title">
      <h2 id="lots-title">Spawn lots</h2>
      ${view.lots.length === 0 ? html`<p>None yet. A lot is the spawn that came together: when one of its logs turns out to carry something else, the whole lot can be marked doubtful.</p>`
    : html`<ul class="plain">${view.lots.map(lotLine)}</ul>`}
    </section>`;
}

/**
 * @param {StrainsView} view
 * @param {Mushroom} mushroom
 */
function section(view, mushroom) {
  const strains = view.strains.filter((s) => s.mushroom === mushroom);
  return html`<section aria-labelledby=${`${mushroom}-title`} data-mushroom=${mushroom}>
    <h2 id=${`${mushroom}-title`}>${MUSHROOM_FULL[mushroom]}</h2>
    ${mushroom === 'shiitake' ? html`<div class="sheet">${view.classes.map((line) => classLine(line, view.southern))}
      ${view.classes.length ? whereFrom(view.classes[0].from) : nothing}</div>` : nothing}
    ${strains.length === 0 ? html`<p class="soft">No strain named yet.</p>` : html`<ul class="plain">${strains.map((s) => strainLine(s, view.classes))}</ul>`}
  </section>`;
}

/**
 * @param {ClassLine} line
 * @param {boolean} southern
 */
function classLine(line, southern) {
  const there = /** @param {number} m */ (m) => (southern ? ((m + 5) % 12) + 1 : m);
  const months = line.months === null ? null : /** @type {[number, number]} */ ([there(line.months[0]), there(line.months[1])]);
  return html`<p><strong>${capital(STRAIN_CLASS[line.class])}</strong>: fruits at ${degrees(line.fruiting)}, ${season(months)}.</p>`;
}

/**
 * @param {StrainRow} strain
 * @param {ClassLine[]} classes
 */
function strainLine(strain, classes) {
  const own = strain.from_dc !== null && strain.to_dc !== null ? { from_dc: strain.from_dc, to_dc: strain.to_dc } : null;
  const byClass = classes.find((c) => c.class === strain.class)?.fruiting;
  const range = own ? `fruits at ${degrees(own)}, your own word` : byClass ? `fruits at ${degrees(byClass)}, as its class` : 'no fruiting range known';
  return html`<li><a class="way-line" data-strain=${strain.id} href=${link('strain', { strain: strain.id })}><span><strong>${strain.name}</strong>
    <span class="soft">${strain.class ? `${capital(STRAIN_CLASS[strain.class])}, ` : ''}${range} · ${count(strain.logs, 'log')}</span></span>${icon('more')}</a></li>`;
}

/** @param {LotRow} lot */
function lotLine(lot) {
  const { fields } = lot;
  const parts = [lot.strain_name ?? 'strain not known', fields.form ? SPAWN[fields.form] : '', fields.source ? `from ${fields.source}` : '',
    fields.received ? `received ${rough(fields.received, '')}` : '', fields.kept ? `kept ${KEPT[fields.kept]}` : ''].filter(Boolean);
  return html`<li><a class="way-line" data-lot=${lot.id} href=${link('lot', { lot: lot.id })}><span><strong>${fields.name}</strong>${fields.doubtful ? html` <span class="mark">strain doubtful</span>` : nothing}
    <span class="soft">${parts.join(', ')} · ${count(lot.logs, 'log')}</span></span>${icon('more')}</a></li>`;
}

export const on = {
  back: () => back(link('yard')),
};
