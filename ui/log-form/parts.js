// The groups of the log form.
// They never read numbers or dates. Invariant: the two needed fields come first, and everything else says it may wait.

import { html, nothing } from '../vendor/lit-html/lit-html.js';
import { chips, lines, select, text } from '../components/field.js';
import { roughDate } from '../components/rough-date.js';
import { wrongAt } from '../flow/form.js';
import { capital, lengthUnit } from '../lib/format.js';
import { METHOD, MUSHROOM, SPAWN, STRAIN_CLASS } from '../lib/words.js';

/** @import {LogForm, Mushroom, WoodChoice} from '../api/types.js' */
/** @import {Wrong} from '../flow/form.js' */
/** @import {View} from './screen.js' */
/** @import {Typed} from './typed.js' */
/** @typedef {{form: LogForm, typed: Typed, wrong: Wrong | null}} Sharing what the forms of one log and of many have */

/**
 * @typedef {object} On
 * @property {(view: View) => void} typed
 * @property {(view: View, name: string) => void} strain
 * @property {(view: View, mushroom: Mushroom) => void} mushroom
 * @property {(view: View, batch: string) => void} batch
 * @property {(view: View, lot: string) => void} lot
 * @property {(view: View) => Promise<void>} startOver
 */

/**
 * @param {View} view
 * @param {On} on
 */
export function restored(view, on) {
  if (!view.restored) return nothing;
  return html`<p class="mind" role="status">What you were typing is back. <button type="button" class="button button-quiet" id="start-over" @click=${() => on.startOver(view)}>Start over</button></p>`;
}

/**
 * @template {keyof Typed} K
 * @param {View} view
 * @param {On} on
 * @param {K} field
 */
function setter(view, on, field) {
  return (/** @type {Typed[K]} */ value) => {
    view.typed[field] = value;
    on.typed(view);
  };
}

/**
 * @template {string} V
 * @param {Record<V, string>} words
 */
function options(words) {
  return /** @type {{value: V, label: string}[]} */ (Object.entries(words).map(([value, label]) => ({ value, label })));
}

/** @type {{value: '', label: string}} */
const OPEN = { value: '', label: 'not known' };

/**
 * @param {View} view
 * @param {On} on
 */
export function needed(view, on) {
  const { typed, wrong } = view;
  return html`<section class="sheet group" aria-label="Needed">
    ${text({ name: 'tag', label: 'Tag', value: typed.tag, required: true, hint: 'What stands on the label on the log.', wrong: wrongAt(wrong, 'tag'), onInput: setter(view, on, 'tag') })}
    ${chips({ name: 'mushroom', legend: 'Mushroom', required: true, options: options(MUSHROOM), value: typed.mushroom, wrong: wrongAt(wrong, 'mushroom'), onPick: (value) => on.mushroom(view, value) })}
  </section>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function wood(view, on) {
  const { typed, wrong, form } = view;
  const chosen = form.woods.find(({ id }) => id === typed.wood);
  const woods = [{ value: '', label: 'not known' }, ...form.woods.map((w) => ({ value: w.id, label: w.own ? `${w.name}, yours` : `${w.name} (${w.scientific})` }))];
  const setD = (/** @type {number} */ i) => (/** @type {string} */ value) => {
    typed.d[i] = value;
    on.typed(view);
  };
  return html`<section class="sheet group" aria-labelledby="wood-title">
    <h2 id="wood-title">The wood <span class="soft">may wait</span></h2>
    ${batchField(view, (value) => on.batch(view, value))}
    ${select({ name: 'wood', label: 'Wood', value: typed.wood, options: woods, wrong: wrongAt(wrong, 'wood'), onInput: setter(view, on, 'wood') })}
    ${woodHint(chosen, typed.mushroom)}
    <div class="measures" role="group" data-field="d_mm" aria-labelledby="d_mm-legend">
      <p class="legend" id="d_mm-legend">Thickness <span class="unit">in ${lengthUnit()}, one measure or up to three</span></p>
      <div class="three">
        ${typed.d.map((value, i) => text({ name: `d_${i + 1}`, label: ['One end', 'Middle', 'Other end'][i], value, keys: 'decimal', wrong: wrongAt(wrong, `d_${i + 1}`), onInput: setD(i) }))}
      </div>
      ${wrongAt(wrong, 'd_mm') ? html`<p class="wrong" role="alert">${wrongAt(wrong, 'd_mm')}</p>` : nothing}
    </div>
    ${text({ name: 'length_mm', label: 'Length', unit: lengthUnit(), value: typed.length, keys: 'decimal', wrong: wrongAt(wrong, 'length_mm'), onInput: setter(view, on, 'length') })}
    ${roughDate({ name: 'felled', legend: 'Felled', parts: typed.felled, kinds: ['unknown', 'day', 'month', 'season', 'year'], wrong: wrongAt(wrong, 'felled'), onChange: () => on.typed(view) })}
  </section>`;
}

/**
 * @param {WoodChoice | undefined} wood
 * @param {Mushroom | null} mushroom
 */
function woodHint(wood, mushroom) {
  if (!wood) return nothing;
  if (wood.conifer) return html`<p class="mind" id="wood-hint" role="status">${capital(wood.name)} is a conifer: these mushrooms do not grow on it. You can still keep its record.</p>`;
  if (!mushroom) return nothing;
  const rating = mushroom === 'shiitake' ? wood.shiitake : wood.hericium;
  if (rating === null || rating > 1) return nothing;
  return html`<p class="mind" id="wood-hint" role="status">${capital(wood.name)} is rated ${rating === 0 ? 'unsuitable' : 'poor'} for ${MUSHROOM[mushroom]} (${rating} of 4). That is guidance drawn from trials, not law.</p>`;
}

/**
 * The batch that one log or many were cut with.
 * @param {Sharing} view
 * @param {(value: string) => void} onInput
 */
export function batchField({ form, typed, wrong }, onInput) {
  if (form.batches.length === 0) return nothing;
  const options = [{ value: '', label: 'none' }, ...form.batches.map((b) => ({ value: b.id, label: b.fields.name }))];
  return select({ name: 'batch', label: 'Batch', value: typed.batch, options, hint: 'Fills in its wood and felling.', wrong: wrongAt(wrong, 'batch'), onInput });
}

/**
 * The lot that one log or many were laid with: of the chosen mushroom, those of unknown strain too, and the one chosen before.
 * @param {Sharing} view
 * @param {(value: string) => void} onInput
 */
export function lotField({ form, typed, wrong }, onInput) {
  if (form.lots.length === 0) return nothing;
  const fit = form.lots.filter((l) => l.id === typed.lot || typed.mushroom === null || l.mushroom === null || l.mushroom === typed.mushroom);
  const options = [{ value: '', label: 'none' }, ...fit.map((l) => ({ value: l.id, label: `${l.fields.name}${l.fields.doubtful ? ', strain doubtful' : ''}` }))];
  return select({ name: 'lot', label: 'Spawn lot', value: typed.lot, options, hint: 'Fills in its strain and form.', wrong: wrongAt(wrong, 'lot'), onInput });
}

/**
 * @param {View} view
 * @param {On} on
 */
export function growth(view, on) {
  const { typed, wrong, form } = view;
  const strains = form.strains.filter((s) => typed.mushroom === null || s.mushroom === typed.mushroom).map(({ name }) => name);
  return html`<section class="sheet group" aria-labelledby="growth-title">
    <h2 id="growth-title">Laying <span class="soft">may wait</span></h2>
    ${roughDate({ name: 'laid', legend: 'Laid (inoculated)', parts: typed.laid, kinds: ['unknown', 'none', 'day', 'month', 'season', 'year'], wrong: wrongAt(wrong, 'laid'), onChange: () => on.typed(view) })}
    ${lotField(view, (value) => on.lot(view, value))}
    ${text({ name: 'strain', label: 'Strain', value: typed.strain, list: strains, wrong: wrongAt(wrong, 'strain'), onInput: (value) => on.strain(view, value) })}
    ${typed.mushroom === 'shiitake' ? chips({ name: 'strain_class', legend: 'Strain class', options: [OPEN, ...options(STRAIN_CLASS)], value: typed.strain_class, wrong: wrongAt(wrong, 'strain_class'), onPick: setter(view, on, 'strain_class') }) : nothing}
    ${chips({ name: 'spawn', legend: 'Spawn', options: [OPEN, ...options(SPAWN)], value: typed.spawn, wrong: wrongAt(wrong, 'spawn'), onPick: setter(view, on, 'spawn') })}
    ${chips({ name: 'method', legend: 'Method', options: [OPEN, ...options(METHOD)], value: typed.method, wrong: wrongAt(wrong, 'method'), onPick: setter(view, on, 'method') })}
  </section>`;
}

/**
 * @param {View} view
 * @param {On} on
 */
export function place(view, on) {
  const { typed, wrong, form } = view;
  return html`<section class="sheet group" aria-labelledby="place-title">
    <h2 id="place-title">Place and note <span class="soft">may wait</span></h2>
    ${text({ name: 'spot', label: 'Spot', hint: 'Where in the yard. A new name makes a new spot.', value: typed.spot, list: form.spots.map(({ name }) => name), wrong: wrongAt(wrong, 'spot'), onInput: setter(view, on, 'spot') })}
    ${lines({ name: 'note', label: 'Note', value: typed.note, wrong: wrongAt(wrong, 'note'), onInput: setter(view, on, 'note') })}
  </section>`;
}
